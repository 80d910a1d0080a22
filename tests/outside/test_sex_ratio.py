"""Sexes of litters, beside what was counted in snakes.

Six snake species, 274 wild gravid females, 2,443 living young: no species differed from 1:1, and the spread among
litters fits the binomial with 1/2 ("Secondary sex ratios in six snake species", Copeia 2011(4):553; the abstract).
"""

import datetime as dt
import math
from collections.abc import Iterator
from fractions import Fraction

import pytest
from helpers.by_hand import animal, asked_of, keep, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook
from helpers.pedigrees import AUTOSOMAL, HALF, LINKED, ONE, PARTING, SEXED
from scipy import stats

from sitegen.genetics.counts import as_uneven, at_least, counts, litter_sizes
from sitegen.genetics.crosses import Cross, wanted_shares
from sitegen.genetics.gametes import Mode, mode_of_group, mode_of_locus
from sitegen.genetics.loci import Linkage, Locus, Sex
from sitegen.plans.roads.kinds import Ending

BY_HALVES = {HALF: ONE}
LETHAL_BY_SEX = [each for each in SEXED if each.id == "ill"]
MODES = [
    *(mode_of_locus(each) for each in (*AUTOSOMAL, *SEXED) if each not in LETHAL_BY_SEX),
    *(mode_of_group(loci, Linkage(tuple(each.id for each in loci), PARTING)) for loci in LINKED),
]


def _living_pairs(mode: Mode) -> Iterator[Cross]:
    """Every pair of living parents, each known for certain, that can have living young."""
    for dam in mode.of_sex(Sex.FEMALE):
        for sire in mode.of_sex(Sex.MALE):
            try:
                yield Cross(mode, {(dam, sire): ONE})
            except ValueError:
                continue


@pytest.mark.parametrize(
    "mode", MODES, ids=lambda mode: "-".join((mode.loci[0].sex_system, *(x.id for x in mode.loci)))
)
def test_every_pair_has_as_many_daughters_as_sons(mode: Mode) -> None:
    crosses = list(_living_pairs(mode))
    assert crosses
    assert all(wanted_shares([(cross, ())], Sex.FEMALE) == BY_HALVES for cross in crosses)


@pytest.mark.parametrize("at", LETHAL_BY_SEX, ids=lambda at: at.sex_system)
def test_only_a_lethal_form_on_a_sex_chromosome_shifts_the_sexes(at: Locus) -> None:
    """Of the sex with two copies a quarter of all conceptions less: 1/4 to 1/2, so 2/3 are of the other; by hand."""
    one_copy = at.sex_system.one_copy_sex
    found = {share for cross in _living_pairs(mode_of_locus(at)) for share in wanted_shares([(cross, ())], one_copy)}
    assert found == {HALF, Fraction(2, 3)}


@pytest.mark.parametrize("n_young", [1, 2, 8, 23])
def test_the_sexes_of_a_litter_are_binomial(n_young: int) -> None:
    found = counts(BY_HALVES, n_young)
    for k, chance in enumerate(found):
        assert math.isclose(chance, stats.binom.pmf(k, n_young, 0.5), rel_tol=1e-12)
    all_of_one_sex = found[0] + found[-1]
    assert all_of_one_sex == 2 * HALF**n_young
    if n_young == 8:
        assert round(float(all_of_one_sex), 4) == 0.0078


@pytest.mark.parametrize("k", [1, 2, 4, 5, 8])
def test_the_sexes_of_played_litters_are_binomial(k: int) -> None:
    """Litters of every size of the species: as many have ``k`` daughters or more as SciPy's binomials say."""
    own = snake(recessive("amel"), sizes=(4, 8, 15))
    couple = [animal(name, sex=sex, shows="") for name, sex in (("mum", Sex.FEMALE), ("dad", Sex.MALE))]
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", sex="female", count=k), tries=1), stage("2", 2027, "1.d", "dad"),
        shows="amel", horizon=2026,
    )  # fmt: skip
    found = outlook(asked_of(own, *couple), road, dt.date(2026, 1, 1))
    exact = sum(float(p) * stats.binom.sf(k - 1, n, 0.5) for n, p in litter_sizes(4, 8, 15).items())
    (first, _) = found.stages
    assert math.isclose(first.holdbacks[0].in_one_litter, exact, rel_tol=1e-12)
    assert near(first.ended.get(Ending.KEPT, Fraction(0)), Fraction(exact), found.draws)


def test_one_uneven_clutch_proves_nothing() -> None:
    """Clark and Pendleton (1995) Southwest Nat 40:203-207: a clutch of a ratsnake with 19 males of 23."""
    tail = at_least(BY_HALVES, 23, 19)
    assert round(float(tail), 4) == 0.0013
    assert as_uneven(HALF, 23, 19) == 2 * tail
