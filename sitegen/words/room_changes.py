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
