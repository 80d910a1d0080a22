"""Law: which hidden genes of one animal hang together, and how, is what the sum over all genotypes says."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import comb
from pathlib import Path

from helpers.by_hand import allele, animal, asked_of, litter, locus, recessive, species
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from sitegen.evidence.answers import read_known
from sitegen.evidence.asking import Asked
from sitegen.evidence.joint import Tie, joint_json, joints_of, together
from sitegen.genetics.loci import Linkage, Sex

CONTENT = Path(__file__).parents[2] / "content"
LITTER = "2026-tansy-slate-or-chalk"
Gene = tuple[int, int, str]
"""Number of the unit, place of the locus in it, allele."""
KIND = species(
    recessive("amel"),
    recessive("left"),
    recessive("right"),
    locus("ms", allele("mot"), allele("str"), compounds={"mot/str": "striped mot"}),
    linkages=(Linkage(("left", "right"), dict.fromkeys((Sex.FEMALE, Sex.MALE), (Fraction(1, 10),))),),
)
GENES: dict[str, Gene] = {"amel": (0, 0, "amel"), "left": (1, 0, "left"), "right": (1, 1, "right"),
                          "mot": (2, 0, "mot"), "str": (2, 0, "str")}  # fmt: skip


def carrying(truth: Truth, member: str, genes: Sequence[Gene]) -> Fraction:
    """Chance that a member has a copy of every one of these alleles."""
    at = [each.id for each in truth.asked[0].members].index(member)
    whole = Fraction(0)
    for _, chance, found in truth.by_choice:
        weight = chance
        for number, assignments in enumerate(found):
            own = [gene for gene in genes if gene[0] == number]
            weight *= sum(
                (part for genotypes, part in assignments.items()
                 if all(name in genotypes[at][place] for _, place, name in own)), Fraction(0)
            )  # fmt: skip
        whole += weight
    return whole / truth.total


def truth_of(asked: Asked) -> Truth:
    return Truth([unit.question for unit in asked.evidence.units])


STATED = st.dictionaries(st.sampled_from(("amel", "left", "right", "mot")), st.sampled_from(("50%", "66%", "certain")))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data(), st.sampled_from(("s", "s t")), st.booleans())
def test_every_two_hidden_genes(data: st.DataObject, sires: str, mixed: bool) -> None:
    seen = {name: {"shows": data.draw(st.sampled_from((None, "", "", "amel", "mot")))} for name in ("01", "02")}
    founders = [animal(name, shows="", stated=data.draw(STATED), sex=sex)
                for name, sex in (("d", Sex.FEMALE), ("s", Sex.MALE), ("t", Sex.MALE))]  # fmt: skip
    asked = asked_of(KIND, *founders, litter("L", "d", sires, seen, mixed=mixed and " " in sires))
    truth = truth_of(asked)
    if not truth.total:
        return
    for each in asked.evidence.collection.animals.values():
        told = {frozenset((one.first.allele, one.second.allele)): one for one in together(asked, each)
                if one.first.copies == one.second.copies == 1}  # fmt: skip
        event(f"{len(told)} told")
        for first, second in combinations(GENES, 2):
            alone = [carrying(truth, each.id, [GENES[name]]) for name in (first, second)]
            both = carrying(truth, each.id, [GENES[first], GENES[second]])
            one = told.get(frozenset((first, second)))
            assert (one is not None) == (both != alone[0] * alone[1])
            if one is not None:
                assert (one.both, [one.first.chance, one.second.chance]) == (both, alone)


def test_two_sires_of_whom_each_carries_one_gene() -> None:
    """A young of a plain dam carries each gene in 1/2 x 1/2, and never both: it has one sire."""
    asked = asked_of(
        species(recessive("anery"), recessive("charcoal")),
        animal("d", shows="", sex=Sex.FEMALE),
        animal("s", shows="", stated={"anery": "certain"}),
        animal("t", shows="", stated={"charcoal": "certain"}),
        litter("L", "d", "s t", {"01": {"shows": ""}}),
    )
    (found,) = together(asked, asked.evidence.collection.animals["L/01"])
    assert (found.first.chance, found.second.chance, found.both) == (Fraction(1, 4), Fraction(1, 4), 0)
    assert found.tie is Tie.SIRE
    assert found.matters


def test_linked_genes_of_one_chromosome() -> None:
    """The sire has both on one chromosome, which parts in 1 of 10: young have both in 1/2 x 9/10."""
    asked = asked_of(
        KIND,
        animal("d", shows="", sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE, haplotypes=[{"left": "left", "right": "right"}],
               stated={"left": "certain", "right": "certain"}),
        animal("y", dam="d", sire="s", shows=""),
    )  # fmt: skip
    (found,) = together(asked, asked.evidence.collection.animals["y"])
    assert (found.both, found.tie) == (Fraction(9, 20), Tie.LINKED)


def test_two_alleles_of_one_locus() -> None:
    """A young of a compound dam has one of her two alleles, and never both."""
    asked = asked_of(
        KIND,
        animal("d", stated={"ms": {"mot/str": Fraction(1)}}, sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE),
        animal("y", dam="d", sire="s", shows=""),
    )
    (found,) = together(asked, asked.evidence.collection.animals["y"])
    assert (found.both, found.tie) == (0, Tie.ALLELES)
    assert not together(asked, asked.evidence.collection.animals["d"])


def test_the_machine_form() -> None:
    """Both young are of one sire, so both carry or none does; a locus of several alleles is told by allele."""
    asked = asked_of(
        species(recessive("anery"), recessive("charcoal")),
        animal("d", shows="", sex=Sex.FEMALE),
        animal("s", shows="anery"),
        animal("t", shows="", stated={"charcoal": "certain"}),
        litter("L", "d", "s t", {"01": {"shows": ""}, "02": {"shows": ""}}),
    )
    of_each = [{"carries": ["anery", "charcoal"], "p": "0"}]
    assert joint_json(asked.evidence.collection, joints_of(asked)) == {
        "joint": {"L/01": of_each, "L/02": of_each},
        "littermates": {
            "L": {
                "anery": {"young": ["01", "02"], "counts": ["1/2", "0", "1/2"]},
                "charcoal": {"young": ["01", "02"], "counts": ["5/8", "1/4", "1/8"]},
            }
        },
    }


def test_the_litter_of_two_sires_of_the_demonstration() -> None:
    """Slate shows charcoal and carries amel in 1 of 2 cases, Chalk carries anery and is tested free of amel.

    The eight young of the visual dam do not show amel: always of Chalk, of Slate in 1/2 + 1/2 x 1/2^8.
    """
    known, _ = read_known(CONTENT)
    assert known is not None
    found = joint_json(known.collection, joints_of(known.asked))
    chalk, slate = Fraction(1), Fraction(1, 2) + Fraction(1, 2) * Fraction(1, 2) ** 8
    anery = [chalk * Fraction(comb(6, k), 2**6) + (slate if k == 0 else 0) for k in range(7)]
    charcoal = [chalk, *[Fraction(0)] * 5, slate]
    of_each = [{"carries": ["anery", "charcoal"], "p": "0"}]
    assert found["joint"] == {f"{LITTER}/{n:02}": of_each for n in range(1, 7)}
    assert found["littermates"][LITTER] == {  # type: ignore[index]
        gene: {"young": [f"{n:02}" for n in range(1, 7)], "counts": [str(part / (slate + chalk)) for part in parts]}
        for gene, parts in (("anery", anery), ("charcoal", charcoal))
    }
