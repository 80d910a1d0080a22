"""The published facts for machines: what the pages say, with exact chances. Private notes are not in the records."""

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.evidence.kinds import Claim
from sitegen.exact import written
from sitegen.site.addresses import DATA_SCHEMA, litter_address, relative
from sitegen.site.changes import change_facts
from sitegen.site.entries import living_young
from sitegen.site.facts_schema import FORMAT
from sitegen.site.material import Folio, Material, folio
from sitegen.words.buying import missing_texts
from sitegen.words.claims import headline
from sitegen.words.speech import plain

Plain = dict[str, object]


def published_facts(material: Material) -> Plain:
    """All published facts: site, animals with their claims and offers, litters. Addresses are from the site's root."""
    page = folio(material, "data/collection.json")
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
        "page": relative("", page.material.places[animal.id]),
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
