"""A road played out one plan at a time, as the rules say it, in objects: against which the slow truth is held.

Whatever is left to chance is asked of a chooser: :func:`all_plays` goes through everything that can be chosen, and
:func:`some_plays` draws. Only for very small roads, or for a look from afar.
"""

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from helpers.road_rules import Composite, Rules, Seen, Slot

_T = TypeVar("_T")
Choose = Callable[[Sequence[tuple[_T, Fraction]]], _T]


@dataclass
class Animal:
    """An animal of a road."""

    own: Composite
    seen: Seen | None = None
    born: int = -9999
    is_goal: bool = False
    rests: int = -9999
    slot: Slot | None = None
    in_place: bool = True


@dataclass
class Play:
    """One plan: what came of it by season, and everything that was seen by then."""

    born: dict[int, bool] = field(default_factory=dict)
    kept: dict[int, bool] = field(default_factory=dict)
    goals: dict[int, tuple[bool, ...]] = field(default_factory=dict)
    seen: dict[int, tuple[object, ...]] = field(default_factory=dict)
    bred: dict[str, int] = field(default_factory=dict)
    through: set[str] = field(default_factory=set)
    ended: dict[str, str] = field(default_factory=dict)
    young: Counter[int] = field(default_factory=Counter)
    new: Counter[int] = field(default_factory=Counter)
    held: dict[int, int] = field(default_factory=dict)


def all_plays(rules: Rules) -> Iterator[tuple[Play, Fraction]]:
    """Every plan with its chance."""
    path: list[list[int]] = []  # of each choice: what was taken, out of how many
    while True:
        chance, depth = Fraction(1), 0

        def choose(options: Sequence[tuple[_T, Fraction]]) -> _T:
            nonlocal chance, depth
            options = [(each, share) for each, share in options if share]
            if depth == len(path):
                path.append([0, len(options)])
            each, share = options[path[depth][0]]
            chance *= share
            depth += 1
            return each

        yield _Player(rules, choose).play(), chance
        while path and path[-1][0] == path[-1][1] - 1:
            path.pop()
        if not path:
            return
        path[-1][0] += 1


def some_plays(rules: Rules, number: int, seed: int = 1) -> Iterator[Play]:
    """Plans that are drawn."""
    dice = random.Random(seed)

    def choose(options: Sequence[tuple[_T, Fraction]]) -> _T:
        return dice.choices([each for each, _ in options], [float(share) for _, share in options])[0]

    for _ in range(number):
        yield _Player(rules, choose).play()


@dataclass
class FirstSeason:
    """What came in a first season.

    Attributes:
        litters: For each pairing its stage and its young as they were seen; None where it did not take.
        kept: By holdback the young that were kept: (number of the pairing, place in its litter).
        over: The road has ended.
        beside: Some were kept beside, as goals of the unwanted sex.
    """

    litters: list[tuple[int, list[Seen] | None]]
    kept: dict[int, list[tuple[int, int]]]
    over: bool
    beside: bool


def first_season(rules: Rules, seed: int) -> FirstSeason:
    """A first season that is drawn; with one litter a year."""
    dice = random.Random(seed)

    def choose(options: Sequence[tuple[_T, Fraction]]) -> _T:
        return dice.choices([each for each, _ in options], [float(share) for _, share in options])[0]

    player = _Player(rules, choose)
    player.begin()
    player.season(rules.first)
    places = {
        id(each): (number, place)
        for number, (_, litter) in enumerate(player.litters)
        for place, each in enumerate(litter or ())
    }
    litters = [(at, None if own is None else [each.seen for each in own if each.seen]) for at, own in player.litters]
    kept = {number: [places[id(each)] for each in own] for number, own in player.kept.items()}
    beside = any(not each.in_place for own in player.kept.values() for each in own)
    return FirstSeason(litters, kept, player.over, beside)


