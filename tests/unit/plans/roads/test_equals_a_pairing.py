"""A road of one stage is a pairing: linked loci, loci that hang on sex, loci that an unknown sire ties together."""

import datetime as dt
from fractions import Fraction

import pytest
from helpers.by_hand import allele, animal, asked_of, keep, litter, locus, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.evidence.pairings import pairing
from sitegen.genetics.loci import Linkage, Sex, SexSystem
from sitegen.plans.roads.kinds import Ending

TODAY = dt.date(2026, 1, 1)
TENTH = Fraction(1, 10)


def founders(**stated: dict[str, object]) -> list[object]:
    sexes = {"mum": Sex.FEMALE, "dad": Sex.MALE, "other": Sex.MALE}
    return [
        animal(name, sex=sexes[name], born="2015-07-01", **own)  # type: ignore[arg-type]
        for name, own in stated.items()
    ]


def linked() -> tuple[list[object], str, str]:
    own = snake(
        recessive("a"), recessive("b"), sizes=(2, 4, 7),
        linkages=(Linkage(("a", "b"), {Sex.UNKNOWN: (TENTH,)}),),
    )  # fmt: skip
    both = {"stated": {"a": "certain", "b": "66%"}}
    return [own, *founders(mum=both, dad=both)], "mum", "dad"


def on_the_sex_chromosome() -> tuple[list[object], str, str]:
    banded = locus("a", allele("a"), sex_system=SexSystem.ZW, sex_linked=True)
    own = snake(banded, recessive("b"), sizes=(2, 4, 7), sexes=SexSystem.ZW)
    return [own, *founders(mum={"stated": {"b": "50%"}}, dad={"stated": {"a": "66%", "b": "certain"}})], "mum", "dad"


def of_one_of_two_sires() -> tuple[list[object], str, str]:
    own = snake(recessive("a"), recessive("b"), sizes=(2, 4, 7))
    mum = {"stated": {"a": "certain", "b": "certain"}}
    young = {"m": {"sex": Sex.MALE, "shows": ""}}
    records = [
        own, *founders(mum=mum, dad={"shows": "a"}, other={"shows": "b"}),
        litter("x", "mum", "dad other", young, born="2020-07-01"),
    ]  # fmt: skip
    return records, "mum", "x/m"


@pytest.mark.parametrize("herd", [linked, on_the_sex_chromosome, of_one_of_two_sires])
@pytest.mark.parametrize("looks", ["a", "b", "a b"])
@pytest.mark.parametrize("sex", [Sex.FEMALE, Sex.MALE])
def test_one_stage_is_a_pairing(herd: object, looks: str, sex: Sex) -> None:
    records, dam, sire = herd()  # type: ignore[operator]
    asked = asked_of(*records)
    own = stage("1", 2026, dam, sire, keep("young", looks, sex=sex.value, count=2), tries=1)
    told = outlook(asked, project(own, shows=looks, horizon=2026), TODAY)
    either = pairing(asked, dam, sire, wanted=looks.split(), k=1).wanted
    sexed = pairing(asked, dam, sire, wanted=looks.split(), sex=sex, k=2).wanted
    assert either is not None
    assert sexed is not None
    # One that looks right is kept, whichever its sex.
    assert told.by_season
    assert near(told.by_season[-1].kept, either.in_litter, told.draws)
    assert told.by_season[-1].born == told.by_season[-1].kept == told.by_season[-1].known
    assert sum(row.chance for row in told.stages[0].looks if set(looks.split()) <= set(row.looks)) == either.per_young
    (young,) = told.stages[0].holdbacks
    assert (young.right, young.in_one_litter, young.drawn) == (sexed.per_young, sexed.in_litter, 0)
    assert near(told.stages[0].ended.get(Ending.GOAL, Fraction(0)), sexed.in_litter, told.draws)


def test_phase_is_kept_from_one_generation_to_the_next() -> None:
    # The dam gives a and b on one chromosome to every young, the plain sire neither: all sons carry both together. A
    # son passes both on with 1/2 * 9/10, and his visual dam does in any case. A first young is a son with 1/2.
    own = snake(
        recessive("a"), recessive("b"), sizes=(1, 1, 1), linkages=(Linkage(("a", "b"), {Sex.UNKNOWN: (TENTH,)}),)
    )
    mum = animal("mum", sex=Sex.FEMALE, shows="a b", born="2015-07-01")
    dad = animal("dad", sex=Sex.MALE, shows="", born="2015-07-01")
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", carries="a b", sex="male")),
        stage("2", 2027, "mum", "1.s"),
        shows="a b", horizon=2027,
    )  # fmt: skip
    told = outlook(asked_of(own, mum, dad), road, TODAY)
    assert told.by_season
    assert near(told.by_season[-1].kept, Fraction(1, 2) * Fraction(1, 2) * (1 - TENTH), told.draws)


def test_a_project_without_stages_has_no_road() -> None:
    told = outlook(asked_of(snake(recessive("a"))), project(shows="a"), TODAY)
    assert (told.stages, told.by_season, told.half_by, told.reached) == ((), (), None, None)


def test_a_stage_for_which_nothing_can_be_kept() -> None:
    own = snake(recessive("a"))
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", "a", sex="female")), stage("2", 2027, "1.d", "dad"), shows="a"
    )
    told = outlook(asked_of(own, *founders(mum={"shows": ""}, dad={"shows": ""})), road, TODAY)
    assert told.stages[0].holdbacks[0].right == 0
    assert told.stages[1].looks == ()
    assert (told.stages[1].bred[-1][1], told.stages[1].kept_given_bred) == (0, None)
    assert {each.born for each in told.by_season} == {0}
