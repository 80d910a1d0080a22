"""The papers of the demonstration: the file beside each keeps to its schema and says what the page says."""

import json
from html import unescape
from pathlib import Path

import jsonschema
import pytest

from sitegen.site.paper_facts import record_version
from sitegen.site.schema import paper_schema


@pytest.fixture(scope="module")
def papers(demo: Path) -> dict[Path, dict[str, object]]:
    found = {path: json.loads(path.read_text("utf-8")) for path in sorted(demo.rglob("*-paper.json"))}
    assert len(found) > 10
    return found


def test_every_file_keeps_to_the_schema_and_carries_its_own_version(papers: dict[Path, dict[str, object]]) -> None:
    validator = jsonschema.Draft202012Validator(paper_schema())
    for path, facts in papers.items():
        validator.validate(facts)
        assert facts["record"] == record_version(facts), path


def test_page_and_file_state_the_same_claims_of_the_same_version(papers: dict[Path, dict[str, object]]) -> None:
    for path, facts in papers.items():
        html = unescape(path.with_suffix(".html").read_text("utf-8"))
        assert str(facts["record"]) in html
        for claim in facts["claims"]:  # type: ignore[attr-defined]
            assert claim["words"] in html, path
            assert all(reason in html for reason in claim["reasons"]), path
        assert all(caution in html for caution in facts["cautions"]), path  # type: ignore[attr-defined]


def test_no_two_animals_have_the_same_version(papers: dict[Path, dict[str, object]]) -> None:
    versions = [facts["record"] for facts in papers.values()]
    assert len(versions) == len(set(versions))


def test_no_paper_carries_a_private_word(papers: dict[Path, dict[str, object]]) -> None:
    for path in papers:
        assert "zq-private" not in path.read_text("utf-8")
        assert "zq-private" not in path.with_suffix(".html").read_text("utf-8")
