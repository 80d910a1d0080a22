"""What a parent passes on, by mode of inheritance: only tables, made from pairs of chromosomes.

All modes are one: an animal's state is an unordered pair of chromosomes, a chromosome is what stands
at its places in order, and a gamete is one strand with crossing over between neighbouring places. A
mode only says which chromosomes there are and how often neighbours part, by the parent's sex:

- autosomal: one place;
- sex-linked: the sex-determining place comes first and never parts; the other chromosome of the
  one-copy sex (W or Y) is blank;
- pseudo-autosomal: the sex-determining place comes first and parts with the locus's own fraction,
  in the one-copy sex (in the other both chromosomes are alike there);
- linked: several places.

Source: definition (Mendel's first law; crossing over in neighbouring intervals independent).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import TypeVar

from sitegen.genetics.loci import WILD, Genotype, Linkage, Locus, Sex, SexSystem

Chromosome = tuple[str, ...]
"""What stands at the sex-determining place (empty where sex plays no part), then one allele a locus."""

StateNumber = int

HALF = Fraction(1, 2)
_NONE = Fraction(0)
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class State:
    """All that heredity needs to know of an animal: its two chromosomes, and its sex where that is part of it."""

    sex: Sex | None
    first: Chromosome
    second: Chromosome


@dataclass(frozen=True, slots=True)
class Mode:
    """The states of one locus or linked group, and how often neighbouring places part.

    Attributes:
        loci: In the order of their places.
        states: Every state, also those that are not among the living.
        genotypes: For each state its genotype at each locus.
        living: For each state whether it is among the living young.
        parting: Parent's sex to the chance that each place parts from the one before it; the first
            entry belongs to the first locus and the sex-determining place.
    """

    loci: tuple[Locus, ...]
    states: tuple[State, ...]
    genotypes: tuple[tuple[Genotype, ...], ...]
    living: tuple[bool, ...]
    parting: Mapping[Sex, tuple[Fraction, ...]]

    @property
    def has_sex(self) -> bool:
        """True when an animal's sex is part of its state."""
        return self.states[0].sex is not None

    def of_sex(self, sex: Sex) -> tuple[StateNumber, ...]:
        """The living states of animals of that sex; of both when it is not known."""
        return tuple(
            number
            for number, state in enumerate(self.states)
            if self.living[number] and (state.sex is None or sex is Sex.UNKNOWN or state.sex is sex)
        )


def gametes(mode: Mode, parent: StateNumber, sex: Sex) -> dict[Chromosome, Fraction]:
    """Chance of each chromosome among the gametes of a parent, a dam (``FEMALE``) or a sire (``MALE``); sums to 1."""
    state = mode.states[parent]
    if state.first == state.second:
        return {state.first: Fraction(1)}
    strands = (state.first, state.second)
    growing: dict[tuple[int, Chromosome], Fraction] = {(0, strands[0][:1]): HALF, (1, strands[1][:1]): HALF}
    for place, parts in enumerate(mode.parting[sex], start=1):
        longer: dict[tuple[int, Chromosome], Fraction] = {}
        for (strand, begun), chance in growing.items():
            for to, chance_of_it in ((strand, 1 - parts), (1 - strand, parts)):
                if chance_of_it:
                    key = (to, (*begun, strands[to][place]))
                    longer[key] = longer.get(key, _NONE) + chance * chance_of_it
        growing = longer
    result: dict[Chromosome, Fraction] = {}
    for (_, chromosome), chance in growing.items():
        result[chromosome] = result.get(chromosome, _NONE) + chance
    return result


def mode_of_locus(locus: Locus) -> Mode:
    """The mode of a locus that stands alone.

    Raises:
        ValueError: The locus hangs on sex, but the species' sex determination is not known.
    """
    return _mode((locus,), {Sex.FEMALE: (), Sex.MALE: ()})


def mode_of_group(loci: tuple[Locus, ...], linkage: Linkage) -> Mode:
    """The mode of loci on one chromosome: all autosomal, all on the X or Z alone, or all on both sex chromosomes.

    Those on both stand in their order from the place that determines the sex; the fraction of the first counts,
    those of the others follow from it.

    Raises:
        ValueError: The loci do not fit together, or not to the linkage.
    """
    if tuple(locus.id for locus in loci) != linkage.loci:
        raise ValueError(f"loci {[locus.id for locus in loci]} are not those of the linkage {linkage.loci}")
    if len({(_hangs_on_sex(locus), _pseudo_autosomal(locus)) for locus in loci}) > 1:
        raise ValueError("linked loci must be all autosomal, all sex-linked, or all on both sex chromosomes")
    return _mode(loci, linkage.recombination)


def _pseudo_autosomal(locus: Locus) -> bool:
    return locus.sex_recombination is not None


def _hangs_on_sex(locus: Locus) -> bool:
    return locus.sex_linked or _pseudo_autosomal(locus)


def _mode(loci: tuple[Locus, ...], recombination: Mapping[Sex, tuple[Fraction, ...]]) -> Mode:
    if _hangs_on_sex(loci[0]):
        states = _states_with_sex(loci)
    else:
        states = tuple(State(None, first, second) for first, second in _pairs(_chromosomes("", loci)))
    genotypes = tuple(
        tuple(locus.genotype(state.first[at], state.second[at]) for at, locus in enumerate(loci, start=1))
        for state in states
    )
    living = tuple(
        not any(genotype in locus.lethal for genotype, locus in zip(found, loci, strict=True)) for found in genotypes
    )
    return Mode(loci, states, genotypes, living, _parting(loci, recombination))


def _parting(
    loci: tuple[Locus, ...], recombination: Mapping[Sex, tuple[Fraction, ...]]
) -> dict[Sex, tuple[Fraction, ...]]:
    one_copy = loci[0].sex_system.one_copy_sex
    at_sex_place = loci[0].sex_recombination or _NONE
    whole = (_NONE,) * len(loci)
    found: dict[Sex, tuple[Fraction, ...]] = {}
    for sex in (Sex.FEMALE, Sex.MALE):
        between = recombination.get(sex, recombination.get(Sex.UNKNOWN, whole[1:]))
        if _hangs_on_sex(loci[0]) and sex is one_copy:
            found[sex] = (at_sex_place, *between) if _pseudo_autosomal(loci[0]) else whole
        else:
            found[sex] = (_NONE, *between)
    return found


def _chromosomes(marker: str, loci: tuple[Locus, ...]) -> list[Chromosome]:
    return [(marker, *chosen) for chosen in product(*((WILD, *(a.id for a in locus.alleles)) for locus in loci))]


def _pairs(items: list[_T]) -> list[tuple[_T, _T]]:
    return [(first, second) for rank, first in enumerate(items) for second in items[rank:]]


def _states_with_sex(loci: tuple[Locus, ...]) -> tuple[State, ...]:
    system = loci[0].sex_system
    one_copy = system.one_copy_sex
    if one_copy is None:
        raise ValueError(f"locus {loci[0].id} hangs on sex, but how sex is determined is not known")
    two_copies = Sex.FEMALE if one_copy is Sex.MALE else Sex.MALE
    common = _chromosomes("X" if system is SexSystem.XY else "Z", loci)
    if _pseudo_autosomal(loci[0]):
        other = _chromosomes(system.blank, loci)
    else:
        other = [(system.blank, *(system.blank for _ in loci))]
    both = [State(two_copies, first, second) for first, second in _pairs(common)]
    return tuple(both + [State(one_copy, first, second) for first, second in product(common, other)])
