"""What an eye can tell apart among the young of a pair: looks that another look hides are not counted."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.genetics.loci import Genome
from sitegen.genetics.look_rows import LookRow


@dataclass(frozen=True, slots=True)
class Expected:
    """Young that can be told apart by eye: how they look, their chance, and what they carry unseen."""

    looks: tuple[str, ...]
    chance: Fraction
    carries: Mapping[str, Fraction]


def by_eye(rows: tuple[LookRow, ...], genome: Genome, left_out: tuple[str, ...] = ()) -> tuple[Expected, ...]:
    """The rows that an eye can tell apart, likeliest first.

    A look that another one in the same young hides, and looks of the loci ``left_out``, are not counted; what such
    young carry at those loci is then not told.
    """
    merged: dict[tuple[str, ...], list[tuple[LookRow, frozenset[str]]]] = {}
    for row in rows:
        seen = tuple(look for look in row.shows if not _is_out_of_sight(look, row.shows, genome, left_out))
        dropped = frozenset(genome.look(look).locus for look in row.shows if look not in seen)
        merged.setdefault(seen, []).append((row, dropped | frozenset(left_out)))
    found = [_together(looks, parts, genome) for looks, parts in merged.items()]
    order = {look.id: rank for rank, look in enumerate(look for locus in genome.loci for look in locus.looks)}
    return tuple(sorted(found, key=lambda row: (-row.chance, len(row.looks), [order[look] for look in row.looks])))


def _is_out_of_sight(look: str, together: tuple[str, ...], genome: Genome, left_out: tuple[str, ...]) -> bool:
    """True for a look that cannot be seen beside the others, or not yet."""
    locus = genome.locus(genome.look(look).locus)
    if locus.id in left_out:
        return True
    hiding = {hidden for allele in locus.alleles if allele.id == look for hidden in allele.hidden_by}
    return any(other in hiding for other in together)


def _together(looks: tuple[str, ...], parts: list[tuple[LookRow, frozenset[str]]], genome: Genome) -> Expected:
    """Rows that look alike as one."""
    chance = sum((row.chance for row, _dropped in parts), Fraction(0))
    silent = frozenset(locus for _row, dropped in parts for locus in dropped)
    alleles = dict.fromkeys(allele for row, _dropped in parts for allele in row.carries)
    told = [a for a in alleles if not any(a == x.id for locus in silent for x in genome.locus(locus).alleles)]
    carries = {
        allele: sum((row.chance * row.carries.get(allele, Fraction(0)) for row, _dropped in parts), Fraction(0))
        / chance
        for allele in told
    }
    return Expected(looks, chance, carries)
