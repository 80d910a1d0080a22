"""What the keeper of a road does: decided by nothing but what can be seen."""

from collections.abc import Iterator
from typing import NamedTuple

from helpers.road_rules import Rules, Seen


class Kept(NamedTuple):
    """A kept young, as the keeper sees it.

    ``beside``: it would be the goal but for its sex; ``perhaps``: the holdbacks under which it may so be kept, while it
    is not yet said (``slot`` is then what `else` would do with it, or -1).
    """

    slot: int
    beside: bool = False
    sex: str = ""
    born: int = 0
    rests: int = 0
    perhaps: tuple[int, ...] = ()


class Standing(NamedTuple):
    """A stage, as the keeper sees it: in how many seasons it was bred, how many pairings, whether a litter came of it.

    ``how`` is empty while it has not ended.
    """

    tries: int = 0
    pairings: int = 0
    bore: bool = False
    how: str = ""


class Public(NamedTuple):
    """Everything that decides what the keeper does next."""

    stages: tuple[Standing, ...]
    kept: tuple[Kept, ...] = ()
    rests: tuple[tuple[str, int], ...] = ()
    ended: bool = False
    young: int = 0
    new: int = 0


class Keeper:
    """The keeper of one road."""

    def __init__(self, rules: Rules) -> None:
        self.rules = rules

    def pairings(self, public: Public, season: int) -> Iterator[tuple[int, str | int, str | int]]:
        """(stage, dam, sire): parents on record by name, kept young by their place among the kept."""
        if public.ended:
            return
        busy: set[str | int] = set()
        for at, stage in enumerate(self.rules.stages):
            own = public.stages[at]
            if own.how or season < stage.season or (stage.tries is not None and own.tries >= stage.tries):
                continue
            dams = self.ready(public, stage.dam, "female", season)
            sires = self.ready(public, stage.sire, "male", season)
            turn = own.pairings
            for dam in dams:
                if sires and dam not in busy:
                    busy.add(dam)
                    yield at, dam, sires[turn % len(sires)]
                    turn += 1

    def tried(self, public: Public, pairings: list[tuple[int, str | int, str | int]]) -> Public:
        """The stages that are bred have one try less, and so many pairings more."""
        stages = list(public.stages)
        for at in {at for at, *_ in pairings}:
            made = sum(each[0] == at for each in pairings)
            stages[at] = stages[at]._replace(tries=stages[at].tries + 1, pairings=stages[at].pairings + made)
        return public._replace(stages=tuple(stages))

    def ready(self, public: Public, name: str, sex: str, season: int) -> list[str | int]:
        """The parents of that name that can be paired in a season, in their order."""
        slot = self.rules.slot_of(name)
        if slot is None:
            rested = dict(public.rests).get(name, 0)
            return [name] if max(rested, self.rules.entry(name, sex)) <= season else []
        if not self.stands(public, slot):
            return []
        return [
            at
            for at, each in enumerate(public.kept)
            if each.slot == slot
            and not each.beside
            and self.rules.grown(each.born, sex) <= season
            and each.rests <= season
        ]

    def filled(self, public: Public, slot: int) -> int:
        """How many young a holdback has."""
        return sum(each.slot == slot and not each.beside for each in public.kept)

    def stands(self, public: Public, number: int) -> bool:
        """True when the young of a holdback may be used."""
        slot = self.rules.slots[number]
        how = public.stages[slot.stage].how
        enough = self.filled(public, number) >= slot.own.at_least
        if slot.is_else:
            return enough and how in ("else", "partly of else")
        return self.filled(public, number) >= slot.own.count or (bool(how) and enough)

    def rested(self, public: Public, dam: str | int, until: int, season: int) -> Public:
        """The dam is not paired before a season."""
        if until <= season + 1:
            return public
        if isinstance(dam, str):
            return public._replace(rests=tuple(sorted({**dict(public.rests), dam: until}.items())))
        kept = tuple(each._replace(rests=until) if at == dam else each for at, each in enumerate(public.kept))
        return public._replace(kept=kept)

    def place_of(self, public: Public, at: int, seen: Seen, season: int) -> Kept | None:
        """Where a young goes, as far as can be said before its litter is seen whole; None if it is not kept."""
        fits = [n for n, slot in enumerate(self.rules.slots) if slot.stage == at and self.rules.looks_right(slot, seen)]
        proper = [n for n in fits if self.rules.slots[n].sex in ("", seen.sex)]
        beside = tuple(n for n in fits if self.rules.slots[n].is_goal and n not in proper)
        free = [n for n in proper if self.filled(public, n) < self.rules.slots[n].own.count]
        if not free and not beside:
            return None
        slot = free[0] if free else -1
        parent = slot >= 0 and self.rules.is_parent(slot)
        kept = Kept(slot, sex=seen.sex, born=season) if parent else Kept(slot)
        return kept if slot >= 0 and not self.rules.slots[slot].is_else else kept._replace(perhaps=beside)

    def keep_is_filled(self, public: Public, at: int) -> bool:
        """True when a stage has all that it is to keep first."""
        own = [(n, slot) for n, slot in enumerate(self.rules.slots) if slot.stage == at and not slot.is_else]
        return bool(own) and all(self.filled(public, n) >= slot.own.count for n, slot in own)

    def how_ended(self, public: Public, at: int) -> tuple[str, bool]:
        """How a stage ends in this season, if it does, and whether the road ends with it."""
        own, stage = public.stages[at], self.rules.stages[at]
        if own.how or not own.tries:
            return "", False
        slots = [(n, slot) for n, slot in enumerate(self.rules.slots) if slot.stage == at]
        full = {n: self.filled(public, n) >= slot.own.count for n, slot in slots}
        enough = {n: self.filled(public, n) >= slot.own.at_least for n, slot in slots}
        keep = [n for n, slot in slots if not slot.is_else]
        other = [n for n, slot in slots if slot.is_else]
        if any(full[n] for n, slot in slots if slot.is_goal):
            return "goal", True
        if all(full[n] for n in keep) and (keep or own.bore):
            return "kept", False
        used = stage.tries is not None and own.tries >= stage.tries
        if not used and not (stage.until == "else" and other and all(full[n] for n in other)):
            return "", False
        if keep and all(enough[n] for n in keep):
            return "partly", any(slot.is_goal and not slot.is_else for _, slot in slots)
        if other and all(full[n] for n in other):
            return "else", False
        if other and all(enough[n] for n in other):
            return "partly of else", False
        return "stuck", False
