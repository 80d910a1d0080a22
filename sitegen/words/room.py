"""The plan for the whole room in words: a pairing sheet of one screen, each pairing, the seasons, what was not tried.

The rules of telling stand in :mod:`sitegen.words.room_names`.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from sitegen.plans.room.kinds import (
    AS_GOOD,
    GoalSeason,
    LeftOut,
    Lesson,
    NotTried,
    OtherChoice,
    Pair,
    RoomPairing,
    RoomPlan,
)
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import average_text, small_number, whole_text
from sitegen.words.room_names import RoomNames, chance_text
from sitegen.words.speech import capital, listed, plain

RULE = (
    "Later seasons are played by a rule that knows only what can be seen by then; sitegen guide plans tells it. "
    "What comes in spring is planned anew in spring."
)
NO_WISHES = (
    "There is no plan.yaml, so every open project counts the same, animals may take any number of places, and as many "
    "dams are paired as are ready. sitegen guide plans shows how to write your limits down."
)
EACH_BY_ITSELF = (
    "Each species is planned by itself: litters a season, and places that are not written by species, hold for each."
)
NO_GOALS = (
    "Nothing is wished for, so no pairing is better than another: write a project, or goals in plan.yaml (sitegen "
    "guide plans). Who can breed stands below."
)


class RoomWords(RoomNames):
    """Says a plan for one species."""

    # The sheet.

    def warnings(self, pairings: Mapping[Pair, Sequence[str]], goals: Mapping[str, Sequence[str]]) -> Iterator[str]:
        """The first line: which pairings and goals can give looks with a welfare note."""
        told = [f"{self.pair(pair)} can give {self.genes(looks)}" for pair, looks in pairings.items() if looks]
        told += [f"{self.goal(goal)} asks for {self.genes(looks)}" for goal, looks in goals.items() if looks]
        if told:
            yield (
                f"Read this first: {'; '.join(told)}. There is a welfare note on that in your species file. Talk to a "
                "veterinarian experienced with reptiles before you breed for it."
            )

    def sheet(self, plan: RoomPlan) -> Iterator[str]:
        """The answer on one screen."""
        if plan.stopped:
            yield "You stopped the search: this is the best that it had found by then."
        births = birth_words(self.species)
        head = f"{capital(self.species.name)}, season {plan.season}, looking ahead to the end of {plan.last}."
        if not plan.pairings:
            there = bool(plan.goals) and set(plan.goals) == set(plan.owned)
            yield f"{head} No pairing: {'all you want is there already' if there else 'waiting is best'}."
        else:
            n = len(plan.pairings)
            yield f"{head} {capital(small_number(n))} {births.litter if n == 1 else births.litters}:"
        yield from (f"  {self._line(each, plan)}" for each in plan.pairings)
        if plan.resting:
            yield f"Resting, though ready: {self.animals(plan.resting)}."
        yield from self._keeping(plan)
        yield f"By the end of {plan.last}: {self._outcome(plan)}."
        if plan.goals and all(seasons[-1].kept < AS_GOOD for seasons in plan.goals.values() if seasons):
            yield f"No goal comes near by the end of {plan.last}; a later season under last shows what can begin it."
        if plan.short:
            yield f"You have {_animals(plan.short)} more than places; none of yours is given up for that."
        for other in plan.next_best[:1] if set(plan.goals) - set(plan.owned) else ():
            yield f"Next best: {self._other(other, plan)}."
        if plan.closer:
            change = self._change(plan.closer, plan)
            yield (
                f"Without your relatedness limit ({self.wishes.relatedness}) it would be {change}: "
                f"{self._differences(plan.closer, plan)}. The limit stands."
            )
        yield from (f"Nobody in this room can bring {self.goal(goal)} by {plan.last}, whatever is paired."
                    for goal in plan.unreachable)  # fmt: skip

    def _line(self, pairing: RoomPairing, plan: RoomPlan) -> str:
        """A pairing with what it is for, the goal that loses most without it first."""
        served = sorted(pairing.serves, key=lambda goal: (-pairing.serves[goal], goal))
        named = [self.goal(goal) for goal in served if pairing.serves[goal] >= AS_GOOD]
        why = [f"for {plain(listed(named))}"] if named else []
        if lesson := self._lesson(pairing, plan):
            who, gene = self.animal(lesson.animal), self.gene(lesson.allele)
            young = f"about {average_text(Fraction(round(pairing.young)))} young decide"
            why.append(f"to learn whether {who} carries {gene}: {young}")
        told = ", and ".join(why) or "for what its young may carry on"
        return f"{self.pair(pairing.pair)} {told}{'' if self.matters(pairing, plan) else ' (as good without)'}"

    def _lesson(self, pairing: RoomPairing, plan: RoomPlan) -> Lesson | None:
        return next((each for each in pairing.learns if each.worth >= AS_GOOD * plan.weights), None)

    def matters(self, pairing: RoomPairing, plan: RoomPlan) -> bool:
        """False where nothing is lost without it."""
        return pairing.alone >= AS_GOOD * plan.weights

    def _keeping(self, plan: RoomPlan) -> Iterator[str]:
        if plan.pairings and plan.places:
            limit = self.wishes.keep and f" (at most {self.wishes.keep * len(plan.pairings)})"
            kept = average_text(Fraction(round(plan.places[0].keep * 10), 10))
            yield f"Of their young you will keep about {kept}{limit or ''}."

    def _outcome(self, plan: RoomPlan) -> str:
        told = [f"{self.goal(goal)} is there already" for goal in plan.owned]
        told += [
            f"{self.goal(goal)} {chance_text(seasons[-1].kept)} in 100"
            for goal, seasons in plan.goals.items()
            if goal not in plan.owned and seasons
        ]
        if plan.places:
            last, limit = plan.places[-1], self.limit
            of = f"{round(last.mean)} of {limit} places" if limit else _animals(round(last.mean))
            told.append(f"{of} ({last.low} to {last.high})")
        return "; ".join(told)

    @property
    def limit(self) -> int | None:
        """The places for this species, or for all."""
        return self.wishes.places_by_species.get(self.species.id, self.wishes.places)

    def _change(self, other: OtherChoice, plan: RoomPlan, without: Pair | None = None) -> str:
        """What another choice does otherwise; ``without`` is the pairing of which it is told."""
        now, then = {each.pair for each in plan.pairings}, set(other.pairings)
        out, new = (plain(listed([self.pair(pair) for pair in sorted(pairs)])) for pairs in (now - then, then - now))
        if new and now - then == {without}:
            return f"{new} in its place"
        if new and out:
            return f"{new} instead of {out}"
        return f"{new} as well" if new else f"no {out}"

    def _differences(self, other: OtherChoice, plan: RoomPlan) -> str:
        told = self.changes(other.goals, other.value / plan.weights)
        if abs(other.value) < AS_GOOD * plan.weights:
            return f"{told}, all in all as good" if told else "as good"
        return told

    def _other(self, other: OtherChoice, plan: RoomPlan, without: Pair | None = None) -> str:
        clear = abs(other.value) < AS_GOOD * plan.weights or abs(other.value) > 2 * other.value_error
        sure = "" if clear else ", and which is better is not sure"
        return f"{self._change(other, plan, without)}: {self._differences(other, plan)}{sure}"

    # Below the sheet.

    def pairing(self, pairing: RoomPairing, plan: RoomPlan) -> str:
        """A pairing in one paragraph: what it gives, what it teaches, what is given up for it."""
        births, told = birth_words(self.species), [f"{self.pair(pairing.pair)}."]
        for goal, chance in sorted(pairing.born.items(), key=lambda each: (-each[1], each[0])):
            told.append(f"In {chance_text(chance)} of 100 such seasons it brings {self.goal(goal)} at once.")
        if pairing.young:
            young = average_text(Fraction(round(pairing.young * 10), 10))
            told.append(f"A {births.litter} has about {young} living young.")
        taught: dict[float, list[str]] = {}
        for lesson in pairing.learns:  # what one look at the young teaches of both parents has one worth
            what = f"{self.animal(lesson.animal)} carries {self.gene(lesson.allele)}"
            taught.setdefault(lesson.worth / plan.weights, []).append(what)
        for worth, each in taught.items():
            worthy = f"is worth {chance_text(worth)} in 100 to you" if worth >= AS_GOOD else "changes no later choice"
            told.append(f"They tell whether {plain(listed(each))}: judging them {worthy}.")
        if pairing.kinship:
            told.append(f"Their inbreeding coefficient would be {pairing.kinship}.")
        if self.matters(pairing, plan):
            lost = self.changes(pairing.serves, pairing.alone / plan.weights, -1)
            told.append(f"If you leave it out and put nothing in its place: {lost}.")
        else:
            told.append("If you leave this one out, you lose nothing: rest her.")
        given_up = next((each for each in plan.next_best if pairing.pair not in each.pairings), None)
        if given_up:
            told.append(f"The best without it: {self._other(given_up, plan, pairing.pair)}.")
        return " ".join(told)

    def season(self, season: int, plan: RoomPlan) -> str:
        """What stands at the end of a season."""
        told = [
            f"{self.goal(goal)} {_three(at)}"
            for goal, seasons in plan.goals.items()
            if goal not in plan.owned
            for at in seasons
            if at.season == season
        ]
        for place in plan.places:
            if place.season == season:
                kept = average_text(Fraction(round(place.keep * 10), 10))
                told.append(f"{_animals(round(place.mean))} ({place.low} to {place.high}), {kept} of them kept new")
        return f"By the end of {season}: {'; '.join(told)}."

    def details(self, plan: RoomPlan) -> Iterator[str]:
        """What was tried and not, and what the numbers rest on."""
        yield f"{whole_text(plan.tried, 'en')} choices for {plan.season} were looked at."
        yield from (f"Also: {self._other(each, plan)}." for each in plan.next_best[1:])
        yield from (self._not_tried(each) for each in plan.not_tried)
        for test in plan.tests:
            worth = test.worth / plan.weights
            told = f"is worth {chance_text(worth)} in 100" if worth >= AS_GOOD else "changes no pairing"
            yield f"A DNA test of {self.animal(test.animal)} for {self.locus(test.locus)} before you pair {told}."
        off = max((at.error for seasons in plan.goals.values() for at in seasons), default=plan.value_error)
        within = max(1, round(2 * off * 100))
        yield (
            f"The numbers come from {whole_text(plan.draws, 'en')} drawn courses that chose nothing; each chance may "
            f"be off by {within} in 100."
        )
        yield RULE

    def _not_tried(self, left: NotTried) -> str:
        pairs = plain(listed([self.pair(pair) for pair in left.pairs], most=4))
        match left.why:
            case LeftOut.RELATED:
                return f"Not tried, for your relatedness limit ({self.wishes.relatedness}): {pairs}."
            case LeftOut.EXCHANGE:
                return "Not tried: choices that differ in more than one pairing from each that was looked at."
            case LeftOut.DRAWN:
                return "What your animals may be together is too much to list, so some ties between them were left out."
            case LeftOut.TANGLED:
                return (
                    f"Not counted on, since their genes have no answer (sitegen check): {self.animals(left.animals)}."
                )
            case LeftOut.CANDIDATES:
                count = f"{whole_text(left.count, 'en')} pairs" if left.count else "pairs"
                return f"Not tried: {count} that promise less by themselves{f', such as {pairs}' if pairs else ''}."
            case LeftOut.INTERRUPTED:
                return "Not tried: what you did not wait for."


def seasons_of(plan: RoomPlan) -> list[int]:
    """The seasons of which the plan tells."""
    told = (at.season for seasons in plan.goals.values() for at in seasons)
    return sorted({*told, *(at.season for at in plan.places)})


def _three(at: GoalSeason) -> str:
    """Of one goal by the end of a season: in one number where born, kept and known are told alike."""
    born, kept, known = (chance_text(each) for each in (at.born, at.kept, at.known))
    if born == kept == known:
        return f"in {kept} of 100"
    return f"born in {born}, kept in {kept} and known in {known} of 100"


def _animals(count: int) -> str:
    return f"{count} animal" if count == 1 else f"{count} animals"
