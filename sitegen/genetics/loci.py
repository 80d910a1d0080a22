"""Loci, alleles and looks: which genotypes there are, and what each of them shows."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from itertools import combinations_with_replacement

WILD = "+"
"""The wild-type allele, at every locus."""

Genotype = tuple[str, str]
"""Two allele ids without phase, in the order of the species file, wild type first.

In the sex that has one copy of a sex-linked locus the second entry is ``W`` or ``Y``.
"""


class Sex(StrEnum):
    """The recorded sex of an animal."""

    FEMALE = "female"
    MALE = "male"
    UNKNOWN = "unknown"


class SexSystem(StrEnum):
    """How sex is determined: females ZW, males XY, by the warmth of the eggs, or not known for the species."""

    XY = "XY"
    ZW = "ZW"
    TEMPERATURE = "temperature"
    UNKNOWN = "unknown"

    @property
    def one_copy_sex(self) -> Sex | None:
        """The sex that has one copy of a sex-linked locus."""
        return {"XY": Sex.MALE, "ZW": Sex.FEMALE}.get(self.value)

    @property
    def blank(self) -> str:
        """What stands in the place of the missing second copy: ``Y`` or ``W``."""
        return {"XY": "Y", "ZW": "W"}.get(self.value, "")


class Inheritance(StrEnum):
    """How many copies of an allele are needed to show it."""

    RECESSIVE = "recessive"
    DOMINANT = "dominant"
    INCOMPLETE_DOMINANT = "incomplete_dominant"


@dataclass(frozen=True, slots=True)
class Welfare:
    """A known harm that goes with an allele."""

    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Allele:
    """A named allele of a locus; the wild type is not one of them.

    Attributes:
        id: Unique in the species.
        inheritance: None where a ``looks`` map says everything.
        two_copies: Name of the two-copy form of an incomplete dominant.
        two_copies_lethal: Embryos with two copies are not among the living young.
        penetrance: Chance that an animal whose genotype should show a look does show it.
        visible_from_months: Age in months before which the allele cannot be judged; 0 from birth.
        hidden_by: Ids of looks under which this one cannot be judged.
        not_the_same_as: Ids of alleles at other loci that look alike.
        sources: Where its facts come from: their keys in a species file, each with its source.
    """

    id: str
    name: str
    inheritance: Inheritance | None = None
    two_copies: str = ""
    two_copies_lethal: bool = False
    penetrance: Fraction = Fraction(1)
    visible_from_months: int = 0
    hidden_by: tuple[str, ...] = ()
    about: str = ""
    not_the_same_as: tuple[str, ...] = ()
    welfare: Welfare | None = None
    named: tuple[str, ...] = ()
    sources: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """Something that can be seen and that ``shows`` may name."""

    id: str
    name: str
    locus: str


@dataclass(frozen=True, slots=True)
class Locus:
    """One place in the genome of one species, with its named alleles and what each genotype shows.

    Attributes:
        id: Unique in the species.
        alleles: In the order of the species file, without the wild type.
        shown: Genotype to look id; a genotype that is not in it shows nothing.
        lethal: Genotypes that are not among the living young.
        sex_linked: On the X or Z; the other sex has one copy.
        sex_recombination: For the pseudo-autosomal case, the recombination fraction with the
            sex-determining place; None for any other locus.
        background: Sex to genotype odds of founders and of parents that are not recorded; each sums to 1. Empty where
            nobody wrote any.
    """

    id: str
    name: str
    alleles: tuple[Allele, ...]
    looks: tuple[Look, ...]
    shown: Mapping[Genotype, str]
    lethal: frozenset[Genotype] = frozenset()
    sex_linked: bool = False
    sex_system: SexSystem = SexSystem.UNKNOWN
    sex_recombination: Fraction | None = None
    background: Mapping[Sex, Mapping[Genotype, Fraction]] = field(default_factory=dict)

    def copies(self, sex: Sex) -> int:
        """How many copies of the locus an animal of that sex has; unknown sex counts as two."""
        blank = self.sex_linked and self.sex_recombination is None
        return 1 if blank and sex is self.sex_system.one_copy_sex else 2

    def genotypes(self, sex: Sex = Sex.UNKNOWN) -> tuple[Genotype, ...]:
        """Every genotype an animal of that sex can have, wild type first."""
        ids = (WILD, *(allele.id for allele in self.alleles))
        if self.copies(sex) == 1:
            return tuple((allele, self.sex_system.blank) for allele in ids)
        return tuple(combinations_with_replacement(ids, 2))

    def genotype(self, first: str, second: str) -> Genotype:
        """The two alleles in the order of the species file."""
        order = {WILD: -1} | {allele.id: rank for rank, allele in enumerate(self.alleles)}
        last = len(order)
        pair = sorted((first, second), key=lambda allele: order.get(allele, last))
        return pair[0], pair[1]

    def look(self, look_id: str) -> Look:
        """The look of that id.

        Raises:
            KeyError: The locus has no such look.
        """
        for look in self.looks:
            if look.id == look_id:
                return look
        raise KeyError(look_id)

    def allele(self, allele_id: str) -> Allele:
        """The allele of that id.

        Raises:
            KeyError: The locus has no such allele.
        """
        for allele in self.alleles:
            if allele.id == allele_id:
                return allele
        raise KeyError(allele_id)


@dataclass(frozen=True, slots=True)
class Linkage:
    """Loci on one chromosome, in order, with the recombination fraction between neighbours by parent's sex."""

    loci: tuple[str, ...]
    recombination: Mapping[Sex, tuple[Fraction, ...]]


