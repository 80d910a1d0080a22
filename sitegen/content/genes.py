"""What a breeder records of an animal's genes: evidence, each piece with its place, and how it is read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.genetics.loci import Genotype


@dataclass(frozen=True, slots=True)
class SeenLook:
    """A look named under ``shows``. ``as_written`` may be a combination name; then several share a place."""

    look: str
    locus: str
    place: Place
    as_written: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """One judging of an animal: what it shows, and which loci were not judged.

    Every locus of the species that is neither in ``seen`` nor in ``unsure`` was looked for and not seen.
    ``unsure_all``: nothing was judged but what ``seen`` names. ``written`` is False when the record has
    no ``shows`` key at all; such a record judged nothing.
    """

    seen: tuple[SeenLook, ...]
    unsure: tuple[str, ...]
    place: Place
    unsure_all: bool = False
    written: bool = True
    on: PartialDate | None = None


@dataclass(frozen=True, slots=True)
class Stated:
    """A previous keeper's statement about one locus. ``odds`` sums to 1.

    ``quoted`` is False where ``as_written`` only describes what was written, so that nobody's word is made up.
    """

    locus: str
    odds: Mapping[Genotype, Fraction]
    as_written: str
    place: Place
    quoted: bool = True


@dataclass(frozen=True, slots=True)
class DnaTest:
    """A laboratory result: the genotypes that remain possible."""

    locus: str
    genotypes: tuple[Genotype, ...]
    place: Place
    laboratory: str = ""
    date: PartialDate | None = None
    document: str = ""


@dataclass(frozen=True, slots=True)
class Copies:
    """``copies: {tessera: unknown}``: a founder's dominant whose copies are not known, with an optional prior."""

    locus: str
    two_copies: Fraction | None
    place: Place


@dataclass(frozen=True, slots=True)
class Chromosome:
    """One line of ``haplotypes``: locus to allele, on one chromosome."""

    alleles: Mapping[str, str]
    place: Place


@dataclass(frozen=True, slots=True)
class Genes:
    """All genetic evidence of one record."""

    judged: Judged
    stated: tuple[Stated, ...] = ()
    tests: tuple[DnaTest, ...] = ()
    copies: tuple[Copies, ...] = ()
    haplotypes: tuple[Chromosome, ...] = ()
    markers: tuple[str, ...] = field(default=())
