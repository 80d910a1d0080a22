"""Kinds of record: ids from names of files, JSON Schemas, and the published formats word for word."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from helpers.from_text import bound, kinds

from sitegen.content.written_records import KINDS, json_schemas
from sitegen.findings import Kind, Level
from sitegen.genetics.loci import Sex


def fields(schema: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for title, part in [("", schema), *schema.get("$defs", {}).items()]:
        for name, field in part.get("properties", {}).items():
            yield title, name, field


def test_every_kind_of_file_has_a_schema_that_refuses_unknown_names() -> None:
    schemas = json_schemas()
    assert list(schemas) == ["site", "species", "animal", "litter", "project", "plan", "waiting"]
    for schema in schemas.values():
        parts = [schema, *schema.get("$defs", {}).values()]
        assert all(part["additionalProperties"] is False for part in parts)


def test_every_name_is_described_and_is_one_the_records_accept() -> None:
    for kind, schema in json_schemas().items():
        assert set(schema["properties"]) == set(KINDS[kind].names)
        for title, name, field in fields(schema):
            assert field.get("description"), (kind, title, name)


def test_only_what_must_be_written_is_required() -> None:
    required = {kind: schema.get("required", []) for kind, schema in json_schemas().items()}
    assert required == {
        "site": [],
        "species": [],
        "animal": ["species"],
        "litter": [],
        "project": ["species"],
        "plan": [],
        "waiting": [],
    }


@pytest.mark.parametrize(("one", "other"), [("Agate", "agate"), ("kru\u0308mel", "kr\u00fcmel")])
def test_two_folders_that_many_systems_take_as_one_are_told(one: str, other: str) -> None:
    more = "".join(f"=== animals/a{i}/animal.yaml\nspecies: corn-snake\n" for i in range(20))
    text = "".join(f"=== animals/{name}/animal.yaml\nspecies: corn-snake\n" for name in (one, other))
    assert kinds(more + text) == [(Kind.ID_TWICE, Level.ERROR)]


FORMATS = """
=== species/corn-snake.yaml
name: corn snake
scientific: Pantherophis guttatus
births: eggs                     # eggs | live
sexes: ZW                        # XY | ZW | unknown
litter_size: {low: 6, usual: 14, high: 28}
litters_a_year: 1
breeding_age: {female: 30 months, male: 18 months}
breeding_weight: {female: 300 g}
loci:
  amel: {name: amelanistic, inheritance: recessive}          # one named allele: it has the locus's id
  anery: {name: anerythristic, inheritance: recessive}
  hypo: {inheritance: recessive}
  caramel: {inheritance: recessive}
  tessera: {name: tessera, inheritance: dominant}
  palmetto: {name: palmetto, inheritance: incomplete_dominant, two_copies: super palmetto}
  motley-stripe:                                              # an allelic series
    alleles:
      motley: {name: motley, inheritance: recessive}
      stripe: {name: stripe, inheritance: recessive}
    compounds: {motley/stripe: striped motley}                # look of the compound heterozygote
  odd:                                                        # full control where the words above do not fit
    alleles: {a: {}, b: {}}
    looks: {+/a: a, a/a: a, a/b: a, b/b: b}                   # genotype -> look; what is left out shows nothing
  lethal-one: {inheritance: dominant, two_copies_lethal: true}
  banded: {inheritance: recessive, sex_linked: true}          # on the Z (ZW species) or X (XY species)
  left: {alleles: {l: {inheritance: recessive}}}
  right: {alleles: {r: {inheritance: recessive}}}
linked:
  - {loci: [left, right], recombination: 1/10}
background:                        # genotype odds of founders and of unrecorded parents; default: wild type
  amel: {+/+: 3/4, +/amel: 1/4}
  banded: {female: {+/W: 3/4, banded/W: 1/4}, male: {+/+: 1}}
combinations:
  snow: [amel, anery]
=== animals/basalt/animal.yaml
species: corn-snake
=== animals/flint/animal.yaml
species: corn-snake
=== animals/juniper/animal.yaml
species: corn-snake
sex: female                        # female | male | unknown
born: 2021-07-14                   # also 2021 or 2021-07
shows: [amel]                      # looked for everything else of the species and did not see it
unsure: [hypo]                     # or all: nothing was judged but what shows names
stated:                            # a founder's prior: what a previous keeper stated
  anery: certain                   # one copy
  hypo: 66%                        # 2/3; 33% is 1/3; fractions and other percentages as written
  caramel: {+/+: 1/4, +/caramel: 1/2, caramel/caramel: 1/4}
tests:
  - {locus: anery, result: +/anery, laboratory: ..., date: 2024-02-01}
  - {locus: hypo, result: [+/+, +/hypo]}       # the genotypes that remain possible
haplotypes:                        # known phase at linked loci: one line a chromosome
  - {left: l, right: +}
  - {left: +, right: r}
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: {flint: 2/3, basalt: 1/3}    # one sire for the whole litter
mixed_sires: false                 # true: each young may have its own
born: 2026-07-18
young: {"01": {sex: male, shows: [amel]}, "02": }
others:                            # living young that are not listed one by one
  - {count: 4, shows: []}
  - {count: 1, shows: [amel], sex: female}
=== animals/tansy/animal.yaml
species: corn-snake
from_litter: 2026-juniper-flint/02
shows: [super-palmetto, a]
"""


def test_the_published_formats_are_accepted() -> None:
    collection = bound(FORMATS)
    assert list(collection.animals) == ["2026-juniper-flint/01", "basalt", "flint", "juniper", "tansy"]
    assert collection.litters["2026-juniper-flint"].sires == (("flint", Fraction(2, 3)), ("basalt", Fraction(1, 3)))
    genes = collection.animals["juniper"].genes[0]
    assert [stated.odds for stated in genes.stated] == [
        {("+", "anery"): Fraction(1)},
        {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)},
        {("+", "+"): Fraction(1, 4), ("+", "caramel"): Fraction(1, 2), ("caramel", "caramel"): Fraction(1, 4)},
    ]
    assert [dict(line.alleles) for line in genes.haplotypes] == [
        {"left": "l", "right": "+"},
        {"left": "+", "right": "r"},
    ]
    genome = collection.species["corn-snake"].genome
    assert genome.linkages[0].recombination[Sex.MALE] == (Fraction(1, 10),)
    assert collection.animals["tansy"].dam == "juniper"
