"""The machine form of all answers."""

from helpers.by_hand import allele, animal, collection, dominant, litter, locus, recessive, species

from sitegen.evidence.answers import answers, why_all_json
from sitegen.genetics.loci import Sex, SexSystem


def test_every_part_of_the_form() -> None:
    kept = collection(
        species(recessive("amel"), recessive("hypo"), sexes=SexSystem.ZW),
        animal("juniper", shows="amel", stated={"hypo": "66%"}, sex=Sex.FEMALE),
        animal("flint", shows="", stated={"amel": "50%"}, sex=Sex.MALE),
        animal("basalt", shows="", stated={"amel": "50%"}, sex=Sex.MALE),
        litter("2026", "juniper", "flint basalt", {"01": {}}),
        animal("wrong", shows="hypo", tests={"hypo": "+/+"}),
    )
    found = why_all_json(kept, answers(kept))
    assert found == {
        "animals": {
            "juniper": {"amel": {"amel/amel": "1"}, "hypo": {"+/+": "1/3", "+/hypo": "2/3"}},
            "flint": {"amel": {"+/+": "1/2", "+/amel": "1/2"}, "hypo": {"+/+": "1"}},
            "basalt": {"amel": {"+/+": "1/2", "+/amel": "1/2"}, "hypo": {"+/+": "1"}},
            "wrong": {"amel": {"+/+": "1"}},
            "2026/01": {
                "amel": {"+/amel": "3/4", "amel/amel": "1/4"},
                "hypo": {"+/+": "2/3", "+/hypo": "1/3"},
            },
        },
        "sires": {"2026": {"flint": "1/2", "basalt": "1/2"}},
        "inbreeding": {"juniper": "0", "flint": "0", "basalt": "0", "wrong": "0", "2026/01": "0"},
        "possible": {
            "juniper": {"amel": ["amel/amel"], "hypo": ["+/+", "+/hypo"]},
            "flint": {"amel": ["+/+", "+/amel"], "hypo": ["+/+", "+/hypo"]},
            "basalt": {"amel": ["+/+", "+/amel"], "hypo": ["+/+", "+/hypo"]},
            "wrong": {"amel": ["+/+", "+/amel"]},
            "2026/01": {"amel": ["+/amel", "amel/amel"], "hypo": ["+/+", "+/hypo", "hypo/hypo"]},
        },
        "possible_sires": {"2026": ["flint", "basalt"]},
        "surprises": [],
        "strained": [],
        "contradictions": [
            {
                "species": "snake",
                "loci": ["hypo"],
                "records": [
                    {"file": "animals/wrong/animal.yaml", "line": 5, "column": 9, "says": "wrong shows hypo"},
                    {
                        "file": "animals/wrong/animal.yaml",
                        "line": 7,
                        "column": 5,
                        "says": "wrong is DNA-tested as not carrying hypo",
                    },
                ],
            }
        ],
        "too_tangled": [],
    }


def test_genotypes_stand_in_the_order_of_the_species_file() -> None:
    series = locus("ms", allele("stripe"), allele("motley"))
    kept = collection(
        species(series, dominant("tess")),
        animal("d", stated={"stripe": "certain", "motley": "50%"}),
        animal("s", stated={"motley": "certain"}),
        animal("a", dam="d", sire="s"),
    )
    written = why_all_json(kept, answers(kept))["animals"]
    assert isinstance(written, dict)
    assert list(written["a"]["ms"]) == ["+/+", "+/stripe", "+/motley", "stripe/motley", "motley/motley"]


def test_one_copy_is_written_with_the_missing_chromosome() -> None:
    banded = locus("banded", allele("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    kept = collection(
        species(banded, sexes=SexSystem.ZW),
        animal("d", shows="banded", sex=Sex.FEMALE),
        animal("s", shows="", sex=Sex.MALE),
        litter("x", "d", "s", {"f": {"sex": Sex.FEMALE}, "m": {"sex": Sex.MALE}}),
    )
    written = why_all_json(kept, answers(kept))["animals"]
    assert isinstance(written, dict)
    assert [written[name]["banded"] for name in ("d", "s", "x/f", "x/m")] == [
        {"banded/W": "1"},
        {"+/+": "1"},
        {"+/W": "1"},
        {"+/banded": "1"},
    ]
