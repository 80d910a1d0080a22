"""The published facts for machines: what the pages say, with exact chances. Private notes are not in the records.

Their format (``data/collection.json``) is our own, documented by a JSON Schema (draft 2020-12). It may gain keys;
``format`` is raised when a reader of the older one would misread a newer file.
"""

from sitegen.content.animals import Animal
from sitegen.content.litters import FailedAs, Litter, living_young
from sitegen.content.prices import OfferState
from sitegen.evidence.changes import ChangeKind
from sitegen.evidence.joint import joint_json
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.offers import AVAILABILITY
from sitegen.exact import written
from sitegen.genetics.loci import Sex
from sitegen.site.addresses import DATA, DATA_SCHEMA, litter_address, relative
from sitegen.site.material import Folio, Material, folio
from sitegen.site.road_facts import ROADS, road_facts
from sitegen.site.schema import (
    CHANCE,
    DATE,
    DAY,
    DRAFT,
    MAYBE,
    TEXT,
    TEXTS,
    Plain,
    Schema,
    an_array,
    an_object,
    by_name,
    described,
    one_of,
)
from sitegen.words.buying import missing_texts
from sitegen.words.changes import change_sentence
from sitegen.words.claims import headline
from sitegen.words.conditions import condition_clause
from sitegen.words.speech import plain

FORMAT = 1
_DATE = DATE | MAYBE

_CLAIM = an_object(
    {
        "locus": TEXT,
        "allele": MAYBE,
        "look": MAYBE,
        "kind": one_of(ClaimKind),
        "chance": CHANCE,
        "basis": one_of(Basis),
        "condition": described(MAYBE, "On what it, or its number of copies, hangs; null where it holds in any case."),
        "words": described(TEXT, "The claim as it is printed."),
    }
)
_CHANGE = an_object(
    {
        "date": described(DAY, "From which day the new records count."),
        "locus": TEXT,
        "allele": TEXT,
        "kind": one_of(ChangeKind),
        "before": CHANCE,
        "after": CHANCE,
        "words": TEXT,
    }
)
_OFFER = an_object(
    {
        "state": one_of(OfferState),
        "since": _DATE,
        "price": described({**MAYBE, "pattern": r"^\d+(\.\d+)?$"}, "While it is asked."),
        "currency": described(MAYBE, "ISO 4217."),
        "ready": described(_DATE, "From when it can go, where that day lies ahead."),
        "availability": described(
            {"enum": [*(iri for iri in AVAILABILITY.values() if iri), None]},
            "A member of schema.org's ItemAvailability.",
        ),
        "missing": described(TEXTS, "What it lacks by the site's own rules before it can go."),
    }
)
_ANIMAL = an_object(
    {
        "id": described(TEXT, "LITTER/NUMBER for a young without a record of its own."),
        "name": TEXT,
        "page": described(TEXT, "From the site's root."),
        "species": described(TEXT, "The scientific name where it is recorded."),
        "sex": one_of(Sex),
        "born": _DATE,
        "dam": described(MAYBE, "Id of an animal."),
        "sires": described(TEXTS, "Ids; several where it is not known which."),
        "label": described(TEXT, "Its label line: looks, genes carried, genes possible, sex, year."),
        "claims": an_array(_CLAIM),
        "changes": described(an_array(_CHANGE), "How what is said of it changed, oldest first."),
        "offer": _OFFER,
    },
    optional=("offer",),
)
_LITTER = an_object(
    {
        "id": TEXT,
        "name": TEXT,
        "page": described(TEXT, "From the site's root."),
        "dam": MAYBE,
        "sires": TEXTS,
        "born": _DATE,
        "expected": _DATE,
        "failed": described(
            {"anyOf": [an_object({"date": TEXT, "what": one_of(FailedAs)}), {"type": "null"}]},
            "That no living young came.",
        ),
        "young": described(TEXTS, "Ids of the young that are listed one by one."),
        "living": described({"type": "integer", "minimum": 0}, "All living young, listed or not."),
    }
)
_JOINT = described(
    by_name(an_array(an_object({"carries": TEXTS, "p": CHANCE}))),
    "Animal to each two loci, or alleles of a series, whose joint chance of carrying is not the product.",
)
_LITTERMATES = described(
    by_name(by_name(an_object({"young": TEXTS, "counts": an_array(CHANCE)}))),
    "Litter to each locus at which several young are in doubt: their numbers, and the chance that 0, 1, ... carry it.",
)


