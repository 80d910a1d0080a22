"""The published facts for machines: what the pages say, with exact chances. Private notes are not in the records."""

from typing import Any

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.prices import OfferState
from sitegen.evidence.changes import ChangeKind
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.offers import AVAILABILITY
from sitegen.exact import written
from sitegen.genetics.loci import Sex
from sitegen.site.addresses import DATA, DATA_SCHEMA, litter_address, relative
from sitegen.site.animal import change_facts
from sitegen.site.entries import living_young
from sitegen.site.material import Folio, Material, folio
from sitegen.words.buying import missing_texts
from sitegen.words.claims import headline
from sitegen.words.speech import plain

FORMAT = 1
_TEXT: dict[str, Any] = {"type": "string"}
_MAYBE: dict[str, Any] = {"type": ["string", "null"]}
_COUNT: dict[str, Any] = {"type": "integer", "minimum": 0}
_CHANCE: dict[str, Any] = {"type": "string", "pattern": r"^(0|1|[1-9]\d*/[1-9]\d*)$"}
_DATE: dict[str, Any] = {"type": ["string", "null"], "pattern": r"^\d{4}(-\d{2}(-\d{2})?)?$"}
_DAY: dict[str, Any] = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}


def _told(schema: dict[str, Any], description: str) -> dict[str, Any]:
    return {**schema, "description": description}


def _list(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


def _object(properties: dict[str, Any], *, optional: tuple[str, ...] = ()) -> dict[str, Any]:
    """An object that has these properties and no others."""
    required = [key for key in properties if key not in optional]
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def facts_schema() -> dict[str, Any]:
    """The schema of the file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "The published facts of a collection, with exact chances",
        "description": "What the pages say, for machines. Chances are exact fractions: of having the allele (may "
        "carry), of two copies (one or two copies), of showing it later (too young to tell); 1 or 0 for other kinds.",
        **_object(
            {
                "$schema": {"const": "collection.schema.json"},
                "format": {"const": FORMAT},
                "site": _told(_TEXT, "The breeder's name."),
                "address": _told(_TEXT, "The public address of the site, ending in a slash; empty for none."),
                "as_of": _told(_DAY, "The day of the statement."),
                "drawings": _told(_TEXT, "Says so where pictures are drawn; else empty."),
                "animals": _list(_animal_schema()),
                "litters": _list(_litter_schema()),
            }
        ),
    }


def _animal_schema() -> dict[str, Any]:
    return _object(
        {
            "id": _told(_TEXT, "LITTER/NUMBER for a young without a record of its own."),
            "name": _TEXT,
            "page": _told(_TEXT, "From the site's root."),
            "species": _told(_TEXT, "The scientific name where it is recorded."),
            "sex": {"enum": [sex.value for sex in Sex]},
            "born": _DATE,
            "dam": _told(_MAYBE, "Id of an animal."),
            "sires": _told(_list(_TEXT), "Ids; several where it is not known which."),
            "claims": _list(_claim_schema()),
            "changes": _told(_list(_change()), "How what is said of it changed, oldest first."),
            "offer": _offer(),
        },
        optional=("offer",),
    )


def _claim_schema() -> dict[str, Any]:
    return _object(
        {
            "locus": _TEXT,
            "allele": _MAYBE,
            "look": _MAYBE,
            "kind": {"enum": [kind.value for kind in ClaimKind]},
            "chance": _CHANCE,
            "basis": {"enum": [basis.value for basis in Basis]},
            "words": _told(_TEXT, "The claim as it is printed."),
        }
    )


def _change() -> dict[str, Any]:
    return _object(
        {
            "date": _told(_DAY, "From which day the new records count."),
            "locus": _TEXT,
            "allele": _TEXT,
            "kind": {"enum": [kind.value for kind in ChangeKind]},
            "before": _CHANCE,
            "after": _CHANCE,
            "words": _TEXT,
        }
    )


def _offer() -> dict[str, Any]:
    iris = [iri for iri in AVAILABILITY.values() if iri]
    return _object(
        {
            "state": {"enum": [state.value for state in OfferState]},
            "since": _DATE,
            "price": _told({"type": ["string", "null"], "pattern": r"^\d+(\.\d+)?$"}, "While it is asked."),
            "currency": _told(_MAYBE, "ISO 4217."),
            "ready": _told(_DATE, "From when it can go, where that day lies ahead."),
            "availability": _told({"enum": [*iris, None]}, "A member of schema.org's ItemAvailability."),
            "missing": _told(_list(_TEXT), "What it lacks by the site's own rules before it can go."),
        }
    )


def _litter_schema() -> dict[str, Any]:
    return _object(
        {
            "id": _TEXT,
            "name": _TEXT,
            "page": _told(_TEXT, "From the site's root."),
            "dam": _MAYBE,
            "sires": _list(_TEXT),
            "born": _DATE,
            "expected": _DATE,
            "young": _told(_list(_TEXT), "Ids of the young that are listed one by one."),
            "living": _told(_COUNT, "All living young, listed or not."),
        }
    )


Plain = dict[str, object]


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
        "words": plain(headline(claim, page.voice)),
    }


def _litter(litter: Litter) -> Plain:
    return {
        "id": litter.id,
        "name": litter.name,
        "page": relative("", litter_address(litter.id)),
        "dam": litter.dam,
        "sires": [sire for sire, _share in litter.sires],
        "born": str(litter.born) if litter.born else None,
        "expected": str(litter.expected) if litter.expected and not litter.born else None,
        "young": list(litter.young),
        "living": living_young(litter),
    }