@dataclass(frozen=True, slots=True)
class Combination:
    """A trade name for several looks together."""

    id: str
    name: str
    looks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Genome:
    """All that is known of the heredity of one species."""

    species: str
    sex_system: SexSystem
    loci: tuple[Locus, ...]
    linkages: tuple[Linkage, ...] = ()
    combinations: tuple[Combination, ...] = ()

    def locus(self, locus_id: str) -> Locus:
        """The locus of that id.

        Raises:
            KeyError: The species has no such locus.
        """
        for locus in self.loci:
            if locus.id == locus_id:
                return locus
        raise KeyError(locus_id)

    def look(self, look_id: str) -> Look:
        """The look of that id, at whichever locus.

        Raises:
            KeyError: The species has no such look.
        """
        for locus in self.loci:
            for look in locus.looks:
                if look.id == look_id:
                    return look
        raise KeyError(look_id)


_QUOTES = str.maketrans({"\u2018": "'", "\u2019": "'", "\u201c": None, "\u201d": None, "\u201e": None})


def look_id(name: str) -> str:
    """The id of a look from its name: ``super palmetto`` and ``super-palmetto`` are the same, and so are all quotes."""
    return "-".join(name.translate(_QUOTES).lower().split())


def genotype_text(genotype: Genotype) -> str:
    """The form of machine output: ``+/amel``."""
    return "/".join(genotype)


def looks_by_inheritance(
    locus_id: str, alleles: Iterable[Allele], compounds: Mapping[frozenset[str], str], blank: str = ""
) -> tuple[tuple[Look, ...], dict[Genotype, str]]:
    """The looks of a locus and what each genotype shows, from how its alleles are inherited.

    Two different alleles together show: the look ``compounds`` names for the two; otherwise the one that is not
    recessive when the other is; otherwise a look of its own, named after both (``motley/stripe``). ``blank`` is ``W``
    or ``Y`` for a sex-linked locus.
    """
    alleles = tuple(alleles)
    looks: dict[str, Look] = {}
    shown: dict[Genotype, str] = {}

    def show(genotype: Genotype, name: str, own_id: str = "") -> None:
        key = own_id or look_id(name)
        looks.setdefault(key, Look(key, name, locus_id))
        shown[genotype] = key

    for allele in alleles:
        recessive = allele.inheritance is Inheritance.RECESSIVE
        if not recessive:
            show((WILD, allele.id), allele.name, allele.id)
        if allele.inheritance is Inheritance.INCOMPLETE_DOMINANT and allele.two_copies:
            show((allele.id, allele.id), allele.two_copies)
        else:
            show((allele.id, allele.id), allele.name, allele.id)
        if blank:
            show((allele.id, blank), allele.name, allele.id)
    for rank, first in enumerate(alleles):
        for second in alleles[rank + 1 :]:
            show((first.id, second.id), *_compound_look(first, second, compounds))
    return tuple(looks.values()), shown


def _compound_look(first: Allele, second: Allele, compounds: Mapping[frozenset[str], str]) -> tuple[str, str]:
    """Name of the look of two different alleles together, and its id where the name does not make it."""
    if name := compounds.get(frozenset((first.id, second.id))):
        return name, ""
    visible = [allele for allele in (first, second) if allele.inheritance is not Inheritance.RECESSIVE]
    if len(visible) == 1:
        return visible[0].name, visible[0].id
    return f"{first.name}/{second.name}", f"{first.id}/{second.id}"
