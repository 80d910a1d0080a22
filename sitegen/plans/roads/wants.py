"""What young are wanted, as an eye can tell it and as their genotypes are.

A young looks right if it shows every wanted look that can be seen, shows nothing that would hide one of them, and is
of the wanted sex; what else it shows does not matter, unless nothing else is to be seen. A wanted look that another
wanted look hides cannot be seen: like an allele to be carried it is not selected. A look that comes with growth is
taken as judged in time.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import product

from sitegen.content.projects import Goal, Holdback, is_goal
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.evidence.judging import hiding_looks
from sitegen.evidence.pairings import Side
from sitegen.genetics.counts import Shares
from sitegen.genetics.crosses import shares_together, told_by
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.observations import is_wild, looks_of, showing_alleles
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True)
class Want:
    """Young of a kind.

    Attributes:
        seen: Looks that must be seen.
        barred: Looks that would hide one of them, and must not be there; with ``only`` every look that would be seen.
        hidden: Wanted looks that another wanted look hides.
        carries: Alleles that are wanted and that no look in ``seen`` tells.
        sex: The wanted sex, or None.
    """

    seen: tuple[str, ...]
    barred: tuple[str, ...]
    hidden: tuple[str, ...]
    carries: tuple[str, ...]
    sex: Sex | None = None

    @property
    def unseen(self) -> tuple[str, ...]:
        """What is wanted and cannot be told by eye."""
        return (*self.carries, *self.hidden)


def want_of(genome: Genome, wanted: Holdback | Goal, sex: Sex | None = None) -> Want:
    """What a holdback or a goal asks for; a goal is of either sex."""
    looks = tuple(dict.fromkeys(wanted.shows))
    hidden = tuple(look for look in looks if any(hides(genome, other, look) for other in looks if other != look))
    seen = tuple(look for look in looks if look not in hidden)
    told = {allele for look in seen for allele in told_by(genome.locus(genome.look(look).locus), look)}
    carries = tuple(allele for allele in dict.fromkeys(wanted.carries) if allele not in told)
    only = isinstance(wanted, Holdback) and wanted.only
    barred = _others(genome, seen) if only else _hiding(genome, seen)
    return Want(seen, barred, hidden, carries, sex)


def ends_road(genome: Genome, holdback: Holdback, goal: Goal) -> bool:
    """True for young with which the road ends; what their looks tell of their alleles counts."""
    told = {allele for look in holdback.shows for allele in told_by(genome.locus(genome.look(look).locus), look)}
    return is_goal(holdback, goal, told)


def _hiding(genome: Genome, seen: Iterable[str]) -> tuple[str, ...]:
    """Looks at other loci that would hide one of the seen ones."""
    found = {
        other.id: None
        for look in seen
        for locus in genome.loci
        if locus.id != genome.look(look).locus
        for other in locus.looks
        if other.id not in seen and hides(genome, other.id, look)
    }
    return tuple(found)


def _others(genome: Genome, seen: Iterable[str]) -> tuple[str, ...]:
    """All looks but these, and but those that one of these hides."""
    looks = [look.id for locus in genome.loci for look in locus.looks]
    return tuple(look for look in looks if look not in seen and not any(hides(genome, each, look) for each in seen))


def hides(genome: Genome, over: str, under: str) -> bool:
    """True when the look ``under`` cannot be judged on an animal that shows ``over``."""
    locus = genome.locus(genome.look(under).locus)
    makers = {
        allele for genotype, look in locus.shown.items() if look == under for allele in showing_alleles(locus, genotype)
    }
    hiding = hiding_looks(genome, [over])
    return any(hiding.intersection(locus.allele(allele).hidden_by) for allele in makers)


def loci_of(genome: Genome, wants: Iterable[Want]) -> tuple[str, ...]:
    """The loci that decide whether young are as wanted, in the order of the species file."""
    found: set[str] = set()
    for want in wants:
        found |= {genome.look(look).locus for look in (*want.seen, *want.barred, *want.hidden)}
        found |= {locus.id for locus in genome.loci for each in locus.alleles if each.id in want.carries}
    return tuple(locus.id for locus in genome.loci if locus.id in found)


def own_loci(genome: Genome, wants: Iterable[Want]) -> set[str]:
    """The loci of what is wanted, without those of what must not be seen."""
    return set(loci_of(genome, [Want(want.seen, (), want.hidden, want.carries) for want in wants]))


def units_that_matter(
    asked: Asked, species: Species, wants: Sequence[Want], further: Iterable[str], animals: Iterable[AnimalId]
) -> list[int]:
    """Places of the groups of loci that matter in ``asked.heredity``.

    Those of what is wanted; and, where one of the animals may carry something there, ``further`` ones (of looks that
    hide it, or must not be seen) and those of what cannot live.
    """
    genome = species.genome
    needed, some = own_loci(genome, wants), {*further, *(locus.id for locus in genome.loci if locus.lethal)}
    found = list(animals)
    for locus in genome.loci:
        posteriors = (asked.posterior(animal, locus.id) for animal in found if locus.id in some)
        if any(not is_wild(locus, genotype) for posterior in posteriors for genotype in posterior):
            needed.add(locus.id)
    return sorted({asked.by_locus[species.id, locus] for locus in needed})


def alone(want: Want, thing: str) -> Want:
    """A want for one unseen thing alone."""
    return Want((), (), (thing,), ()) if thing in want.hidden else Want((), (), (), (thing,))


def shares_of(sides: Iterable[Side], want: Want, also: Want | None = None, *, conceived: bool = False) -> Shares:
    """Share of the young of a pair that look right, by the chance of such parents; exact.

    Args:
        sides: The pair.
        want: What is wanted.
        also: What they are to be in truth as well.
        conceived: Share of all that are conceived, those that do not live among them.
    """

    def test(mode: Mode, state: StateNumber, looks: tuple[str, ...]) -> bool:
        seen = frozenset(looks)
        right = fits(mode, state, seen, want, truly=False)
        return right and (also is None or fits(mode, state, seen, also, truly=True))

    found: dict[Fraction, Fraction] = {}
    for weight, crosses in sides:
        parts = [cross.shares_of(partial(test, cross.mode), conceived=conceived) for cross in crosses]
        for share, chance in shares_together(parts, want.sex).items():
            found[share] = found.get(share, Fraction(0)) + weight * chance
    return found


def looks_together(mode: Mode, state: StateNumber) -> Mapping[frozenset[str], Fraction]:
    """The looks that a state shows together at all loci of its mode, to their chance; sums to 1."""
    found: dict[frozenset[str], Fraction] = {}
    choices = (looks_of(at, own).items() for at, own in zip(mode.loci, mode.genotypes[state], strict=True))
    for choice in product(*choices):
        looks = frozenset(look for look, _ in choice if look)
        found[looks] = found.get(looks, Fraction(0)) + math.prod((part for _, part in choice), start=Fraction(1))
    return found


def fits(mode: Mode, state: StateNumber, looks: frozenset[str], want: Want, *, truly: bool) -> bool:
    """True when nothing at these loci speaks against the want.

    Args:
        mode: The loci.
        state: The young's state there.
        looks: What it shows there.
        want: What is wanted.
        truly: By genotype, unseen things included; else as an eye can tell.
    """
    known = {look.id for locus in mode.loci for look in locus.looks}
    if not truly:
        return not looks.intersection(want.barred) and all(look in looks for look in want.seen if look in known)
    held = {allele for genotype in mode.genotypes[state] for allele in genotype}
    alleles = {allele.id for locus in mode.loci for allele in locus.alleles}
    return all(look in looks for look in (*want.seen, *want.hidden) if look in known) and all(
        allele in held for allele in want.carries if allele in alleles
    )
