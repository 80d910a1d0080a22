"""What a pairing gives, worked out by hand."""

from fractions import Fraction
from math import comb
from time import perf_counter

import pytest
from helpers.by_hand import allele, animal, collection, dominant, litter, locus, recessive, species

from sitegen.content.collection import Collection
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing
from sitegen.evidence.pairings_json import pairing_json
from sitegen.findings import SitegenError
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.loci import Sex, SexSystem

HALF, THIRD, QUARTER = Fraction(1, 2), Fraction(1, 3), Fraction(1, 4)
WILD, HET, TWO = ("+", "+"), ("+", "amel"), ("amel", "amel")


def asked(*records: object) -> Asked:
    kept: Collection = collection(*records)  # type: ignore[arg-type]
    return ask(gather(kept))


def littermates() -> Asked:
    """Two plain young of a visual and a dam that carries with 1 in 2: their doubt is their dam's."""
    return asked(
        species(recessive("amel")),
        animal("d", shows="", stated={"amel": "50%"}, sex=Sex.FEMALE),
        animal("s", shows="", stated={"amel": "certain"}, sex=Sex.MALE),
        litter("x", "d", "s", {"f": {"sex": Sex.FEMALE, "shows": ""}, "m": {"sex": Sex.MALE, "shows": ""}}),
    )


def test_the_pair_is_a_joint_and_not_a_product() -> None:
    found = pairing(littermates(), "x/f", "x/m", n_young=4, wanted=["amel"])
    wild_dam, het_dam = HALF * 1, HALF * Fraction(3, 4) ** 2
    total = wild_dam + het_dam
    both = (wild_dam * HALF * HALF + het_dam * Fraction(2, 3) ** 2) / total
    assert both == found.loci[0].pair[HET, HET]
    single = (wild_dam * HALF + het_dam * Fraction(2, 3)) / total
    assert both != single * single
    assert found.wanted is not None
    assert found.wanted.per_young == both * QUARTER
    assert found.wanted.at_least == both * (1 - Fraction(3, 4) ** 4)
    assert sum(found.wanted.counts) == 1
    assert found.kinship == QUARTER


def test_the_machine_form() -> None:
    kept = asked(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="amel", sex=Sex.FEMALE),
        animal("s", shows="", stated={"amel": "certain"}, sex=Sex.MALE),
    )
    found = pairing_json(pairing(kept, "d", "s", n_young=2, wanted=["amel"]))
    assert found == {
        "pair": {"amel": [{"dam": "amel/amel", "sire": "+/amel", "p": "1"}]},
        "young": {"amel": {"+/amel": "1/2", "amel/amel": "1/2"}},
        "looks": [{"shows": [], "p": "1/2", "carries": {"amel": "1"}}, {"shows": ["amel"], "p": "1/2"}],
        "want": {
            "shows": ["amel"],
            "per_young": "1/2",
            "n": 2,
            "counts": ["1/4", "1/2", "1/4"],
            "at_least": {"k": 1, "p": "3/4"},
            "in_litter": {"k": 1, "p": str(sum(p * (1 - HALF**n) for n, p in litter_sizes(2, 4, 7).items()))},
            "needed": [
                {"p": "1/2", "n": 1, "ceiling": "1"},
                {"p": "9/10", "n": 4, "ceiling": "1"},
                {"p": "19/20", "n": 5, "ceiling": "1"},
                {"p": "99/100", "n": 7, "ceiling": "1"},
            ],
        },
        "kinship": "0",
    }


def test_combinations_and_several_looks_are_wanted_in_one_young() -> None:
    kept = asked(
        species(recessive("amel"), recessive("anery"), dominant("tess"), combinations={"snow": "amel anery"}),
        animal("d", shows="", stated={"amel": "certain", "anery": "certain"}),
        animal("s", shows="tess", stated={"amel": "certain", "anery": "66%"}),
    )
    for wanted in (["snow", "tess"], ["amel", "anery", "tess"], ["Snow", "Tess", "amel"]):
        found = pairing(kept, "d", "s", n_young=3, wanted=wanted, k=2).wanted
        assert found is not None
        share = QUARTER * QUARTER * HALF
        assert found.per_young == Fraction(2, 3) * share
        assert found.at_least == Fraction(2, 3) * (3 * share**2 * (1 - share) + share**3)
        assert found.needed[1].never
        assert found.needed[1].ceiling == Fraction(2, 3)


def test_looks_tell_what_else_such_young_may_carry() -> None:
    kept = asked(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="", stated={"amel": "certain", "anery": "certain"}),
        animal("s", shows="amel", stated={"anery": "66%"}),
    )
    rows = {row.shows: row for row in pairing(kept, "d", "s").looks}
    anery = Fraction(2, 3) * QUARTER
    assert rows["amel", "anery"].chance == HALF * anery
    assert rows["amel", "anery"].carries == {}
    carrying = Fraction(2, 3) * HALF + THIRD * HALF
    assert rows["amel",].carries == {"anery": carrying / (1 - anery)}
    assert rows[()].carries == {"amel": 1, "anery": carrying / (1 - anery)}
    assert sum(row.chance for row in rows.values()) == 1


