"""What becomes of the relatives of young when more is written of these: the claims of both states of the records."""

import datetime as dt
from collections.abc import Collection as Several
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import cast

from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.answers import Known
from sitegen.evidence.chains import chains_of
from sitegen.evidence.claims import claims_of_animal
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.genetics.questions import AnimalId, parents_of

Claims = Mapping[AnimalId, tuple[Claim, ...]]


@dataclass(frozen=True, slots=True)
class Becoming:
    """What could be claimed of one relative about a gene before, and can be after; None for nothing."""

    animal: AnimalId
    before: Claim | None
    after: Claim | None


def claims_about(known: Known, animals: Several[AnimalId], as_of: dt.date) -> Claims:
    """Everything that may be said of some animals, as of a day; kept, since one state is compared with many."""
    key = (claims_about, tuple(animals), as_of)
    if key not in known.asked.memory:
        chains = chains_of(known.asked.evidence, known.answers, partial(reasons, known.asked))
        records = known.collection.animals
        known.asked.memory[key] = {each: claims_of_animal(chains, records[each], as_of) for each in animals}
    return cast("Claims", known.asked.memory[key])


def near_to(litter: Litter, collection: Collection) -> tuple[AnimalId, ...]:
    """The parents of a litter, every possible one, their parents, and its listed young."""
    parents = parents_of(litter)
    above = (each for parent in parents for each in parents_of(collection.animals[parent]))
    return tuple(dict.fromkeys((*parents, *above, *litter.young)))


def becomings(before: Claims, after: Claims) -> tuple[Becoming, ...]:
    """What is claimed otherwise, animal by animal; nothing at a locus at which one of the two states has no answer."""
    found: list[Becoming] = []
    for animal in (each for each in before if each in after):
        olds, news = _by_subject(before[animal]), _by_subject(after[animal])
        mute = {claim.locus for claim in (*before[animal], *after[animal]) if claim.kind is ClaimKind.NO_CLAIM}
        for key in dict.fromkeys((*news, *olds)):
            was, is_ = olds.get(key), news.get(key)
            if key[0] not in mute and _told(was) != _told(is_):
                found.append(Becoming(animal, was, is_))
    return tuple(found)


def _by_subject(claims: tuple[Claim, ...]) -> dict[tuple[str, str], Claim]:
    """The strongest claim about each look and each allele; they stand strongest first."""
    return {(claim.locus, claim.look or claim.allele): claim for claim in reversed(claims)}


def _told(claim: Claim | None) -> object:
    """What a claim says, without its reasons."""
    return claim and (claim.kind, claim.posterior, claim.copies, claim.condition, claim.strained, claim.basis)
