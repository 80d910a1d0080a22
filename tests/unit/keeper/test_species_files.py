"""The species files that are carried are whole: every fact has its source or the word that there is none.

``words_of_species.txt`` holds the words of names that a person has read and found to be plain words or terms of the
trade at large. Names of people and firms stand in no file.
"""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.gene_names import gene_names
from sitegen.content.sources import Standing, standing_of
from sitegen.content.species import Species
from sitegen.content.species_loci import GENE_FACTS
from sitegen.genetics.loci import WILD, SexSystem, look_id
from sitegen.keeper.labels import LabelReader
from sitegen.keeper.new_records import carried
from sitegen.words.audit.lexicon import lexicon_of

ALL = tuple(carried())
SITE = "name: Small\ncurrency: EUR\nformat: 2\n"
WORDS = Path(__file__).with_name("words_of_species.txt")
PUBLISHED = re.compile(r"\b(19|20)\d\d\b|\b[Zz]oo\b|\b[Mm]useum\b|\bencyclopaedia\b|\bAnAge\b|\bTouroparc\b")


def species_of(name: str) -> Species:
    collection, findings = bind_content(Content({"site.yaml": SITE, f"species/{name}.yaml": carried()[name]}))
    assert findings == ()
    assert collection is not None
    return collection.species[name]


def forms(locus: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """Each allele with the keys that are written for it, also those of its locus."""
    return {name: locus | (own or {}) for name, own in (locus.get("alleles") or {"": {}}).items()}


def is_whole(source: str) -> bool:
    """A published source names a year, a zoo or a work; everything else says what it is."""
    standing, told = standing_of(source)
    return (standing is Standing.PUBLISHED and bool(PUBLISHED.search(told))) or standing in (
        Standing.CUSTOM, Standing.MEMORY, Standing.DOUBTFUL
    )  # fmt: skip


@pytest.mark.parametrize("name", ALL)
def test_every_fact_of_a_gene_has_its_source(name: str) -> None:
    genome = species_of(name).genome
    for locus_id, locus in yaml.safe_load(carried()[name])["loci"].items():
        for allele_id, form in forms(locus).items():
            sources = dict(genome.locus(locus_id).allele(allele_id or locus_id).sources)
            missing = [key for key in GENE_FACTS if key in form and not is_whole(sources.get(key, ""))]
            assert missing == [], f"{locus_id} {allele_id}"


@pytest.mark.parametrize("name", ALL)
def test_every_figure_has_its_source(name: str) -> None:
    species = species_of(name)
    assert "litter_size" in species.written
    for figure, source in species.written.items():
        assert is_whole(source), figure
    for start, interval in species.intervals.items():
        assert is_whole(interval.source), start


@pytest.mark.parametrize("name", ALL)
def test_what_kills_or_harms_says_so_with_a_source(name: str) -> None:
    for locus in species_of(name).genome.loci:
        for allele in locus.alleles:
            assert allele.welfare or not allele.two_copies_lethal, allele.id
            if allele.welfare:
                found = PUBLISHED.search(allele.welfare.source) or "no published study" in allele.welfare.source
                assert found, allele.id


@pytest.mark.parametrize("name", ALL)
def test_what_looks_alike_is_said_on_both_sides(name: str) -> None:
    alleles = {each.id: each for locus in species_of(name).genome.loci for each in locus.alleles}
    for allele in alleles.values():
        for other in allele.not_the_same_as:
            assert allele.id in alleles[other].not_the_same_as, (allele.id, other)


@pytest.mark.parametrize("name", ALL)
def test_no_two_combinations_are_one(name: str) -> None:
    genome = species_of(name).genome
    parts = [frozenset(each.looks) for each in genome.combinations]
    assert len(set(parts)) == len(parts)
    assert all(len({genome.look(look).locus for look in each}) == len(each) > 1 for each in parts)


@pytest.mark.parametrize("name", ALL)
def test_super_finds_the_two_copy_form(name: str) -> None:
    genome = species_of(name).genome
    looks = gene_names(name, "", genome).looks
    for locus in genome.loci:
        for allele in locus.alleles:
            if allele.two_copies:
                found = looks[look_id(f"super {allele.name}")]
                assert [look.id for look in found] == [locus.shown[allele.id, allele.id]]


@pytest.mark.parametrize("name", ALL)
def test_sheets_and_the_audit_know_every_combination(name: str) -> None:
    species = species_of(name)
    reader, lexicon = LabelReader(species, {}), lexicon_of(species)
    for each in species.genome.combinations:
        label = reader.read(each.name)
        assert label.faults == []
        assert {look for _, look in label.looks} == set(each.looks)
        named = lexicon.find(each.name)
        assert named is not None
        assert {look for _, look in named.shown} == set(each.looks)


@pytest.mark.parametrize("name", ALL)
def test_how_sex_is_determined_is_said_and_binds_genes_to_it(name: str) -> None:
    assert yaml.safe_load(carried()[name])["sexes"] in list(SexSystem)
    species = species_of(name)
    if not species.genome.sex_system.blank:
        assert not any(locus.sex_linked or locus.sex_recombination for locus in species.genome.loci)


@pytest.mark.parametrize("name", ALL)
def test_cautions_refer_to_local_law(name: str) -> None:
    assert re.search(r"your local (law|rules)", " ".join(species_of(name).cautions))


@pytest.mark.parametrize("name", ALL)
def test_every_name_was_read_by_a_person(name: str) -> None:
    """No name has a word that is not on the list; a new one is put there once it is known to be nobody's name."""
    blocks = dict(re.findall(r"^([a-z-]+):((?:\n  .*)+)", WORDS.read_text("utf-8"), re.MULTILINE))
    genome, allowed = species_of(name).genome, set(blocks.get(name, "").split())
    names = [genome.species, *(word for each in genome.combinations for word in (each.id, each.name))]
    for locus in genome.loci:
        names += [locus.id, locus.name, *(word for look in locus.looks for word in (look.id, look.name))]
        names += [word for each in locus.alleles for word in (each.id, each.name, each.two_copies, *each.named)]
    used = {word for each in names for word in re.findall(r"[^\W\d_]+", each.lower())} - {WILD, "and", "of", "super"}
    assert sorted(used - allowed) == []
    assert sorted(allowed - used) == []
