"""JSON Schemas for editors, with the names of the genes that this collection's own species files describe."""

import copy
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from sitegen.below import read_below
from sitegen.content.folder import MAX_TEXT_BYTES
from sitegen.content.gene_names import gene_names
from sitegen.content.report import Report
from sitegen.content.species import bind_species
from sitegen.content.writing import FileChange
from sitegen.content.written_records import Forms, json_schemas
from sitegen.findings import WrongUse
from sitegen.genetics.loci import Genome
from sitegen.keeper.record_text import schema_file
from sitegen.keeper.records import Proposal, Records
from sitegen.site.schema import paper_schema

_MARK = "Written by sitegen schema; write it again after you have changed a species file."
_NULL = {"type": "null"}
_COMPOUND = {"type": "string", "pattern": "^[^/]+/[^/]+$", "description": "two looks of one locus together"}


def schemas_for(forms: Forms) -> dict[str, dict[str, Any]]:
    """Kind of file to its schema, that of a buyer's paper too. Faulty species files give the names that can be read."""
    genomes = {}
    for species_id, form in forms.species.items():
        if form is not None:
            bound = bind_species(species_id, form, Report())
            genomes[species_id] = (bound.species.name, bound.species.genome)
    found: dict[str, dict[str, Any]] = {}
    for kind, schema in json_schemas().items():
        found[kind] = {"$schema": schema["$schema"], "$comment": _MARK, **copy.deepcopy(schema)}
        if genomes and kind in ("animal", "litter", "project", "plan", "waiting"):
            _name_genes(found[kind], genomes)
    paper = paper_schema()
    found["paper"] = {"$schema": paper["$schema"], "$comment": _MARK, **paper}
    return found


def schema_change(records: Records, folder: Path) -> Proposal:
    """The schema files of a folder, those that are as they should be left out.

    Raises:
        WrongUse: A file of that name stands there that this program did not write.
    """
    files = []
    for kind, schema in schemas_for(records.forms).items():
        path = folder / schema_file(kind)
        before = read_below(folder, path.name, MAX_TEXT_BYTES) if os.path.lexists(path) else None
        after = schema_text(schema).encode("utf-8")
        if before is not None and _MARK.encode() not in before:
            raise WrongUse(f"{path} was not written by sitegen and was not changed; name another folder with --to")
        if before != after:
            files.append(FileChange(schema_file(kind), before, after))
    told = f"{len(files)} schemas written to {folder}." if files else f"The schemas in {folder} are as they should be."
    return Proposal(tuple(files), told)


def schema_text(schema: Mapping[str, Any]) -> str:
    """A schema as the text of a file."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _name_genes(schema: dict[str, Any], genomes: Mapping[str, tuple[str, Genome]]) -> None:
    """Write the names of genes and species into a schema, in place."""
    every = [genome for _, genome in genomes.values()]
    for part in list(_groups(schema)):
        _narrow(part["properties"], every)
    if species := schema["properties"].get("species"):
        known = list(dict.fromkeys([*genomes, *(name for name, _ in genomes.values())]))
        schema["properties"]["species"] = {"description": species["description"], "enum": known}
    if len(genomes) > 1 and "species" in schema.get("required", ()):
        schema["allOf"] = [
            {
                "if": {"properties": {"species": {"enum": [species_id, name]}}, "required": ["species"]},
                "then": {"properties": _narrow(_gene_keys(schema["properties"]), [genome])},
            }
            for species_id, (name, genome) in genomes.items()
        ]


def _groups(part: Any) -> Iterator[dict[str, Any]]:
    """Every part of a schema that describes a group of named values, however deep."""
    if isinstance(part, dict):
        if isinstance(part.get("properties"), dict):
            yield part
        for each in part.values():
            yield from _groups(each)
    elif isinstance(part, list):
        for each in part:
            yield from _groups(each)


def _gene_keys(properties: Mapping[str, Any]) -> dict[str, Any]:
    keys = ("shows", "carries", "unsure", "stated", "copies")
    return {key: {"description": properties[key]["description"]} for key in keys if key in properties}


def _narrow(properties: dict[str, Any], genomes: Iterable[Genome]) -> dict[str, Any]:
    """Write which names may stand, into the properties that name genes."""
    genomes = list(genomes)
    looks = {"anyOf": [{"enum": _looks(genomes)}, _COMPOUND]}
    genes = {"enum": _genes(genomes)}
    unsure = {"enum": list(dict.fromkeys(["all", *_genes(genomes), *_looks(genomes)]))}
    for key, one in (("shows", looks), ("carries", genes), ("unsure", unsure)):
        if key in properties:
            described = {"description": properties[key]["description"]}
            properties[key] = described | {"anyOf": [one, {"type": "array", "items": one}, _NULL]}
    for key in ("stated", "copies"):
        if key in properties:
            properties[key] = {**properties[key], "propertyNames": genes}
    if "locus" in properties:
        properties["locus"] = {"description": properties["locus"]["description"], **genes}
    return properties


def _looks(genomes: Iterable[Genome]) -> list[str]:
    """Every look and combination, by id and by name."""
    found: list[str] = []
    for genome in genomes:
        for locus in genome.loci:
            found += [word for look in locus.looks for word in (look.id, look.name)]
            found += [word for allele in locus.alleles for word in allele.named]
        found += [word for each in genome.combinations for word in (each.id, each.name)]
        supers = (each for each in gene_names("", "", genome).looks if each.startswith("super-"))
        found += [word for each in supers for word in (each, each.replace("-", " "))]
    return list(dict.fromkeys(found))


def _genes(genomes: Iterable[Genome]) -> list[str]:
    """Every locus and allele, by id and by name."""
    found: list[str] = []
    for locus in (locus for genome in genomes for locus in genome.loci):
        found += [locus.id, locus.name]
        found += [word for allele in locus.alleles for word in (allele.id, allele.name, *allele.named)]
    return list(dict.fromkeys(found))
