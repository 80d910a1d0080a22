"""What remains possible when everything that nobody wrote is left open: on this alone certainty may rest.

The answers of :mod:`sitegen.evidence.answers` take for granted that founders and unrecorded parents have the wild type
unless somebody wrote otherwise. Most of the time that is right, and it is what the odds mean; but nothing is *certain*
because nobody wrote it down. So each locus is asked once more with every such animal open: each of its chromosomes has
each named allele with a small chance. The genotypes that then have any chance at all are those that no record rules
out.
"""

from collections.abc import Mapping
from fractions import Fraction

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gathered import Evidence
from sitegen.genetics.loci import Genotype
from sitegen.genetics.questions import AnimalId

RARE = Fraction(1, 1000)
"""The chance of an unwritten copy on one chromosome. Any small one gives the same sets."""


def possible_of(opened: Asked) -> Mapping[AnimalId, Mapping[str, frozenset[Genotype]]]:
    """Animal to locus to the genotypes that no record rules out; ``opened`` is from :func:`ask_opened`.

    Where the records contradict each other, or are too tangled to be asked so, there are none, and nothing may be
    called certain.
    """
    collection = opened.evidence.collection
    return {
        animal.id: {
            locus.id: frozenset(posterior)
            for locus in collection.species[animal.species].genome.loci
            if (posterior := opened.posterior(animal.id, locus.id))
        }
        for animal in collection.animals.values()
    }


def ask_opened(evidence: Evidence) -> Asked:
    """What heredity says when everything that is not written is left open; see :func:`sitegen.evidence.asking.ask`."""
    return ask(evidence, rare=RARE)
