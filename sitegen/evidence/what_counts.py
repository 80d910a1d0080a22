"""What of a collection's records is evidence, and a name for all of it: while it is the same, so is all that follows.

Most changes of a breeder's day (a weight, a price, a caption, a name) are no evidence at all.
"""

import datetime as dt
from dataclasses import fields
from operator import attrgetter

from sitegen.findings import Place
from sitegen.hashes import Parts, content_hash
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.litters import Litter

NO_EVIDENCE: dict[type, frozenset[str]] = {
    Animal: frozenset({"name", "weights", "meals", "photos", "offer", "kept", "about"}),
    Litter: frozenset({"name", "eggs", "infertile", "stillborn", "expected", "photos", "about"}),
}
"""Fields that prove nothing by themselves. Their dates can tell how old an animal was when it was judged."""


def evidence_key(collection: Collection, as_of: dt.date) -> str:
    """A name for all that the claims, answers and changes of a collection can hang on, as of a day.

    Where a gene shows late, every date may tell how old an animal was when somebody looked, so there all of a record
    counts. Where in its file a record stands never counts.
    """
    genomes = [species.genome for species in collection.species.values()]
    late = any(allele.visible_from_months for each in genomes for locus in each.loci for allele in locus.alleles)
    parts: dict[type, Parts] = {Place: lambda place: (place.file,)}
    if not late:
        parts |= {kind: _evidence_of(kind) for kind in NO_EVIDENCE}
    told = (as_of, collection.species, collection.animals, collection.litters)
    return content_hash(told, parts).hex()


def plans_key(collection: Collection) -> str:
    """A name for all that the roads of the projects can hang on besides."""
    awaited = [litter.expected for litter in collection.litters.values()]
    return content_hash((collection.projects, awaited)).hex()


def doubts_key(collection: Collection) -> str:
    """A name for all that the findings on plans can hang on besides: names, offers, and the lines they point at."""
    animals = [
        (each.name, each.place, each.offer and (each.offer.state, each.offer.since, each.offer.place))
        for each in collection.animals.values()
    ]
    litters = [(each.name, each.place, each.expected) for each in collection.litters.values()]
    return content_hash((collection.projects, collection.species, animals, litters)).hex()


def _evidence_of(kind: type) -> Parts:
    take: Parts = attrgetter(*(each.name for each in fields(kind) if each.name not in NO_EVIDENCE[kind]))
    return take
