"""The facts of a buyer's paper for machines: the file beside the printed page, from which later records can start.

The format is our own; :mod:`sitegen.site.paper_schema` documents it.
"""

import hashlib
import json

from sitegen.content.animals import Animal
from sitegen.exact import written
from sitegen.genetics.loci import genotype_text
from sitegen.site.addresses import relative
from sitegen.site.claim_views import SEEN, Worded, worded
from sitegen.site.material import Folio, once_an_animal
from sitegen.site.paper_parts import paper_parts
from sitegen.site.paper_schema import FORMAT, VERSION
from sitegen.words.claims import gene_name
from sitegen.words.relations import parents_sentence
from sitegen.words.speech import plain

Plain = dict[str, object]
_NOT_HASHED = ("date", "record")
RECORD_DIGITS = 12


@once_an_animal
def paper_facts(animal: Animal, folio: Folio) -> Plain:
    """Everything the paper states; ``record`` changes when any of it does, and with nothing else."""
    told = paper_parts(animal, folio)
    stated: Plain = {
        "format": FORMAT,
        "version": VERSION,
        "animal": _identity(animal, folio),
        "breeder": _breeder(folio),
        "shows": _shows(animal, folio),
        "claims": [_claim(each, folio) for each in worded(animal, folio)],
        "parents": _parents(animal, folio),
        "relatedness": _relatedness(animal, folio),
        "not_known": list(told.not_known),
        "weights": [{"date": str(weighing.date), "grams": weighing.grams} for weighing in animal.weights],
        "meals": [{"date": str(meal.date), "what": meal.what, "taken": meal.taken} for meal in animal.meals],
        "cautions": list(told.cautions),
    }
    head: Plain = {"format": FORMAT, "version": VERSION, "date": folio.material.as_of.isoformat()}
    return {**head, "record": record_version(stated), **stated}


def record_version(facts: Plain) -> str:
    """The first 12 hexadecimal digits of the SHA-256 of all facts but the date and this very number.

    The facts are taken as JSON in UTF-8 with sorted keys and no blanks, so that any reader can work it out again.
    """
    stated = {key: value for key, value in facts.items() if key not in _NOT_HASHED}
    told = json.dumps(stated, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(told.encode()).hexdigest()[:RECORD_DIGITS]


def _identity(animal: Animal, folio: Folio) -> Plain:
    species, site = folio.collection.species[animal.species], folio.collection.site
    page = site.address + relative("", folio.material.places[animal.id]) if site.address else None
    return {
        "id": animal.id,
        "name": folio.name(animal),
        "species": {"id": species.id, "name": species.name, "scientific": species.scientific or None},
        "sex": animal.sex.value,
        "born": str(animal.born) if animal.born else None,
        "died": str(animal.died) if animal.died else None,
        "line": animal.line or None,
        "locality": animal.locality or None,
        "page": page,
    }


def _breeder(folio: Folio) -> Plain:
    site = folio.collection.site
    contact = site.contact
    return {
        "name": site.name,
        "site": site.address or None,
        "email": contact.email or None,
        "phone": contact.phone or None,
        "place": contact.place or None,
    }


def _shows(animal: Animal, folio: Folio) -> Plain:
    """The looks; ``judged`` is False where nobody wrote down what it shows, so that an empty list means nothing."""
    judged = any(genes.judged.written and not genes.judged.unsure_all for genes in animal.genes)
    seen = [claim for claim in folio.claims(animal.id) if claim.kind in SEEN]
    looks = [{"look": claim.look, "name": gene_name(claim, folio.voice), "locus": claim.locus} for claim in seen]
    return {"judged": judged or bool(looks), "looks": looks}


def _claim(told: Worded, folio: Folio) -> Plain:
    """One claim with its exact odds, its words and its reasons."""
    claim, voice = told.claim, folio.voice
    return {
        "kind": claim.kind.value,
        "locus": claim.locus,
        "allele": claim.allele or None,
        "look": claim.look or None,
        "gene": gene_name(claim, voice),
        "chance": written(claim.chance),
        "genotypes": {genotype_text(genotype): written(chance) for genotype, chance in claim.posterior.items()},
        "basis": claim.basis.value,
        "words": plain(told.headline),
        "reasons": [plain(sentence) for sentence in told.explanation if sentence],
        "hangs_on": [folio.name(folio.collection.animals[member]) for member in claim.hangs_on],
    }


def _parents(animal: Animal, folio: Folio) -> Plain:
    sires = [{**_parent(sire, folio), "chance": written(share)} for sire, share in animal.sires]
    return {"dam": _parent(animal.dam, folio) if animal.dam else None, "sires": sires}


def _parent(member: str, folio: Folio) -> Plain:
    parent = folio.collection.animals[member]
    return {"id": parent.id, "name": folio.name(parent), "shows": _shows(parent, folio)}


def _relatedness(animal: Animal, folio: Folio) -> Plain | None:
    """How its parents are related; None where not both are recorded."""
    related = folio.material.answers.relations.get(animal.id)
    if not related:
        return None
    coefficient = folio.material.answers.inbreeding[animal.id]
    words = plain(parents_sentence(related, animal.id, folio.voice))
    return {"inbreeding": written(coefficient), "words": words}
