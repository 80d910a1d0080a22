"""The plan for the whole room in words: a pairing sheet of one screen, each pairing, the seasons, what was not tried.

The rules of telling stand in :mod:`sitegen.words.room_names`.
"""

from collections.abc import Iterator, Mapping, Sequence

from sitegen.genetics.questions import AnimalId
from sitegen.plans.room.facts import MOST_KEPT, MOST_LITTERS
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
    SeasonPlaces,
    WorthOfTest,
)
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import money_text, small_number, whole_text
from sitegen.words.room_names import RoomNames, chance_text
from sitegen.words.speech import capital, listed, plain

RULE = (
    "Later seasons are played by a rule that knows only what can be seen by then; sitegen guide plans tells it. "
    "What comes in spring is planned anew in spring."
)
NO_WISHES = (
    "There is no plan.yaml, so every open project counts the same. sitegen guide plans shows how to write down what "
    "you want and what you have room for."
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
        births, n = birth_words(self.species), len(plan.pairings)
        head = f"{capital(self.species.name)}, season {plan.season}"
        count = f"{small_number(n)} {births.litter if n == 1 else births.litters}"
        yield f"{head}, {count}:" if n else f"{head}: {self._waiting(plan)}"
        yield from (f"  {self._line(each, plan)}" for each in plan.pairings)
        if plan.resting:
            yield f"Resting, though ready: {self.animals(plan.resting)}."
        if n and plan.places:
            limit = self.wishes.keep and f" (your limit is {self.wishes.keep * n})"
            yield f"Of their young you will keep {self._kept(plan.places[0].keep)}{limit or ''}."
        yield from self._outcome(plan)
        if plan.short:
            yield f"You have {_animals(plan.short)} more than places; none of yours is given up for that."
        for other in plan.next_best[:1] if set(plan.goals) - set(plan.owned) else ():
            yield f"Next best: {self._other(other, plan)}."
        if plan.closer:
            yield f"{self._closer(plan.closer, plan)} The limit stands."
        for test in plan.tests[:1]:
            if self._worthy(test, plan):
                yield self._test(test, plan)

    def _waiting(self, plan: RoomPlan) -> str:
        """Why nobody is paired."""
        if plan.goals and set(plan.goals) == set(plan.owned):
            return "no pairing. All you want is there already."
        if plan.next_best and -plan.next_best[0].value < AS_GOOD * plan.weights:
            return "no pairing. None that can be made now would add as much as 1 in 100."
        if not plan.next_best:
            return "no pairing. There is no pair of yours that can be made now."
        return "no pairing. You do better to wait."

    def _line(self, pairing: RoomPairing, plan: RoomPlan) -> str:
        """A pairing with what it is for, the goal that loses most without it first."""
        served = sorted(pairing.serves, key=lambda goal: (-pairing.serves[goal], goal))
        named = [self.goal(goal) for goal in served if pairing.serves[goal] >= AS_GOOD]
        why = [f"for {plain(listed(named))}"] if named else []
        if lesson := self._lesson(pairing, plan):
            who, gene = self.animal(lesson.animal), self.gene(lesson.allele)
            why.append(f"to learn whether {who} carries {gene}: about {_whole(pairing.young)} young decide")
        told = ", and ".join(why) or "for what its young may bring later"
        return f"{self.pair(pairing.pair)} {told}{'' if self.matters(pairing, plan) else ' (less than 1 in 100)'}"

    def _lesson(self, pairing: RoomPairing, plan: RoomPlan) -> Lesson | None:
        return next((each for each in pairing.learns if each.worth >= AS_GOOD * plan.weights), None)

    def matters(self, pairing: RoomPairing, plan: RoomPlan) -> bool:
        """False where nothing is lost without it."""
        return pairing.alone >= AS_GOOD * plan.weights

    @staticmethod
    def _kept(mean: float) -> str:
        if not mean:
            return "none"
        return f"about {_whole(mean)}" if mean >= 0.5 else "hardly any"

    def _outcome(self, plan: RoomPlan) -> Iterator[str]:
        """What is there by the last season."""
        if plan.owned and set(plan.owned) != set(plan.goals):
            names = [self.goal(goal) for goal in plan.owned]
            yield f"There already: {plain(listed(names))}."
        open_goals = [goal for goal in plan.goals if goal not in plan.owned and goal not in plan.unreachable]
        told = []
        for goal in open_goals:
            chance = chance_text(plan.goals[goal][-1].kept)
            told.append(f"{chance} {'has' if chance == '1' else 'have'} {self._wanted(goal)}")
        if told:
            yield f"Of 100 such plans {plain(listed(told))} by the end of {plan.last}."
        if open_goals and all(plan.goals[goal][-1].kept < AS_GOOD for goal in open_goals):
            yield "No goal comes near by then; write a later season under last to see what can begin it."
        for goal in plan.unreachable:
            yield f"Nobody in this room can bring {self._wanted(goal)} by {plan.last}, whatever is paired."
        if plan.places:
            last, limit = plan.places[-1], self.limit
            of = f"{round(last.mean)} of {limit} places will be taken" if limit else (
                f"{_animals(round(last.mean))} will be here")  # fmt: skip
            yield f"{capital(of)}{_range(last)}."

    def _wanted(self, goal: str) -> str:
        """A goal with how many of it are wanted."""
        count = next((each.count for each in self.wishes.goals if each.id == goal), 1)
        return self.goal(goal) + (f" ({small_number(count)} of them)" if count > 1 else "")

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
        return f"{new} as well" if new else f"leaving out {out}"

    def _differences(self, other: OtherChoice, plan: RoomPlan) -> str:
        told = self.changes(other.goals, other.value / plan.weights)
        if abs(other.value) < AS_GOOD * plan.weights:
            return f": {told}, all in all as good" if told else " would be as good"
        return f": {told}"

    def _other(self, other: OtherChoice, plan: RoomPlan, without: Pair | None = None) -> str:
        clear = abs(other.value) < AS_GOOD * plan.weights or abs(other.value) > 2 * other.value_error
        sure = "" if clear else ", and which is better is not sure"
        return f"{self._change(other, plan, without)}{self._differences(other, plan)}{sure}"

    def _closer(self, other: OtherChoice, plan: RoomPlan) -> str:
        """What the limit of relatedness costs, by pairs that it shuts out now or later."""
        shut_out = {pair for each in plan.not_tried if each.why is LeftOut.RELATED for pair in each.pairs}
        same = set(other.pairings) == {each.pair for each in plan.pairings}
        told = [] if shut_out & set(other.pairings) else ["closer pairs later"]
        told += [] if same else [f"{self._change(other, plan)} now" if told else self._change(other, plan)]
        change = ", and ".join(told)
        return f"Without your relatedness limit ({self.wishes.relatedness}), {change}{self._differences(other, plan)}."

    def _worthy(self, test: WorthOfTest, plan: RoomPlan) -> bool:
        return test.worth >= AS_GOOD * plan.weights

    def _test(self, test: WorthOfTest, plan: RoomPlan) -> str:
        worth, off = chance_text(test.worth / plan.weights), max(1, round(200 * test.error / plan.weights))
        price = f" and costs {money_text(self.wishes.tests.price)}" if self.wishes.tests else ""
        what = f"A DNA test of {self.animal(test.animal)} for {self.locus(test.locus)} before you pair"
        return f"{what} is worth {worth} in 100 to you (give or take {off}){price}."

    # Below the sheet.

    def pairing(self, pairing: RoomPairing, plan: RoomPlan) -> str:
        """A pairing in one paragraph: what it gives, what it teaches, what is given up for it."""
        births, told = birth_words(self.species), [f"{self.pair(pairing.pair)}."]
        for goal, chance in sorted(pairing.born.items(), key=lambda each: (-each[1], each[0])):
            told.append(f"In {chance_text(chance)} of 100 such seasons it brings {self.goal(goal)} at once.")
        if pairing.young:
            told.append(f"A {births.litter} has about {_whole(pairing.young)} living young.")
        taught: dict[float, list[str]] = {}
        for lesson in pairing.learns:  # what one look at the young teaches of both parents has one worth
            what = f"{self.animal(lesson.animal)} carries {self.gene(lesson.allele)}"
            taught.setdefault(lesson.worth / plan.weights, []).append(what)
        for worth, each in taught.items():
            worthy = f"is worth {chance_text(worth)} in 100 to you" if worth >= AS_GOOD else "changes no later choice"
            told.append(f"Judging them {worthy}: they tell whether {plain(listed(each))}.")
        if pairing.kinship:
            told.append(f"Their inbreeding coefficient would be {pairing.kinship}.")
        if self.matters(pairing, plan):
            lost = self.changes(pairing.serves, pairing.alone / plan.weights, -1)
            told.append(f"Without it, and with nothing in its place: {lost}.")
        else:
            told.append("By itself it adds less than 1 in 100; leave it out if she had better rest.")
        given_up = next((each for each in plan.next_best if pairing.pair not in each.pairings), None)
        if given_up:
            told.append(f"The best without it: {self._other(given_up, plan, pairing.pair)}.")
        return " ".join(told)

    def tests(self, plan: RoomPlan) -> Iterator[str]:
        """What DNA tests are worth that the sheet does not name, where a price is written."""
        had = self.wishes.tests and self.wishes.tests.loci.get(self.species.id)
        if had and not plan.tests and not plan.stopped:
            yield (
                "None of the DNA tests in plan.yaml is worth anything to this plan: of no animal that may be paired is "
                "it in doubt whether it carries a gene that a goal needs."
            )
        yield from (self._test(each, plan) for each in plan.tests[1:] if self._worthy(each, plan))
        nothing: dict[str, list[AnimalId]] = {}
        for test in plan.tests:
            if not self._worthy(test, plan):
                nothing.setdefault(test.locus, []).append(test.animal)
        for locus, animals in nothing.items():
            yield f"Worth nothing to this plan: a DNA test of {self.animals(animals)} for {self.locus(locus)}."

    def limits(self, plan: RoomPlan) -> Iterator[str]:
        """What is taken where the keeper wrote no limit."""
        wishes = self.wishes
        taken = [] if wishes.litters else [f"at most {MOST_LITTERS} {birth_words(self.species).litters} a season"]
        taken += [] if wishes.keep else [f"at most {MOST_KEPT} young kept of each, or as many as a goal wants"]
        taken += [] if self.limit else ["any number of places"]
        if taken and plan.goals:
            yield f"Where you wrote no limit the plan takes {plain(listed(taken))}."

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
                told.append(f"{_animals(round(place.mean))}{_range(place)}, {self._kept(place.keep)} new")
        return f"By the end of {season}: {'; '.join(told)}."

    def details(self, plan: RoomPlan) -> Iterator[str]:
        """What was tried and not, and what the numbers rest on."""
        yield f"{whole_text(plan.tried, 'en')} choices for {plan.season} were looked at."
        yield from (f"Also: {self._other(each, plan)}." for each in plan.next_best[1:])
        yield from (self._not_tried(each) for each in plan.not_tried)
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


def _range(places: SeasonPlaces) -> str:
    """Between which numbers 80 of 100 plans stay; empty where that is one."""
    return "" if places.low == places.high else f" ({places.low} to {places.high})"


def _whole(mean: float) -> int:
    """The nearest whole number, rounded half up."""
    return int(mean + 0.5)


def _animals(count: int) -> str:
    return f"{count} animal" if count == 1 else f"{count} animals"
