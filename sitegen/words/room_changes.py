"""The same room changed, in words: which young of a litter to keep, and what one animal more would add."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from sitegen.genetics.questions import AnimalId
from sitegen.plans.room.kinds import AS_GOOD, BuyingPlan, HoldbackPlan, Purchase, RankedYoung
from sitegen.words.numbers import in_100, money_text
from sitegen.words.room_names import RoomNames
from sitegen.words.speech import capital, listed, plain

BEFORE_BUYING = (
    "Before you buy: check the law where you live, and CITES before anything crosses a border; some species and some "
    "genes may not be kept or moved without a permit.",
    "Keep a new animal apart from all others, with tools of its own, for as long as your veterinarian advises, and "
    "have it looked at; wash your hands between rooms. A pairing in this plan waits until then.",
    "What a seller states of hidden genes is taken here as stated. It is for you to judge whom you believe.",
)


class ChangeWords(RoomNames):
    """Says what holding back and buying change."""

    def holdback(self, plan: HoldbackPlan) -> Iterator[str]:
        """Which young to keep, and why; which are free, and what is taken for granted."""
        kept, free = ([each for each in plan.young if each.keep is keep] for keep in (True, False))
        litter = self.collection.litters[plan.litter].name
        if kept:
            yield f"Of {litter} keep {self._young_of(each.animal for each in kept)}:"
            yield from self._told(kept, plan)
        else:
            yield f"Of {litter} keep none." if free else f"Of {litter} no young of known sex is left to decide on."
        if plan.free is not None and plan.free <= len(kept) and free:
            yield "No place is left for another of them, and none of your animals is given up for one."
        if free:
            yield "Free to offer:"
            yield from self._told(free, plan)
        for one in dict.fromkeys(plan.as_good.values()):
            others = self._young_of(other for other, instead in plan.as_good.items() if instead == one)
            yield f"As good as {self._young_of([one])}: {others}."
        if plan.unsexed:
            yield f"Sex these first: {self._young_of(plan.unsexed)}. A young of unknown sex cannot be planned with."
        if plan.stays:
            yield f"Recorded as kept, so counted as there: {self._young_of(plan.stays)}."
        if plan.undecided:
            counts = [f"{count} of {self.collection.litters[each].name}" for each, count in plan.undecided.items()]
            yield f"Also counted as there, since they are neither on offer nor sold: {plain(listed(counts))}."
        yield "What is told of hidden genes is a chance, counted over all your goals; see their pages for the reasons."

    def _told(self, young: Iterable[RankedYoung], plan: HoldbackPlan) -> Iterator[str]:
        """What is told of each; those of which the same is told in one line."""
        alike: dict[str, list[AnimalId]] = {}
        for each in young:
            alike.setdefault(self._young(each, plan), []).append(each.animal)
        yield from (f"  {self._young_of(named)}: {told}." for told, named in alike.items())

    def _young(self, young: RankedYoung, plan: HoldbackPlan) -> str:
        animal = self.collection.animals[young.animal]
        shown = [seen.look for genes in animal.genes for seen in genes.judged.seen]
        told = [f"{animal.sex.value}, shows {self.genes(shown) if shown else 'nothing'}"]
        for allele, chance in young.carries.items():
            odds = " for certain" if chance == 1 else f": {in_100(Fraction(chance).limit_denominator(10**6))}"
            told.append(f"carries {self.gene(allele)}{odds}")
        change = self.changes(young.serves, young.gain / plan.weights, -1 if young.keep else 1)
        sure = abs(young.gain) > 2 * young.error
        if young.keep:
            told.append(f"without it {change}" if change else "adds less than 1 in 100")
        else:
            told.append(f"kept as well, {change}" if change and sure else "adds less than 1 in 100")
        if young.kinship:
            about = "" if young.kinship.numerator == 1 else "about "
            told.append(f"mean relatedness to those it could be paired with {about}1/{round(1 / young.kinship)}")
        return "; ".join(told)

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
        prices = ((each, each.animal.price) for each in gains)
        priced = [(each.gain / float(price.amount), each) for each, price in prices if price and price.amount]
        if len(priced) > 1:
            ranked = sorted(priced, key=lambda each: -each[0])
            offers = [self.bought(each.animal) for _, each in ranked]
            yield f"For the money, the most first: {plain(listed(offers))}."
        if plan.left_out:
            beyond = plain(listed([self.bought(each) for each in plan.left_out]))
            yield f"Beyond your budget, so not compared: {beyond}."
        yield from BEFORE_BUYING

    def _purchase(self, purchase: Purchase, plan: BuyingPlan) -> str:
        price = purchase.animal.price
        cost = f" ({money_text(price)})" if price else ""
        gain = self.changes(purchase.goals, purchase.gain / plan.weights)
        return f"{capital(self.bought(purchase.animal))}{cost}: {gain}."
