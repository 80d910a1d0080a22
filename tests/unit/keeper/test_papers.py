"""The file beside a buyer's paper is read whole and unchanged, or not at all."""

import json
from pathlib import Path

import pytest

from sitegen.findings import ContentError, Kind
from sitegen.keeper.papers import MAX_BYTES, read_paper
from sitegen.site.paper_facts import record_version


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"", Kind.FILE_UNREADABLE),
        (b'{"format": "sitegen paper",', Kind.FILE_UNREADABLE),
        (b"[" * 100_000, Kind.FILE_UNREADABLE),
        (b'{"version": NaN}', Kind.FILE_UNREADABLE),
        (b"9" * 200_000, Kind.FILE_UNREADABLE),
        (b"\xff\xfe\x00", Kind.FILE_UNREADABLE),
        (b"[]", Kind.VALUE_WRONG),
        (b'{"format": "sitegen paper"}', Kind.VALUE_WRONG),
        (b'{"format": "sitegen paper", "version": 1, "record": "\\ud800"}', Kind.VALUE_WRONG),
        (b'{"format": "sitegen paper", "version": 1, "animal": "\\ud800"}', Kind.VALUE_WRONG),
        (b" " * (MAX_BYTES + 1), Kind.FILE_TOO_LARGE),
    ],
)
def test_what_is_no_paper_is_told(content: bytes, kind: Kind) -> None:
    with pytest.raises(ContentError) as refused:
        read_paper(content, "paper.json")
    findings = refused.value.findings
    assert [finding.kind for finding in findings] == [kind]
    assert findings[0].expected
    assert findings[0].remedy


def test_a_paper_is_read_with_the_places_of_its_words(demo: Path) -> None:
    content = (demo / "litters/2025-juniper-obsidian/02-paper.json").read_bytes()
    paper = read_paper(content, "paper.json")
    facts = json.loads(content)
    assert (paper.form.animal.id, paper.form.record) == (facts["animal"]["id"], facts["record"])
    place, width = paper.place(facts["claims"][0]["gene"])
    line = content.decode().splitlines()[place.line - 1]
    assert line[place.column - 1 : place.column - 1 + width] == json.dumps(facts["claims"][0]["gene"])


@pytest.mark.parametrize(
    ("part", "value", "told"),
    [
        (("animal", "id"), "", "empty"), (("animal", "id"), 7, "animal.id: "),
        (("animal", "sex"), "both", "animal.sex: "), (("animal", "born"), 2021, "animal.born: "),
        (("claims",), {}, "claims: "), (("claims", 0, "genotypes"), {"+/+": 1}, "claims.0.genotypes: "),
        (("shows", "judged"), "yes", "shows.judged: "), (("breeder",), None, "breeder: "),
    ],
)  # fmt: skip
def test_a_part_of_another_shape_is_told_with_the_way_to_it(
    part: tuple[str | int, ...], value: object, told: str, demo: Path
) -> None:
    facts = json.loads((demo / "litters/2025-juniper-obsidian/02-paper.json").read_bytes())
    *above, last = part
    held = facts
    for key in above:
        held = held[key]
    held[last] = value
    facts["record"] = record_version(facts)
    with pytest.raises(ContentError) as refused:
        read_paper(json.dumps(facts).encode(), "paper.json")
    (finding,) = refused.value.findings
    assert (finding.kind, told in finding.message) == (Kind.VALUE_WRONG, True), finding.message
