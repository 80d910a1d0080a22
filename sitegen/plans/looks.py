"""How the young of a pair can look at all its loci together, the likeliest first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.genetics.crosses import SEXES, Cross, Row
from sitegen.genetics.loci import Sex

MOST_ROWS = 1024
"""Rows kept; ten loci with two looks each fit."""

_NONE = Fraction(0)
_BySex = dict[Sex, Fraction]


@dataclass(frozen=True, slots=True)
class LookRow:
    """Young that look alike at every locus in play.

    Attributes:
        shows: Look ids in the order of the species file; empty for young that show nothing.
        chance: Chance that a young looks so.
        carries: For a young that looks so, the chance that it holds each allele that the look does not
            tell; an allele without any chance is left out.
    """

    shows: tuple[str, ...]
    chance: Fraction
    carries: Mapping[str, Fraction]


def look_rows(crosses: Sequence[Cross], most: int = MOST_ROWS) -> tuple[tuple[LookRow, ...], Fraction]:
    """The rows, likeliest first, and the chance of all that were left out because there were more than ``most``.

    Loci that are inherited independently multiply, within each sex of the young.
    """
    found: list[tuple[tuple[Row, ...], _BySex]] = [((), dict.fromkeys(SEXES, Fraction(1, 2)))]
    for cross in crosses:
        rows = cross.rows()
        grown = [
            ((*parts, row), {sex: chances[sex] * 2 * row.by_sex[sex] for sex in SEXES})
            for parts, chances in found
            for row in rows
        ]
        grown.sort(key=lambda item: -_total(item[1]))
        found = grown[:most]
    kept = tuple(_row(parts, chances) for parts, chances in found if _total(chances))
    return kept, 1 - sum((row.chance for row in kept), _NONE)


def mixed_rows(
    cases: Sequence[tuple[Fraction, Sequence[Cross]]], most: int = MOST_ROWS
) -> tuple[tuple[LookRow, ...], Fraction]:
    """The same for parents whose loci are tied together by a sire that is not known: one part for each case.

    Args:
        cases: Chance of each case, together 1, and the loci in it, which are independent there.
        most: Rows kept in each case.
    """
    if len(cases) == 1:
        return look_rows(cases[0][1], most)
    chances: dict[tuple[str, ...], Fraction] = {}
    holding: dict[tuple[str, ...], dict[str, Fraction]] = {}
    left_out = _NONE
    for weight, crosses in cases:
        rows, left = look_rows(crosses, most)
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


def _total(by_sex: _BySex) -> Fraction:
    return sum(by_sex.values(), _NONE)


def _row(parts: Sequence[Row], chances: _BySex) -> LookRow:
    chance = _total(chances)
    carries: dict[str, Fraction] = {}
    for part in parts:
        for allele, own in part.carrying.items():
            holding = sum((chances[sex] * own[sex] / part.by_sex[sex] for sex in SEXES if part.by_sex[sex]), _NONE)
            if holding:
                carries[allele] = holding / chance
    return LookRow(tuple(look for part in parts for look in part.looks), chance, carries)