def test_what_young_would_teach() -> None:
    kept = asked(species(recessive("amel")), animal("d", shows="", stated={"amel": "50%"}), animal("s", shows="amel"))
    (lesson,) = pairing(kept, "d", "s", n_young=7).lessons
    assert (lesson.parent, lesson.before, lesson.after) == ("d", HALF, Fraction(1, 129))


def test_sex_linked_young_are_told_by_sex() -> None:
    banded = locus("banded", allele("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    kept = asked(
        species(banded, sexes=SexSystem.ZW),
        animal("d", shows="banded", sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE, stated={"banded": "certain"}),
    )
    found = pairing(kept, "d", "s", wanted=["banded"], sex=Sex.FEMALE)
    assert pairing_json(found)["young"] == {
        "banded": {
            "female": {"+/W": "1/2", "banded/W": "1/2"},
            "male": {"+/banded": "1/2", "banded/banded": "1/2"},
        }
    }
    assert found.wanted is not None
    assert found.wanted.per_young == QUARTER
    assert {row.shows: row.carries for row in found.looks} == {(): {"banded": HALF}, ("banded",): {}}


def test_ten_genes_in_play_answer_at_once() -> None:
    names = [f"gene{n}" for n in range(10)]
    carried = dict.fromkeys(names, "66%")
    kept = asked(
        species(*(recessive(name) for name in names)),
        animal("d", shows="", stated=carried),
        animal("s", shows="", stated=carried),
    )
    start = perf_counter()
    found = pairing(kept, "d", "s", n_young=10, wanted=names)
    assert perf_counter() - start < 10, "far beyond what a keeper would wait for"
    both = Fraction(4, 9)
    assert found.wanted is not None
    assert found.wanted.per_young == (both * QUARTER) ** 10
    assert found.wanted.at_least == both**10 * (1 - (1 - QUARTER**10) ** 10)
    assert len(found.looks) == 2**10
    assert found.looks_left_out == 0
    assert found.looks[0].shows == ()
    assert found.looks[0].chance == (1 - both * QUARTER) ** 10
    assert found.wanted.needed[0].n_young is None
    assert found.wanted.needed[0].ceiling == both**10


def test_too_many_rows_are_cut_and_the_rest_is_told() -> None:
    names = [f"gene{n}" for n in range(11)]
    carried = dict.fromkeys(names, "certain")
    kept = asked(
        species(*(recessive(name) for name in names)),
        animal("d", shows="", stated=carried),
        animal("s", shows="", stated=carried),
    )
    found = pairing(kept, "d", "s")
    assert len(found.looks) == 1024
    assert found.looks_left_out == 1 - sum(row.chance for row in found.looks)
    six_or_more = sum(comb(11, k) * QUARTER**k * (1 - QUARTER) ** (11 - k) for k in range(6, 12))
    assert found.looks_left_out == six_or_more


def _pair(**more: object) -> Asked:
    other = species(recessive("amel"), name="other")
    return asked(
        species(recessive("amel")),
        other,
        animal("juniper", sex=Sex.FEMALE, shows=""),
        animal("flint", sex=Sex.MALE, shows=""),
        animal("apart", species_id="other", shows=""),
    )


@pytest.mark.parametrize(
    ("dam", "sire", "said"),
    [
        ("junipr", "flint", 'there is no animal "junipr"; nearest: juniper'),
        ("juniper", "juniper", "juniper cannot be dam and sire at once"),
        ("flint", "juniper", "name the dam first: juniper flint"),
        ("juniper", "apart", "juniper is a snake, apart is of another species, other; name two of one species"),
        ("flint", "apart", "species"),
    ],
)
def test_two_that_cannot_be_paired(dam: str, sire: str, said: str) -> None:
    with pytest.raises(SitegenError, match=said):
        pairing(_pair(), dam, sire)


def test_wanted_looks_are_checked() -> None:
    with pytest.raises(SitegenError, match='no look "amle"; nearest: amel'):
        pairing(_pair(), "juniper", "flint", wanted=["amle"])
    with pytest.raises(SitegenError, match="from 0 to 1000"):
        pairing(_pair(), "juniper", "flint", n_young=-1)
    with pytest.raises(SitegenError, match="asks for nothing"):
        pairing(_pair(), "juniper", "flint", k=0)


def test_what_neither_can_give_never_comes() -> None:
    found = pairing(_pair(), "juniper", "flint", wanted=["amel"])
    assert found.wanted is not None
    assert found.wanted.per_young == 0
    assert all(each.never for each in found.wanted.needed)
    assert found.loci == ()
    assert [row.shows for row in found.looks] == [()]
