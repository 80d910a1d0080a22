"""The plan for the whole room in words: a pairing sheet of one screen, each pairing, the seasons, what was not tried.

A chance is so many in 100 plans like this one and rests on drawn seasons, so none is told as none or as all. What
differs by less than 1 in 100 of all that is wanted is called as good. Commands speak English (DEVELOPERS.md), so the
sentences pass no catalogue.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.content.species import Species
from sitegen.content.wishes import WishedAnimal, Wishes
from sitegen.genetics.questions import AnimalId
from sitegen.plans.room.kinds import (
    BuyingPlan,
    GoalSeason,
    HoldbackPlan,
    LeftOut,
    Lesson,
    NotTried,
    OtherChoice,
    Pair,
    Purchase,
    RankedYoung,
    RoomPairing,
    RoomPlan,
)
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import about_in_100, average_text, count_text, in_100, money_text, small_number, whole_text
from sitegen.words.speech import animal_name, capital, listed, plain

AS_GOOD = 0.01
"""Differences below this share of the weights are none."""
_NEARLY = Fraction(1, 10**6)

RULE = (
    "Later seasons are played by a rule that knows only what can be seen by then; sitegen guide plans tells it. "
    "What comes in spring is planned anew in spring."
)
NO_WISHES = (
    "There is no plan.yaml, so every open project counts the same, animals may take any number of places, and as many "
    "dams are paired as are ready. sitegen guide plans shows how to write your limits down."
)
NO_TESTS = (
    "What a DNA test would be worth to you is not worked out yet: the tests in plan.yaml change nothing in this answer."
)
EACH_BY_ITSELF = (
    "Each species is planned by itself: litters a season, and places that are not written by species, hold for each."
)
NO_GOALS = (
    "Nothing is wished for, so no pairing is better than another: write a project, or goals in plan.yaml (sitegen "
    "guide plans). Who can breed stands below."
)
BEFORE_BUYING = (
    "Before you buy: check the law where you live, and CITES before anything crosses a border; some species and some "
    "genes may not be kept or moved without a permit.",
    "Keep a new animal apart from all others, with tools of its own, for as long as your veterinarian advises, and "
    "have it looked at; wash your hands between rooms. A pairing in this plan waits until then.",
    "What a seller states of hidden genes is taken here as stated. It is for you to judge whom you believe.",
)


def chance_text(chance: float) -> str:
    """So many in 100, as a number alone; drawn, so never none and never all."""
    exact = min(max(Fraction(chance).limit_denominator(10**6), _NEARLY), 1 - _NEARLY)
    return count_text(about_in_100(exact))


def difference_text(difference: float) -> str:
    """``2 lower``, ``1 higher``; empty for less than 1 in 100 either way."""
    points = round(abs(difference) * 100)
    if not points or abs(difference) < AS_GOOD:
        return ""
    return f"{points} {'lower' if difference < 0 else 'higher'}"


@dataclass(frozen=True, slots=True)
class RoomWords:
    """Says a plan for one species."""

    collection: Collection
    wishes: Wishes
    species: Species

    # Names.

    def animal(self, animal: AnimalId) -> str:
        """The name of an animal, also of one that is not there."""
        bought = next((each for each in self.wishes.buy if each.animal.id == animal), None)
        return self.bought(bought) if bought else animal_name(self.collection, animal)

    def pair(self, pair: Pair) -> str:
        """Dam x sire."""
        return " x ".join(map(self.animal, pair))

    def animals(self, animals: Iterable[AnimalId]) -> str:
        """Several names."""
        return plain(listed([self.animal(each) for each in animals]))

    def goal(self, goal: str) -> str:
        """What a goal is called: its project's name, or the name that plan.yaml gives it."""
        wished = next((each for each in self.wishes.goals if each.id == goal), None)
        project = self.collection.projects.get(wished.project) if wished else None
        return project.name if project else goal.replace("-", " ")

    def gene(self, named: str) -> str:
        """The name of a look, else of an allele."""
        genome = self.species.genome
        looks = {look.id: look.name for locus in genome.loci for look in locus.looks}
        alleles = {own.id: own.name for locus in genome.loci for own in locus.alleles}
        return looks.get(named) or alleles.get(named) or named

    def genes(self, named: Iterable[str]) -> str:
        """Several of them."""
        return plain(listed([self.gene(each) for each in named]))

    def changes(self, goals: Mapping[str, float], whole: float, sign: int = 1) -> str:
        """Goals that become likelier or less likely; where none does by 1 in 100, what that is over all of them."""
        told = [f"{self.goal(goal)} {words}" for goal, each in goals.items() if (words := difference_text(sign * each))]
        in_all = difference_text(sign * whole)
        return ", ".join(told) or (f"{in_all} over all goals" if in_all else "")

    def bought(self, bought: WishedAnimal) -> str:
        """An animal that is not there: its name, or what it would be."""
        animal = bought.animal
        if animal.name:
            return animal.name
        shown = [seen.look for genes in animal.genes for seen in genes.judged.seen]
        stated = [f"{self._stated(each.locus)} {each.as_written}" for genes in animal.genes for each in genes.stated]
        told = [f"shows {self.genes(shown)}"] if shown else []
        told += [f"is stated {plain(listed(stated))}"] if stated else []
        return f"a {animal.sex.value}" + (f" that {plain(listed(told))}" if told else " that shows nothing")

    def _stated(self, locus: str) -> str:
        return self.species.genome.locus(locus).name or locus

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
            yield f"A DNA test of {self.animal(test.animal)} for {self._stated(test.locus)} before you pair {told}."
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
                return "What your animals may be together is too much to list, so it was drawn by its chances."
            case LeftOut.TANGLED:
                return (
                    f"Not counted on, since their genes have no answer (sitegen check): {self.animals(left.animals)}."
                )
            case LeftOut.CANDIDATES:
                count = f"{whole_text(left.count, 'en')} pairs" if left.count else "pairs"
                return f"Not tried: {count} that promise less by themselves{f', such as {pairs}' if pairs else ''}."
            case LeftOut.INTERRUPTED:
                return "Not tried: what you did not wait for."

    # Holding back, buying.

    def holdback(self, plan: HoldbackPlan) -> Iterator[str]:
        """Which young to keep, and why."""
        kept, free = ([each for each in plan.young if each.keep is keep] for keep in (True, False))
        litter = self.collection.litters[plan.litter].name
        yield f"Of {litter} keep {self._young_of(each.animal for each in kept)}:" if kept else f"Of {litter} keep none."
        yield from (f"  {self._young(each, plan)}" for each in kept)
        if free:
            yield f"Free to offer: {self._young_of(each.animal for each in free)}."
        if plan.as_good:
            yield f"As good to keep instead of the last of them: {self._young_of(plan.as_good)}."
        yield "What is told of hidden genes is a chance, counted over all your goals; see their pages for the reasons."

    def _young(self, young: RankedYoung, plan: HoldbackPlan) -> str:
        animal = self.collection.animals[young.animal]
        shown = [seen.look for genes in animal.genes for seen in genes.judged.seen]
        told = [f"{animal.sex.value}, shows {self.genes(shown) if shown else 'nothing'}"]
        told += [f"carries {self.gene(allele)}: {in_100(Fraction(chance).limit_denominator(10**6))}"
                 for allele, chance in young.carries.items()]  # fmt: skip
        lost = self.changes(young.serves, young.gain / plan.weights, -1)
        told.append(f"without it {lost}" if lost else "as good without")
        if young.kinship:
            told.append(f"mean relatedness to those it could be paired with {young.kinship}")
        return f"{self._young_of([young.animal])}: {'; '.join(told)}."

    def _young_of(self, young: Iterable[AnimalId]) -> str:
        """Young of a litter that is named already: their names, else their numbers."""
        records = [self.collection.animals[each] for each in young]
        return plain(
            listed([f"No. {each.number}" if each.name in ("", each.number) else each.name for each in records])
        )

    def buying(self, plan: BuyingPlan, harms: Mapping[str, Sequence[str]]) -> Iterator[str]:
        """What one animal more would add, for its place and for its money; law and quarantine."""
        harmful = [each for each in plan.purchases if harms.get(each.animal.animal.id)]
        if harmful:
            names = "; ".join(f"{self.bought(each.animal)}: {self.genes(harms[each.animal.animal.id])}"
                              for each in harmful)  # fmt: skip
            yield f"Read this first: there is a welfare note on what some of these have. {capital(names)}."
        gains = [each for each in plan.purchases if each.gain >= AS_GOOD * plan.weights and each.gain > 2 * each.error]
        if not gains:
            yield "None of the animals that were tried would add as much as 1 in 100. Buy none for this plan."
        else:
            yield "What one animal more would add, each by itself and for one place:"
        yield from (f"  {self._purchase(each, plan)}" for each in gains)
        priced = [each for each in gains if each.animal.price and each.animal.price.amount]
        if len(priced) > 1:
            best = max(priced, key=lambda each: each.gain / float(each.animal.price.amount if each.animal.price else 1))
            yield f"For the money most: {self.bought(best.animal)}."
        if plan.left_out:
            beyond = plain(listed([self.bought(each) for each in plan.left_out]))
            yield f"Beyond your budget, so not compared: {beyond}."
        yield from BEFORE_BUYING

    def _purchase(self, purchase: Purchase, plan: BuyingPlan) -> str:
        price = purchase.animal.price
        cost = f" ({money_text(price)})" if price else ""
        gain = self.changes(purchase.goals, purchase.gain / plan.weights)
        return f"{capital(self.bought(purchase.animal))}{cost}: {gain}."


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
