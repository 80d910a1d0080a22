from sitegen.findings import Finding, Kind, Level, Place, has_errors, in_order, nearest


def finding(file: str, line: int, level: Level = Level.ERROR) -> Finding:
    return Finding(level, Kind.KEY_UNKNOWN, Place(file, line, 1), "x")


def test_nearest_offers_a_close_spelling_and_nothing_else() -> None:
    assert nearest("amle", ["anery", "amel"]) == "amel"
    assert nearest("Amel", ["amel"]) == "amel"
    assert nearest("zebra", ["amel", "anery"]) == ""


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
