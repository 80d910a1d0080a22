import pytest

from sitegen.findings import Finding, Kind, Level, Place, has_errors, in_order, nearest


def finding(file: str, line: int, level: Level = Level.ERROR) -> Finding:
    return Finding(level, Kind.KEY_UNKNOWN, Place(file, line, 1), "x")


def test_nearest_offers_a_close_spelling_and_nothing_else() -> None:
    assert nearest("amle", ["anery", "amel"]) == "amel"
    assert nearest("Amel", ["amel"]) == "amel"
    assert nearest("zebra", ["amel", "anery"]) == ""
    assert nearest("Junipr", ["Juniper", "Flint"]) == "Juniper"
    assert nearest("incomplete-dominent", ["dominant", "incomplete_dominant"]) == "incomplete_dominant"
    assert nearest("2025-juniper-flnt", ["2025-juniper-flint", "2026-flint"]) == "2025-juniper-flint"


@pytest.mark.parametrize(
    ("typed", "known"),
    [
        ("normal", "opal"), ("het amel", "amel"), ("amel anery", "amel"), ("amel anery", "anery"),
        ("for sale", "not for sale"), ("no for sale", "not for sale"), ("now for sale", "not for sale"),
        ("hatched", "stated"), ("uncertain", "certain"), ("unavailable", "available"), ("melanistic", "amelanistic"),
        ("xanthic", "axanthic"), ("super glass", "glass"), ("possible het", "het"), ("hot", "het"), ("non", "none"),
        ("hypermelanistic", "hypomelanistic"), ("8 months", "18 months"), ("2025-juniper", "2026-juniper"),
        ("2024-05-01.jpg", "2024-05-02.jpg"), ("+/+", "+/amel"), ("amel", "+/amel"), ("amel/amel", "+/amel"),
        ("one", "two"), ("both", "unknown"), ("typo", "hypo"), ("sure", "sire"), ("x" * 102, "x" * 101),
    ],
)  # fmt: skip
def test_nearest_never_offers_another_meaning(typed: str, known: str) -> None:
    assert nearest(typed, [known]) == ""
    assert nearest(known, [typed]) == ""


def test_nearest_offers_nothing_where_two_are_as_near() -> None:
    assert nearest("agatte", ["agatha", "agate", "agattes"]) == ""


def test_findings_are_told_once_and_in_the_order_of_the_files() -> None:
    late, early = finding("b.yaml", 2), finding("a.yaml", 9)
    assert in_order([late, early, late]) == (early, late)


def test_the_gravest_come_first_by_file_and_within_a_file() -> None:
    calm, mild, grave = finding("a", 1, Level.NOTICE), finding("b", 1, Level.NOTICE), finding("b", 7)
    nowhere = Finding(Level.NOTICE, Kind.KEY_UNKNOWN, None, "x")
    assert in_order([calm, mild, grave, nowhere]) == (nowhere, grave, mild, calm)


def test_a_place_without_a_line_is_the_file() -> None:
    assert str(Place("a.yaml")) == "a.yaml"
    assert str(Place("a.yaml", 3, 7)) == "a.yaml:3:7"


def test_notices_are_not_errors() -> None:
    assert not has_errors([finding("a", 1, Level.NOTICE)])
    assert has_errors([finding("a", 1, Level.NOTICE), finding("a", 1)])


def test_the_hint_is_one_line_of_what_was_expected_and_what_to_do() -> None:
    told = Finding(Level.ERROR, Kind.GENE_UNKNOWN, None, "m", expected="a look", nearest="amel", remedy='write "amel"')
    assert told.hint == 'expected a look; nearest: amel; write "amel"'
