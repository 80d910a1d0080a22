"""How the young of a pair can look at all its loci together, the likeliest first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.exact import common_denominator
from sitegen.genetics.crosses import SEXES, Cross, LookShare
from sitegen.genetics.loci import Sex

MOST_ROWS = 1024
"""Rows kept; ten loci with two looks each fit."""

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class LookRow:
    """Young that look alike at every locus in play.

    Attributes:
        shows: Look ids in the order of the species file; empty for young that show nothing.
        carries: For a young that looks so, the chance that it holds each allele that the look does not
            tell; an allele without any chance is left out.
    """

    shows: tuple[str, ...]
    chance: Fraction
    carries: Mapping[str, Fraction]


def look_rows(crosses: Sequence[Cross]) -> tuple[tuple[LookRow, ...], Fraction]:
    """The rows, likeliest first, at most ``MOST_ROWS`` of them, and the chance of all that were left out.

    Loci that are inherited independently multiply, within each sex of the young. The products run on whole
    numbers over one denominator, so that ten loci answer at once.
    """
    found: list[_Grown] = [((), 1, 1)]
    whole = 2
    for cross in crosses:
        parts, denominator = _whole_parts(cross.rows())
        whole *= denominator
        grown = [
            ((*before, part), female * part.female, male * part.male)
            for before, female, male in found
            for part in parts
        ]
        grown.sort(key=lambda item: -(item[1] + item[2]))
        found = grown[:MOST_ROWS]
    kept = tuple(_row(parts, female, male, whole) for parts, female, male in found if female or male)
    return kept, 1 - Fraction(sum(female + male for _, female, male in found), whole)


@dataclass(frozen=True, slots=True)
class _LookPart:
    """Young that look alike at one locus or group: weights of each sex, and chances of what the look does not tell.

    ``carrying`` holds alleles whose chance is the same in both sexes, ``by_sex`` the others (female, male).
    """

    looks: tuple[str, ...]
    female: int
    male: int
    carrying: tuple[tuple[str, Fraction], ...]
    by_sex: tuple[tuple[str, Fraction, Fraction], ...]


_Grown = tuple[tuple[_LookPart, ...], int, int]


def _whole_parts(rows: Sequence[LookShare]) -> tuple[list[_LookPart], int]:
    """The rows as whole numbers over one denominator: of each sex the share that looks so."""
    denominator = common_denominator(2 * chance for row in rows for chance in row.by_sex.values())
    parts = []
    for row in rows:
        chances = [(allele, _of(row, own, SEXES[0]), _of(row, own, SEXES[1])) for allele, own in row.carrying.items()]
        same = [(allele, one if one is not None else other) for allele, one, other in chances if _alike(one, other)]
        female, male = (int(2 * row.by_sex[sex] * denominator) for sex in SEXES)
        parts.append(
            _LookPart(
                row.looks,
                female,
                male,
                tuple((allele, chance) for allele, chance in same if chance),
                tuple((a, one or _NONE, other or _NONE) for a, one, other in chances if not _alike(one, other)),
            )
        )
    return parts, denominator


def _of(row: LookShare, own: Mapping[Sex, Fraction], sex: Sex) -> Fraction | None:
    """Of young of that sex that look so, the chance of holding the allele; None where there are none."""
    return own[sex] / row.by_sex[sex] if row.by_sex[sex] else None


def _alike(one: Fraction | None, other: Fraction | None) -> bool:
    return one is None or other is None or one == other


def mixed_rows(
    cases: Sequence[tuple[Fraction, Sequence[Cross]]],
) -> tuple[tuple[LookRow, ...], Fraction]:
    """The same for parents whose loci are tied together by a sire that is not known: one part for each case.

    Args:
        cases: Chance of each case, together 1, and the loci in it, which are independent there.
    """
    if len(cases) == 1:
        return look_rows(cases[0][1])
    chances: dict[tuple[str, ...], Fraction] = {}
    holding: dict[tuple[str, ...], dict[str, Fraction]] = {}
    left_out = _NONE
    for weight, crosses in cases:
        rows, left = look_rows(crosses)
        left_out += weight * left
        for row in rows:
            chances[row.shows] = chances.get(row.shows, _NONE) + weight * row.chance
            own = holding.setdefault(row.shows, {})
            for allele, chance in row.carries.items():
                own[allele] = own.get(allele, _NONE) + weight * row.chance * chance
    merged = [
        LookRow(shows, chance, {allele: held / chance for allele, held in holding[shows].items()})
        for shows, chance in chances.items()
    ]
    return tuple(sorted(merged, key=lambda row: -row.chance)), left_out


def _row(parts: Sequence[_LookPart], female: int, male: int, whole: int) -> LookRow:
    carries: dict[str, Fraction] = {}
    for part in parts:
        carries.update(part.carrying)
        for allele, of_females, of_males in part.by_sex:
            if held := (female * of_females + male * of_males) / (female + male):
                carries[allele] = held
    looks = tuple(look for part in parts for look in part.looks)
    return LookRow(looks, Fraction(female + male, whole), carries)