class _Player:
    def __init__(self, rules: Rules, choose: Choose) -> None:
        self.rules = rules
        self.choose = choose
        self.animals: dict[str, Animal] = {}
        self.kept: dict[int, list[Animal]] = {number: [] for number in range(len(rules.slots))}
        self.tries: Counter[int] = Counter()
        self.pairings: Counter[int] = Counter()
        self.bore: set[int] = set()
        self.how: dict[int, str] = {}
        self.over = False
        self.told = Play()
        self.seen: list[object] = []
        self.litters: list[tuple[int, list[Animal] | None]] = []
        self.goal_born = False

    def begin(self) -> None:
        for name, own in zip(self.rules.founders, self.choose(self.rules.worlds), strict=True):
            self.animals[name] = Animal(own)

    def play(self) -> Play:
        rules = self.rules
        self.begin()
        for season in range(rules.first, rules.last + 1):
            if not self.over:
                self.season(season)
            held = [each for own in self.kept.values() for each in own]
            goals = tuple(each.is_goal for each in held)
            self.told.goals[season], self.told.kept[season], self.told.held[season] = goals, any(goals), len(held)
            self.told.born[season], self.told.seen[season] = self.goal_born, tuple(self.seen)
        for number, own in self.kept.items():
            if any(each.is_goal for each in own):
                self.told.through.add(rules.stages[rules.slots[number].stage].id)
        self.told.ended = {rules.stages[at].id: how for at, how in self.how.items()}
        return self.told

    def proper(self, number: int) -> list[Animal]:
        return [each for each in self.kept[number] if each.in_place]

    def season(self, season: int) -> None:
        litters = []
        used: list[Animal] = []
        for at, stage in enumerate(self.rules.stages):
            if at in self.how or season < stage.season or self.tries[at] == stage.tries:
                continue
            dams = [each for each in self.parents(stage.dam, "female", season) if each.rests <= season]
            sires = self.parents(stage.sire, "male", season)
            pairs = []
            for dam in dams:
                if sires and not any(dam is each for each in used):
                    used.append(dam)
                    pairs.append((dam, sires[self.pairings[at] % len(sires)]))
                    self.pairings[at] += 1
            if pairs:
                self.tries[at] += 1
                self.told.bred.setdefault(stage.id, season)
            litters += [(at, dam, sire) for dam, sire in pairs]
        for at, dam, sire in litters:
            self.pair(at, dam, sire, season)
        for at in range(len(self.rules.stages)):
            self.end(at)
        if self.over:
            for number, slot in enumerate(self.rules.slots):
                if slot.is_else and not slot.is_goal:
                    self.kept[number] = []

    def parents(self, name: str, sex: str, season: int) -> list[Animal]:
        number = self.rules.slot_of(name)
        if number is None:
            return [self.animals[name]] if self.rules.entry(name, sex) <= season else []
        slot, own = self.rules.slots[number], self.proper(number)
        how = self.how.get(slot.stage)
        if slot.is_else:
            standing = how in ("else", "partly else") and len(own) >= slot.own.at_least
        else:
            standing = len(own) == slot.own.count or (how is not None and len(own) >= slot.own.at_least)
        return [each for each in own if self.rules.grown(each.born, sex) <= season] if standing else []

    def pair(self, at: int, dam: Animal, sire: Animal, season: int) -> None:
        rules = self.rules
        takes = self.choose([(True, rules.takes), (False, 1 - rules.takes)])
        self.seen.append((season, at, takes))
        dam.rests = season + 1 + (rules.rest if takes else rules.rest_after_failure)
        if not takes:
            self.litters.append((at, None))
            return
        self.bore.add(at)
        brood = rules.brood(dam.own, sire.own)
        for _ in range(rules.species.litters_a_year):
            litter = []
            for _ in range(self.choose(list(rules.sizes.items()))):
                if self.choose([(True, brood.living), (False, 1 - brood.living)]):
                    young = self.choose([(each, each.chance) for each in brood.young])
                    litter.append(Animal(young.own, young.seen, season, young.is_goal))
            self.litters.append((at, litter))
            self.told.young[season] += len(litter)
            self.seen.append(tuple(each.seen for each in litter))
            self.goal_born = self.goal_born or any(each.is_goal for each in litter)
            self.keep(at, litter, season)

    def keep(self, at: int, litter: list[Animal], season: int) -> None:
        """First what is wanted, then what else is, if the litter did not bring it; goals of the unwanted sex last."""
        own = [(n, slot) for n, slot in enumerate(self.rules.slots) if slot.stage == at]
        left = list(litter)
        for number, slot in own:
            if not slot.is_else:
                left = self.take(number, slot, left, season, in_place=True)
        keep = [(n, slot) for n, slot in own if not slot.is_else]
        if not all(len(self.proper(n)) == slot.own.count for n, slot in keep):
            for number, slot in own:
                if slot.is_else:
                    left = self.take(number, slot, left, season, in_place=True)
        for number, slot in own:
            if slot.is_goal and slot.sex:
                left = self.take(number, slot, left, season, in_place=False)

    def take(self, number: int, slot: Slot, left: list[Animal], season: int, *, in_place: bool) -> list[Animal]:
        """Keeps those that look right, in the order of birth, while there is room; the others are left."""
        staying = []
        for young in left:
            assert young.seen is not None
            of_sex = not slot.sex or young.seen.sex == slot.sex
            room = slot.own.count - sum(each.in_place == in_place for each in self.kept[number])
            if room and self.rules.looks_right(slot, young.seen) and of_sex == in_place:
                young.slot, young.in_place = slot, in_place
                self.kept[number].append(young)
                self.told.new[season] += 1
            else:
                staying.append(young)
        return staying

    def end(self, at: int) -> None:
        if at in self.how or not self.tries[at]:
            return
        stage = self.rules.stages[at]
        slots = [(slot, len(self.proper(n))) for n, slot in enumerate(self.rules.slots) if slot.stage == at]
        keep = [(slot.own, n) for slot, n in slots if not slot.is_else]
        other = [(slot.own, n) for slot, n in slots if slot.is_else]
        goal_in_keep = any(slot.is_goal and not slot.is_else for slot, _ in slots)
        if any(slot.is_goal and n >= slot.own.count for slot, n in slots):
            self.how[at], self.over = "goal", True
        elif all(n >= own.count for own, n in keep) if keep else at in self.bore:
            self.how[at] = "kept"
        elif self.tries[at] == stage.tries or (
            stage.until == "else" and other and all(n >= own.count for own, n in other)
        ):
            if keep and all(n >= own.at_least for own, n in keep):
                self.how[at] = "partly"
                self.over = self.over or goal_in_keep
            elif other and all(n >= own.count for own, n in other):
                self.how[at] = "else"
            elif other and all(n >= own.at_least for own, n in other):
                self.how[at] = "partly else"
            else:
                self.how[at] = "stuck"
