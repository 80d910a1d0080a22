"""What the words about a room have in common: names of animals, goals and genes, chances and differences.

A chance is so many in 100 plans like this one and rests on drawn seasons, so none is told as none or as all. What
differs by less than 1 in 100 of all that is wanted is called as good. Commands speak English (DEVELOPERS.md), so the
sentences pass no catalogue.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.content.species import Species
from sitegen.content.wishes import WishedAnimal, Wishes
from sitegen.genetics.questions import AnimalId
from sitegen.plans.room.kinds import AS_GOOD, Pair
from sitegen.words.numbers import about_in_100, count_text
from sitegen.words.speech import animal_name, listed, plain

_NEARLY = Fraction(1, 10**6)


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
class RoomNames:
    """Names what stands in a room of one species."""

    collection: Collection
    wishes: Wishes
    species: Species

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
        stated = [f"{self.locus(each.locus)} {each.as_written}" for genes in animal.genes for each in genes.stated]
        told = [f"shows {self.genes(shown)}"] if shown else []
        told += [f"is stated {plain(listed(stated))}"] if stated else []
        return f"a {animal.sex.value}" + (f" that {plain(listed(told))}" if told else " that shows nothing")

    def locus(self, locus: str) -> str:
        """The name of a locus."""
        return self.species.genome.locus(locus).name or locus
