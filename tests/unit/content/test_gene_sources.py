"""Sources of a gene's facts: one for all or one by fact, of an allele or its locus; one without its fact is told."""

from helpers.from_text import bound

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.sources import Standing, standing_of

SERIES = """
name: s
loci:
  pair:
    sources: {alleles: "Somebody 2001", inheritance: "common practice, no source"}
    alleles:
      a: {inheritance: recessive}
      b: {inheritance: incomplete_dominant, two_copies: bb, sources: "from memory"}
"""


def sources(species: str, locus: str) -> dict[str, dict[str, str]]:
    genome = bound(f"=== species/s.yaml\n{species}").species["s"].genome
    return {each.id: dict(each.sources) for each in genome.locus(locus).alleles}


def told(species: str) -> list[str]:
    files = {"site.yaml": "name: Small\ncurrency: EUR\nformat: 2\n", "species/s.yaml": species}
    return [str(each.message) for each in bind_content(Content(files))[1]]


def test_one_text_stands_for_every_fact_that_is_written() -> None:
    gene = "name: s\nloci: {a: {inheritance: incomplete_dominant, two_copies: aa, sources: Somebody 2001}}"
    assert sources(gene, "a") == {"a": {"inheritance": "Somebody 2001", "two_copies": "Somebody 2001"}}


def test_an_allele_speaks_for_itself_before_its_locus() -> None:
    assert sources(SERIES, "pair") == {
        "a": {"inheritance": "common practice, no source", "alleles": "Somebody 2001"},
        "b": {"inheritance": "from memory", "alleles": "from memory", "two_copies": "from memory"},
    }


def test_a_source_of_a_fact_that_is_not_written_is_told() -> None:
    gene = "name: s\nloci: {a: {inheritance: recessive, sources: {two_copies: Somebody 2001}}}"
    assert told(gene) == ["sources has one of two_copies, and no two_copies is written here"]


def test_no_gene_lies_on_a_sex_chromosome_where_warmth_decides() -> None:
    gene = "name: s\nsexes: temperature\nloci: {a: {inheritance: recessive, sex_linked: true}}"
    assert told(gene) == ["a lies on a sex chromosome, but the warmth of the eggs decides the sex in this species"]


def test_how_well_a_fact_is_known() -> None:
    assert standing_of("") == (Standing.UNSAID, "")
    assert standing_of("Common practice, no source.") == (Standing.CUSTOM, "")
    assert standing_of("females: Somebody 2001; males: common practice, no source")[0] is Standing.PUBLISHED
    assert standing_of("doubtful: two keepers, two words") == (Standing.DOUBTFUL, "two keepers, two words")
