"""What every sentence may look up: names of animals and genes, and the links that go with them."""

import datetime as dt
from dataclasses import dataclass

from sitegen.content.collection import Collection
from sitegen.content.species import Species
from sitegen.evidence.kinds import Claim
from sitegen.evidence.known import Answers
from sitegen.genetics.loci import Allele, Locus
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.words.runs import Link, Target
from sitegen.words.speech import _


@dataclass(frozen=True, slots=True)
class Voice:
    """Who speaks: the records, the answers, and the day of the statement."""

    collection: Collection
    answers: Answers
    as_of: dt.date

    def species(self, species_id: str) -> Species:
        """The species of that id."""
        return self.collection.species[species_id]

    def locus(self, claim: Claim) -> Locus:
        """The locus that a claim is about."""
        return self.species(claim.species).genome.locus(claim.locus)

    def allele(self, claim: Claim) -> Allele:
        """The allele that a claim is about.

        Raises:
            KeyError: The claim names no allele.
        """
        return self.locus(claim).allele(claim.allele)

    def posterior(self, animal: AnimalId, locus: str) -> Posterior:
        """What is known of an animal at a locus; empty when nothing is."""
        return self.answers.posteriors.get(animal, {}).get(locus, {})

    def animal(self, animal: AnimalId) -> Link:
        """The animal's name, leading to its page."""
        return Link(animal_name(self.collection, animal), Target.ANIMAL, animal)

    def litter(self, litter: str) -> Link:
        """The litter's name, leading to its page."""
        record = self.collection.litters.get(litter)
        return Link(record.name if record else litter, Target.LITTER, litter)

    def gene(self, claim: Claim) -> Link:
        """The name of what the claim is about, leading to the page of its gene."""
        return Link(claimed_name(self.locus(claim), claim), Target.GENE, f"{claim.species}/{claim.locus}")


def animal_name(collection: Collection, animal: AnimalId) -> str:
    """An animal's name; a young without a name is told by its number and litter."""
    record = collection.animals[animal]
    if record.name and record.name != record.number:
        return record.name
    litter = collection.litters.get(record.litter)
    if not record.number or litter is None:
        return record.name or animal
    return _("No. {number} of {litter}").format(number=record.number, litter=litter.name)


def claimed_name(locus: Locus, claim: Claim) -> str:
    """The name of what a claim is about: the look that is shown, else the allele, else the locus."""
    if claim.look:
        return locus.look(claim.look).name
    return locus.allele(claim.allele).name if claim.allele else locus.name
