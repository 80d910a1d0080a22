"""The facts of a buyer's paper for machines: the file beside the printed page, from which later records can start.

The format is our own. Its version is raised when a reader of the older one would misread a newer file; a reader
takes ``claims`` over as stated evidence, with ``basis`` and the breeder as its source, and never as its own finding.
"""

import hashlib
import json

from sitegen.content.animals import Animal
from sitegen.content.off_site import is_off_site
from sitegen.content.public import Public, is_shown
from sitegen.evidence.offers import gene_cautions, offer_cautions
from sitegen.exact import written
from sitegen.genetics.loci import genotype_text
from sitegen.site.addresses import relative
from sitegen.site.animal import not_known_lines
from sitegen.site.material import Folio
from sitegen.site.parts import text_of
from sitegen.site.schema import Plain
from sitegen.site.views import together_lines
from sitegen.words.buying import short_caution
from sitegen.words.claims import SEEN
from sitegen.words.reasons import Worded
from sitegen.words.relations import parents_sentence
from sitegen.words.speech import plain

FORMAT = "sitegen paper"
VERSION = 1
RECORD_DIGITS = 12
_NOT_HASHED = ("date", "record")


def not_known_texts(animal: Animal, folio: Folio) -> tuple[str, ...]:
    """What no claim is made about."""
    return tuple(text_of(line) for line in not_known_lines(animal, folio))


def short_cautions(animal: Animal, folio: Folio) -> tuple[str, ...]:
    """The cautions of the animal's genes and of every offer, each in short; also for one that is sold."""
    of_genes = gene_cautions(folio.collection, folio.claims(animal.id))
    cautions = (*of_genes, *offer_cautions(folio.collection, animal.species))
    return tuple(dict.fromkeys(plain(short_caution(caution, folio.voice)) for caution in cautions))


def paper_facts(animal: Animal, folio: Folio) -> Plain:
    """Everything the paper states; ``record`` changes when any of it does, and with nothing else."""
    stated: Plain = {
        "format": FORMAT,
        "version": VERSION,
        "animal": _identity(animal, folio),
        "breeder": _breeder(folio),
        "shows": _shows(animal, folio),
        "claims": [_claim(each, folio) for each in folio.material.worded[animal.id]],
        **({"together": together} if (together := [*map(plain, together_lines(animal, folio))]) else {}),
        "parents": _parents(animal, folio),
        "relatedness": _relatedness(animal, folio),
        "not_known": list(not_known_texts(animal, folio)),
        **_daily(animal),
        "cautions": list(short_cautions(animal, folio)),
    }
    head: Plain = {"format": FORMAT, "version": VERSION, "date": folio.material.as_of.isoformat()}
    return {**head, "record": record_version(stated), **stated}


def _daily(animal: Animal) -> Plain:
    """Weights, and of the meals how many were taken and the last; what is not public is left out."""
    told: Plain = {}
    if is_shown(Public.WEIGHTS, animal.public):
        told["weights"] = [{"date": str(weighing.date), "grams": weighing.grams} for weighing in animal.weights]
    if is_shown(Public.MEALS, animal.public):
        last = max(animal.meals, key=lambda meal: meal.date.latest, default=None)
        told["feeding"] = {
            "recorded": len(animal.meals),
            "taken": sum(meal.taken for meal in animal.meals),
            "last": last and {"date": str(last.date), "what": last.what, "taken": last.taken},
        }
    return told


def record_version(facts: Plain) -> str:
    """The first 12 hexadecimal digits of the SHA-256 of all facts but the date and this very number.

    The facts are taken as JSON in UTF-8 with sorted keys and no blanks, so that any reader can work it out again.
    """
    stated = {key: value for key, value in facts.items() if key not in _NOT_HASHED}
    told = json.dumps(stated, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(told.encode()).hexdigest()[:RECORD_DIGITS]


def _identity(animal: Animal, folio: Folio) -> Plain:
    species, site = folio.collection.species[animal.species], folio.collection.site
    page = site.address + relative("", folio.addresses.animals[animal.id]) if site.address else None
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
    looks = [{"look": claim.look, "name": folio.voice.gene(claim).text, "locus": claim.locus} for claim in seen]
    return {"judged": judged or bool(looks), "looks": looks}


def _claim(told: Worded, folio: Folio) -> Plain:
    claim, voice = told.claim, folio.voice
    return {
        "kind": claim.kind.value,
        "locus": claim.locus,
        "allele": claim.allele or None,
        "look": claim.look or None,
        "gene": voice.gene(claim).text,
        "chance": written(claim.chance),
        "genotypes": {genotype_text(genotype): written(chance) for genotype, chance in claim.posterior.items()},
        "basis": claim.basis.value,
        "words": plain(told.headline),
        "reasons": [plain(sentence) for sentence in told.explanation if sentence],
        "hangs_on": [folio.name(folio.collection.animals[member]) for member in claim.hangs_on],
    }


def _parents(animal: Animal, folio: Folio) -> Plain:
    """Those that are recorded and shown."""
    shown = [(sire, share) for sire, share in animal.sires if not is_off_site(sire)]
    dam = None if is_off_site(animal.dam or "") else animal.dam
    sires = [{**_parent(sire, folio), "chance": written(share)} for sire, share in shown]
    return {"dam": _parent(dam, folio) if dam else None, "sires": sires}


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
