from fractions import Fraction

import pytest
from helpers.from_text import CORN, bound

from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.keeper.labels import Label, LabelReader

READER = LabelReader(bound(CORN).species["corn-snake"], {"Albino": "amel", "Red Alb": "amel het anery"})
THIRD, HALF = Fraction(1, 3), Fraction(1, 2)


def read(text: str, *, hets: bool = False) -> Label:
    label = READER.read(text, hets=hets)
    assert label.faults == [], text
    return label


def carried(label: Label) -> dict[str, Fraction | None]:
    return {each.allele: each.chance for each in label.carried}


@pytest.mark.parametrize(
    ("text", "shows", "carries"),
    [
        ("Snow het hypo 66% het caramel", ["snow"], {"hypo": 1, "caramel": 2 * THIRD}),
        ("snow HET hypo, 33 % HET caramel", ["snow"], {"hypo": 1, "caramel": THIRD}),
        ("50% het amel", [], {"amel": HALF}),
        ("1/4 het amel", [], {"amel": Fraction(1, 4)}),
        ("100% het amel", [], {"amel": 1}),
        ("het for hypo, caramel", [], {"hypo": 1, "caramel": 1}),
        ("het for hypo & caramel and amel", [], {"hypo": 1, "caramel": 1, "amel": 1}),
        ("66% het hypo caramel", [], {"hypo": 2 * THIRD, "caramel": 2 * THIRD}),
        ("pos het hypo", [], {"hypo": None}),
        ("Amelanistic poss. het hypo", ["amel"], {"hypo": None}),
        ("ph hypo", [], {"hypo": None}),
        ("66% ph hypo", [], {"hypo": 2 * THIRD}),
        ("50% possible het hypo", [], {"hypo": HALF}),
        ("dh hypo caramel", [], {"hypo": 1, "caramel": 1}),
        ("double het snow", [], {"amel": 1, "anery": 1}),
        ("triple het amel, hypo, caramel", [], {"amel": 1, "hypo": 1, "caramel": 1}),
        ("het snow", [], {"amel": 1, "anery": 1}),
        ("Amel (66% het hypo)", ["amel"], {"hypo": 2 * THIRD}),
        ("het hypo (66%), caramel", [], {"hypo": 2 * THIRD, "caramel": 1}),
        ("Striped Motley het hypo", ["striped-motley"], {"hypo": 1}),
        ("motley/stripe", ["striped-motley"], {}),
        ("Super Palmetto", ["super-palmetto"], {}),
        ("palmetto amel", ["palmetto", "amel"], {}),
        ("homo amel", ["amel"], {}),
        ("visual amel het hypo visual motley", ["amel", "motley"], {"hypo": 1}),
        ("Albino het anery", ["amel"], {"anery": 1}),
        ("Red Alb", ["amel"], {"anery": 1}),
        ("tessera no hets", ["tessera"], {}),
    ],
)
def test_shorthand_is_read_to_its_last_word(text: str, shows: list[str], carries: dict[str, Fraction | None]) -> None:
    label = read(text)
    assert (shows, carries) == (label.shows, carried(label))
    assert bool(shows) == label.judged


def test_a_number_belongs_to_the_gene_that_follows_it_not_to_the_one_before() -> None:
    assert {"hypo": Fraction(1), "caramel": 2 * THIRD} == carried(read("het hypo 66% het caramel"))


@pytest.mark.parametrize("text", ["normal", "Wild type", "classic het amel"])
def test_normal_says_that_nothing_is_seen(text: str) -> None:
    label = read(text)
    assert (label.shows, label.judged, label.normal) == ([], True, True)


def test_hets_alone_judge_nothing_by_eye() -> None:
    assert not read("het hypo").judged


def test_a_dominant_gene_said_to_be_super_is_seen_and_had_twice() -> None:
    label = read("super tessera")
    assert ["tessera"] == label.shows
    ((allele, copies),) = [(each.allele, each.copies) for each in label.carried]
    assert ("tessera", 2) == (allele, copies)


@pytest.mark.parametrize(
    ("text", "sex", "born"),
    [
        ("0.1 Snow CB21", Sex.FEMALE, PartialDate(2021)),
        ("1.0 amel CBB 2019", Sex.MALE, PartialDate(2019)),
        ("0.0.1 amel c.b. 98", Sex.UNKNOWN, PartialDate(1998)),
        ("male amel hatched 2021-07-14", Sex.MALE, PartialDate(2021, 7, 14)),
        ("Female amel CB'21", Sex.FEMALE, PartialDate(2021)),
    ],
)
def test_sex_and_birth_may_stand_in_a_label(text: str, sex: Sex, born: PartialDate) -> None:
    label = read(text)
    assert ([sex], [born]) == (label.sexes, label.born)


def test_under_a_heading_of_hets_a_gene_is_carried_without_the_word() -> None:
    label = read("hypo, 66% caramel", hets=True)
    assert {"hypo": 1, "caramel": 2 * THIRD} == carried(label)
    assert label.shows == []


@pytest.mark.parametrize(
    ("text", "told", "near"),
    [
        ("Snow het hyppo", '"hyppo" is not understood', "hypo"),
        ("amle", '"amle" is not understood', "amel"),
        ("norml", '"norml" is not understood', "normal"),
        ("opal", '"opal" is not understood', ""),
        ("50/50 het amel", "is no chance", "1/2"),
        ("1/1 het amel", "is no chance", ""),
        ("amel x anery", '"x" is not understood', ""),
        ("amel or anery", '"or" is not understood', ""),
        ("not amel", '"not" is not understood', ""),
        ("het hypo?", '"?" is not understood', ""),
        ("66% hypo", "stands without het", ""),
        ("hypo 66%", '"66%" is not understood', ""),
        ("het", "no gene stands after het", ""),
        ("66% het, amel het", "no gene stands after het", ""),
        ("super", "no gene stands after super", ""),
        ("dh amel", "2 genes were announced, and 1 follow", ""),
        ("TH amel anery", "3 genes were announced, and 2 follow", ""),
        ("het tessera", "shows with one copy", ""),
        ("het palmetto", "shows with one copy", ""),
        ("super amel", "is not a look", ""),
        ("0% het amel", "is no chance", ""),
        ("150% het amel", "is no chance", ""),
        ("50-66% het amel", "is not understood", ""),
        ("1.2 amel", "stands for 3 animals", ""),
        ("0.0 amel", "stands for 0 animals", ""),
        ("normal amel", "cannot both be", ""),
        ("het amel 50% het amel", "two things of amel", ""),
        ("CB 2300 amel", "names no day of birth", ""),
        ("amel " * 100, "is not read", ""),
    ],
)
def test_what_is_not_understood_is_told_with_the_nearest_gene(text: str, told: str, near: str) -> None:
    faults = READER.read(text).faults
    assert any(told in fault.message for fault in faults), faults
    assert any(near in fault.nearest for fault in faults)


def test_every_word_is_accounted_for() -> None:
    """Any word put anywhere into a sound label makes it unsound."""
    words = ["Snow", "het", "hypo", "66%", "het", "caramel"]
    for at in range(len(words) + 1):
        text = " ".join([*words[:at], "zork", *words[at:]])
        assert any("zork" in fault.message for fault in READER.read(text).faults), text