def facts_schema() -> Schema:
    """The schema of the file."""
    return {
        "$schema": DRAFT,
        "title": "The published facts of a collection, with exact chances",
        "description": "What the pages say, for machines. Chances are exact fractions: of having the allele (may "
        "carry), of two copies (one or two copies), of showing it later (too young to tell); 1 or 0 for other kinds.",
        **an_object(
            {
                "$schema": {"const": "collection.schema.json"},
                "format": {"const": FORMAT},
                "site": described(TEXT, "The breeder's name."),
                "address": described(TEXT, "The public address of the site, ending in a slash; empty for none."),
                "as_of": described(DAY, "The day of the statement."),
                "drawings": described(TEXT, "Says so where pictures are drawn; else empty."),
                "animals": an_array(_ANIMAL),
                "litters": an_array(_LITTER),
                "joint": _JOINT,
                "littermates": _LITTERMATES,
                "projects": ROADS,
            }
        ),
    }


def published_facts(material: Material) -> Plain:
    """All published facts: site, animals with their claims and offers, litters. Addresses are from the site's root."""
    page = folio(material, DATA)
    collection = material.collection
    return {
        "$schema": DATA_SCHEMA.rpartition("/")[2],
        "format": FORMAT,
        "site": collection.site.name,
        "address": collection.site.address,
        "as_of": material.as_of.isoformat(),
        "drawings": collection.site.drawings,
        "animals": [_animal(animal, page) for animal in collection.animals.values()],
        "litters": [_litter(litter) for litter in collection.litters.values()],
        **joint_json(collection, (material.together, material.littermates)),
        "projects": road_facts(material),
    }


def _animal(animal: Animal, page: Folio) -> Plain:
    facts: Plain = {
        "id": animal.id,
        "name": page.name(animal),
        "page": relative("", page.addresses.animals[animal.id]),
        "species": page.collection.species[animal.species].scientific or page.collection.species[animal.species].name,
        "sex": animal.sex.value,
        "born": str(animal.born) if animal.born else None,
        "dam": animal.dam,
        "sires": [sire for sire, _share in animal.sires],
        "label": plain(page.material.lines[animal.id].whole()),
        "claims": [_claim(claim, page) for claim in page.claims(animal.id)],
        "changes": change_facts(animal, page),
    }
    offer = page.offer(animal)
    if offer is not None:
        facts["offer"] = {
            "state": offer.state.value,
            "since": str(offer.since) if offer.since else None,
            "price": str(offer.price.amount) if offer.price else None,
            "currency": offer.price.currency if offer.price else None,
            "ready": str(offer.ready) if offer.ready else None,
            "availability": offer.availability or None,
            "missing": list(missing_texts(offer.missing, page.collection.site)),
        }
    return facts


def _claim(claim: Claim, page: Folio) -> Plain:
    return {
        "locus": claim.locus,
        "allele": claim.allele or None,
        "look": claim.look or None,
        "kind": claim.kind.value,
        "chance": written(claim.chance),
        "basis": claim.basis.value,
        "condition": plain(condition_clause(claim, page.voice)) or None,
        "words": plain(headline(claim, page.voice)),
    }


def _litter(litter: Litter) -> Plain:
    failed = litter.failed
    return {
        "id": litter.id,
        "name": litter.name,
        "page": relative("", litter_address(litter.id)),
        "dam": litter.dam,
        "sires": [sire for sire, _share in litter.sires],
        "born": str(litter.born) if litter.born else None,
        "expected": str(litter.expected) if litter.expected and not (litter.born or failed) else None,
        "failed": {"date": str(failed.date), "what": failed.what.value} if failed else None,
        "young": list(litter.young),
        "living": living_young(litter),
    }


def change_facts(animal: Animal, folio: Folio) -> list[Plain]:
    """How what is said of it changed, with exact chances."""
    return [
        {
            "date": change.day.isoformat(),
            "locus": change.locus,
            "allele": change.allele,
            "kind": change.kind.value,
            "before": written(change.chance_before),
            "after": written(change.chance_after),
            "words": plain(change_sentence(change, folio.voice)),
        }
        for change in folio.material.changes.get(animal.id, ())
    ]
