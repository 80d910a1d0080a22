"""A buyer's paper becomes the first record of a later keeper, with the same exact odds; or says why it cannot."""

import json
import shutil
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from sitegen.app.commands import main
from sitegen.content.animals import Animal
from sitegen.content.collection import latest_date
from sitegen.content.writing import write
from sitegen.evidence.answers import read_known
from sitegen.evidence.claims import claims_of
from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.findings import ContentError, Finding, Kind, Level, WrongUse, has_errors
from sitegen.genetics.loci import genotype_text
from sitegen.keeper.from_paper import add_from_paper
from sitegen.keeper.new_records import animal_values
from sitegen.keeper.papers import read_paper
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Proposal, open_records
from sitegen.site.paper_facts import record_version

REPOSITORY = Path(__file__).parent.parent.parent.parent

Edit = Callable[[dict[str, Any]], None]


@pytest.fixture
def keeper(tmp_path: Path) -> Path:
    """The content folder of a later keeper, with the same species files and no animal."""
    content = tmp_path / "content"
    shutil.copytree(REPOSITORY / "content" / "species", content / "species")
    (content / "site.yaml").write_text("name: Later\ncurrency: GBP\n", encoding="utf-8")
    return content


@pytest.fixture(scope="module")
def hypo_paper(demo: Path) -> dict[str, Any]:
    """A paper with a look, two certain genes and two doubtful ones."""
    found: dict[str, Any] = json.loads((demo / "litters/2025-juniper-obsidian/02-paper.json").read_text("utf-8"))
    return found


def as_file(facts: dict[str, Any], edit: Edit | None = None, *, signed: bool = True) -> bytes:
    """The paper after an edit, with the record version that belongs to it unless it is to be found out."""
    edited = json.loads(json.dumps(facts))
    if edit:
        edit(edited)
    if signed:
        edited["record"] = record_version(edited)
    return json.dumps(edited, ensure_ascii=False, indent=2).encode("utf-8")


def taken(content: Path, paper: bytes, noted: Mapping[str, Value] | None = None, **said: str) -> Proposal:
    change = add_from_paper(open_records(content), read_paper(paper, "paper.json"), noted or {}, **said)
    write(content, change.files)
    return change


def refused(content: Path, paper: bytes, noted: Mapping[str, Value] | None = None, **said: str) -> tuple[Finding, ...]:
    """The findings; nothing may have been written."""
    before = sorted(content.rglob("*"))
    with pytest.raises(ContentError) as error:
        taken(content, paper, noted, **said)
    assert sorted(content.rglob("*")) == before
    return error.value.findings


def odds_of(content: Path, animal: str) -> dict[str, dict[str, Fraction]]:
    known, findings = read_known(content)
    assert known is not None
    assert not has_errors(findings)
    posteriors = known.answers.posteriors[animal]
    return {locus: {genotype_text(g): c for g, c in odds.items() if c} for locus, odds in posteriors.items()}


def animal_of(content: Path, animal: str) -> Animal:
    known, _ = read_known(content)
    assert known is not None
    return known.collection.animals[animal]


def test_every_claim_of_every_paper_has_the_same_odds_at_the_later_keepers(keeper: Path, demo: Path) -> None:
    stated: dict[str, list[dict[str, Any]]] = {}
    for rank, file in enumerate(sorted(demo.rglob("*-paper.json"))):
        change = taken(keeper, file.read_bytes(), said_id=f"animal-{rank}")
        assert change.told.endswith("now."), "no odds differ"
        stated[f"animal-{rank}"] = json.loads(file.read_text("utf-8"))["claims"]
    assert sum(len(claims) for claims in stated.values()) > 100
    for animal, claims in stated.items():
        found = odds_of(keeper, animal)
        for claim in claims:
            assert found[claim["locus"]] == {g: Fraction(c) for g, c in claim["genotypes"].items()}, (animal, claim)


