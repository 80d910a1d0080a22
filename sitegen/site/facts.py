"""The published facts for machines: what the pages say, with exact chances. Private notes are not in the records.

Their format (``data/collection.json``) is our own, documented by ``collection.schema.json``. It may gain keys;
``format`` is raised when a reader of the older one would misread a newer file.
"""

from collections.abc import Iterable
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter, living_young
from sitegen.content.off_site import is_off_site
from sitegen.evidence.joint import joint_json
from sitegen.evidence.kinds import Claim
from sitegen.exact import decimals, written
from sitegen.plans.roads.kinds import RoadOutlook, StageOutlook
from sitegen.site.addresses import DATA, DATA_SCHEMA, litter_address, relative
from sitegen.site.material import Folio, Material, folio
from sitegen.site.schema import Plain
from sitegen.words.buying import missing_texts
from sitegen.words.changes import change_sentence
from sitegen.words.claims import headline
from sitegen.words.conditions import condition_clause
from sitegen.words.speech import plain

FORMAT = 1


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
        "litters": [_litter(litter, page) for litter in collection.litters.values()],
        **joint_json(collection, (material.together, material.littermates)),
        "projects": _roads(material),
    }


def _animal(animal: Animal, page: Folio) -> Plain:
    facts: Plain = {
        "id": animal.id,
        "name": page.name(animal),
        "page": relative("", page.addresses.animals[animal.id]),
        "species": page.collection.species[animal.species].scientific or page.collection.species[animal.species].name,
        "sex": animal.sex.value,
        "born": str(animal.born) if animal.born else None,
        **_parents(animal),
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


def _parents(born: Animal | Litter) -> Plain:
    """Those that are recorded and shown."""
    sires = [sire for sire, _share in born.sires if not is_off_site(sire)]
    return {"dam": None if is_off_site(born.dam or "") else born.dam, "sires": sires}


def _litter(litter: Litter, page: Folio) -> Plain:
    failed = litter.failed
    return {
        "id": litter.id,
        "name": litter.name,
        "page": relative("", litter_address(litter.id)),
        **_parents(litter),
        "born": str(litter.born) if litter.born else None,
        "expected": str(litter.expected) if litter.expected and not (litter.born or failed) else None,
        "failed": {"date": str(failed.date), "what": failed.what.value} if failed else None,
        "young": [young.id for young in page.young(litter)],
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


def _roads(material: Material) -> Plain:
    """Project to its road where one can be worked out: chances by season, and how each stage goes, as decimals."""
    projects = material.collection.projects.values()
    found = {each.id: material.roads.get(each.id) for each in projects if each.state != "given up"}
    return {project: _road(roads.main) for project, roads in found.items() if roads and roads.main}


def _road(outlook: RoadOutlook) -> Plain:
    loads = {load.season: load for load in outlook.loads}
    seasons: list[Plain] = []
    for each in outlook.by_season:
        row: Plain = {"season": each.season}
        row |= _shares((("born", each.born), ("kept", each.kept), ("known", each.known)))
        if (load := loads.get(each.season)) is not None:
            for key, of in (("young", load.young), ("to_raise", load.kept), ("places", load.held)):
                row[key] = {"mean": decimals(of.mean, 4), "low": of.low, "high": of.high}
        seasons.append(row)
    return {
        "seasons": seasons,
        "half_by": outlook.half_by,
        "reached": outlook.reached,
        "draws": outlook.draws,
        "error": decimals(outlook.error, 4),
        "stages": [_stage(stage) for stage in outlook.stages],
    }


def _stage(stage: StageOutlook) -> Plain:
    given = stage.kept_given_bred
    return {
        "id": stage.id,
        "state": stage.state.value,
        "planned": stage.planned,
        "earliest": stage.earliest,
        "bred": _shares((str(season), share) for season, share in stage.bred),
        "kept_given_bred": None if given is None else decimals(given, 4),
        "ended": _shares((way.value, share) for way, share in stage.ended.items() if share),
    }


def _shares(named: Iterable[tuple[str, Fraction]]) -> Plain:
    return {name: decimals(share, 4) for name, share in named}