def test_who_it_is_and_where_it_is_from(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    taken(keeper, as_file(hypo_paper), {"acquired": {"date": "2026-11-02"}}, name="Hazel")
    hazel = animal_of(keeper, "hazel")
    assert (hazel.name, hazel.species, hazel.sex, str(hazel.born)) == ("Hazel", "corn-snake", "female", "2025-07-14")
    assert hazel.acquired is not None
    assert (str(hazel.acquired.date), hazel.acquired.source) == ("2026-11-02", "a previous keeper")
    assert odds_of(keeper, "hazel")["hypo"] == {"+/+": Fraction(1, 3), "+/hypo": Fraction(2, 3)}
    record = (keeper / "animals/hazel/animal.yaml").read_text("utf-8")
    published = [line for line in record.partition("private:")[0].splitlines() if not line.startswith("#")]
    assert "Quillmoor" not in "".join(published)
    private = record.partition("private:")[2]
    assert {word for word in (hypo_paper["record"], hypo_paper["date"], "Quillmoor Snakes") if word in private} == {
        hypo_paper["record"], hypo_paper["date"], "Quillmoor Snakes",
    }  # fmt: skip
    assert "Both parents carry it for certain" in " ".join(record.replace("#  ", "").split())
    assert "by the breeder's own records" in record


def test_what_is_said_besides_overrides_the_paper(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    more = {"born": "2025-07", "line": "Old"}
    noted = animal_values(stated=["hypo=certain"], acquired={"date": "2026-11", "from": "a friend"}, **more)
    taken(keeper, as_file(hypo_paper), noted, said_id="own")
    own = animal_of(keeper, "own")
    assert own.name == hypo_paper["animal"]["name"]
    assert (str(own.born), own.line) == ("2025-07", "Old")
    assert own.acquired is not None
    assert (str(own.acquired.date), own.acquired.source) == ("2026-11", "a friend")
    odds = odds_of(keeper, "own")
    assert odds["hypo"] == {"+/hypo": Fraction(1)}
    assert odds["caramel"] == {"+/+": Fraction(1, 2), "+/caramel": Fraction(1, 2)}


def test_genes_are_found_by_allele_where_the_locus_has_another_name(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    def rename(facts: dict[str, Any]) -> None:
        for claim in facts["claims"]:
            claim["locus"] = {"hypo": "their-own-word"}.get(claim["locus"], claim["locus"])

    taken(keeper, as_file(hypo_paper, rename), said_id="it")
    assert odds_of(keeper, "it")["hypo"] == {"+/+": Fraction(1, 3), "+/hypo": Fraction(2, 3)}


def test_a_species_is_found_by_its_scientific_name(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    (keeper / "species/corn-snake.yaml").rename(keeper / "species/red-rat-snake.yaml")
    taken(keeper, as_file(hypo_paper), said_id="it")
    assert animal_of(keeper, "it").species == "red-rat-snake"


def _set(*path: str | int, to: object) -> Edit:
    def edit(facts: dict[str, Any]) -> None:
        at: Any = facts
        for key in path[:-1]:
            at = at[key]
        at[path[-1]] = to

    return edit


def _misspelt(facts: dict[str, Any]) -> None:
    claim = next(claim for claim in facts["claims"] if claim["locus"] == "hypo")
    claim |= {"locus": "hyppo", "allele": "hyppo", "gene": "hyppo", "genotypes": {"+/hyppo": "1"}}


def _of_another_kind(facts: dict[str, Any]) -> None:
    facts["animal"]["species"] = {"id": "corn-snke", "name": "corn snke", "scientific": None}


@pytest.mark.parametrize(
    ("edit", "kind", "said"),
    [
        (_set("version", to=2), Kind.VALUE_WRONG, "this paper has version 2; this program reads version 1"),
        (_set("version", to="1"), Kind.VALUE_WRONG, "no version that is known"),
        (_set("format", to="other"), Kind.VALUE_WRONG, "not the file of a buyer's paper"),
        (_set("animal", to={}), Kind.KEY_MISSING, "animal.name is missing"),
        (_set("claims", 0, "kind", to="surely"), Kind.VALUE_WRONG, "claims.0.kind"),
        (_set("claims", 3, "genotypes", "+/hypo", to="1/2"), Kind.ODDS_WRONG, "the odds for hypo sum to 5/6"),
        (_set("claims", 3, "genotypes", "+/hypo", to="some"), Kind.ODDS_WRONG, '"some" is not a chance'),
        (_set("claims", 3, "genotypes", to={"+/hyppo": "1"}), Kind.GENE_UNKNOWN, '"+/hyppo" is not a genotype'),
        (_set("claims", 3, "locus", to="anery"), Kind.GENE_UNKNOWN, '"hypo" is a gene of hypo here'),
        (_set("shows", "looks", 0, to={"look": "motly", "name": "motly", "locus": "x"}), Kind.GENE_UNKNOWN, "motly"),
        (_set("animal", "species", "scientific", to="Vipera berus"), Kind.SPECIES_CLASH, "another scientific name"),
        (_set("animal", "born", to="soon"), Kind.VALUE_WRONG, "soon"),
        (_misspelt, Kind.GENE_UNKNOWN, 'corn snake has no gene "hyppo"'),
        (_of_another_kind, Kind.SPECIES_UNKNOWN, 'there is no species "corn snke"'),
    ],
)
def test_what_cannot_be_taken_over_is_told_and_nothing_is_written(
    edit: Edit, kind: Kind, said: str, keeper: Path, hypo_paper: dict[str, Any]
) -> None:
    findings = refused(keeper, as_file(hypo_paper, edit))
    assert [finding for finding in findings if finding.kind is kind and said in finding.message], findings


def test_an_unknown_gene_is_told_with_its_line_and_the_nearest(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    paper = as_file(hypo_paper, _misspelt)
    first = refused(keeper, paper)[0]
    assert first.nearest == "hypo"
    assert first.place is not None
    line = paper.decode().splitlines()[first.place.line - 1]
    assert line[first.place.column - 1 :].startswith('"hyppo"')


def test_a_paper_that_was_changed_is_told(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    changed = as_file(hypo_paper, _set("claims", 3, "genotypes", to={"+/hypo": "1"}), signed=False)
    assert "changed after it was made" in refused(keeper, changed)[0].message


def test_an_animal_of_that_name_stays_as_it_is(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    taken(keeper, as_file(hypo_paper), name="Hazel")
    before = (keeper / "animals/hazel/animal.yaml").read_bytes()
    with pytest.raises(WrongUse, match="stands there already"):
        taken(keeper, as_file(hypo_paper), name="Hazel")
    assert (keeper / "animals/hazel/animal.yaml").read_bytes() == before


PARENT = "species: corn-snake\nsex: {sex}\nborn: 2020-06-01\nshows: {shows}\n"


def parent(content: Path, name: str, sex: str, shows: str) -> None:
    (content / "animals" / name).mkdir(parents=True)
    (content / "animals" / name / "animal.yaml").write_text(PARENT.format(sex=sex, shows=shows), encoding="utf-8")


def test_records_that_cannot_be_true_beside_the_paper_are_told(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    """Its look takes a copy from each parent, and this dam was looked at, shows it not and was said to have none."""
    parent(keeper, "plain", "female", "[]")
    findings = refused(keeper, as_file(hypo_paper), {"dam": "plain"}, name="Hazel")
    assert {finding.kind for finding in findings if finding.level is Level.ERROR} == {Kind.CONTRADICTION}


def test_odds_that_our_records_rule_out_are_told(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    """A dam that shows anery gives every young a copy; the paper is made to say that there is none."""
    parent(keeper, "ash", "female", "[anery, motley]")
    parent(keeper, "elm", "male", "[motley]")
    edit = _set("claims", 2, to={**hypo_paper["claims"][2], "genotypes": {"+/+": "1"}})
    findings = refused(keeper, as_file(hypo_paper, edit), {"dam": "ash", "sire": "elm"}, name="Hazel")
    told = "the paper states +/+: 1 for anery, and your records leave only +/anery: 1"
    assert [f.message for f in findings if f.kind is Kind.CONTRADICTION and "anery" in f.message] == [told]


def test_odds_that_our_records_move_are_named(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    parent(keeper, "ash", "female", "[amel, anery, motley, hypo]")
    parent(keeper, "elm", "male", "[motley]")
    change = taken(keeper, as_file(hypo_paper), {"dam": "ash", "sire": "elm"}, name="Hazel")
    assert "other odds than the paper for hypo, caramel" in change.told


def test_not_seeing_what_the_odds_have_counted_does_not_count_twice(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    """As of a gene that is not always seen: the breeder looked, saw nothing, and the odds hold that already."""
    odds = {"+/+": "3/8", "+/hypo": "4/8", "hypo/hypo": "1/8"}
    taken(keeper, as_file(hypo_paper, _set("claims", 3, "genotypes", to=odds)), said_id="it")
    assert odds_of(keeper, "it")["hypo"] == {genotype: Fraction(chance) for genotype, chance in odds.items()}
    assert "unsure: [hypo]" in (keeper / "animals/it/animal.yaml").read_text("utf-8")


def test_on_the_later_keepers_site_it_is_a_previous_keepers_word(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    taken(keeper, as_file(hypo_paper), said_id="it")
    known, _ = read_known(keeper)
    assert known is not None
    as_of = latest_date(known.collection)
    claims = claims_of(known.collection, known.answers, partial(reasons, known.asked), as_of)["it"]
    bases = {claim.locus: claim.basis for claim in claims if claim.kind is not ClaimKind.SHOWS}
    assert bases == dict.fromkeys(("amel-ultra", "anery", "hypo", "caramel"), Basis.PREVIOUS_KEEPER)


def test_the_command_shows_it_and_then_writes_it(
    keeper: Path, hypo_paper: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    file = keeper.parent / "02-paper.json"
    file.write_bytes(as_file(hypo_paper))
    words = ["add", "animal", "Hazel", "--content", str(keeper), "--from-paper", str(file), "--on", "2026-11-02"]
    with pytest.raises(SystemExit, match="0"):
        main([*words, "--dry-run"])
    assert "+  hypo: {+/+: 1/3, +/hypo: 2/3}" in capsys.readouterr().out
    assert not (keeper / "animals").exists()
    with pytest.raises(SystemExit, match="0"):
        main(words)
    assert "acquired: {date: 2026-11-02" in (keeper / "animals/hazel/animal.yaml").read_text("utf-8")
    file.write_bytes(as_file(hypo_paper, _set("version", to=2)))
    with pytest.raises(SystemExit, match="1"):
        main(["add", "animal", "--content", str(keeper), "--from-paper", str(file)])
    assert "this paper has version 2" in capsys.readouterr().err


def test_the_schema_of_a_paper_is_printed_for_others(
    keeper: Path, hypo_paper: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit, match="0"):
        main(["schema", "paper", "--content", str(keeper)])
    jsonschema.Draft202012Validator(json.loads(capsys.readouterr().out)).validate(hypo_paper)


def test_a_text_of_several_lines_is_a_block_in_the_record(keeper: Path, hypo_paper: dict[str, Any]) -> None:
    paper = as_file(hypo_paper, lambda facts: facts["animal"].update(locality="North\nof the river"))
    assert b"\nlocality: |-\n  North\n  of the river\n" in taken(keeper, paper).files[0].after
