"""Which offers fit the people who wait, and how surely. Data, no sentence; it names people, so no page may read it.

A wish is held against what may be said of an animal, never against more: a look that nobody has judged, other than for
its age, is no look, and what hangs on a previous keeper's word or on a condition is not certain.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.prices import OfferState
from sitegen.content.waiting import Person
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, chance_of_allele, chance_of_look, looks_with
from sitegen.evidence.offers import standing
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.today import is_ready

_SEEN = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)
_HELD = (ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)


@dataclass(frozen=True, slots=True)
class Fit:
    """An offer that fits, or may fit, what somebody waits for.

    Attributes:
        person, animal: Who waits, and what is offered.
        claims: What may be said of each look and each gene that is wanted, in this order.
        ready: The animal can go.
    """

    person: Person
    animal: Animal
    claims: tuple[Claim, ...]
    ready: bool

    @property
    def sex_open(self) -> bool:
        """True when a sex is wanted and that of the animal is not known."""
        return self.animal.sex is Sex.UNKNOWN and self.person.sex is not Sex.UNKNOWN

    @property
    def is_sure(self) -> bool:
        """True when nothing of it is in doubt."""
        return not self.sex_open and all(_is_certain(claim) for claim in self.claims)


def fits(collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]], day: dt.date) -> tuple[Fit, ...]:
    """Every offer that fits somebody who waits, on a day: whoever waits longest first, for each sure fits first.

    Held against offers are the wishes of those who are not served and were offered nothing, as far as they name more
    than words; what was offered to somebody fits nobody else.
    """
    taken = {person.offered for person in collection.waiting if not person.done}
    offers = [
        animal
        for animal in collection.animals.values()
        if standing(animal) is OfferState.AVAILABLE and animal.id not in taken
    ]
    found: list[Fit] = []
    for person in collection.waiting:
        if not (person.done or person.offered):
            own = [fit for animal in offers if (fit := _fit(person, animal, collection, claims, day))]
            found += sorted(own, key=lambda fit: not fit.is_sure)
    return tuple(found)


def _fit(
    person: Person, animal: Animal, collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]], day: dt.date
) -> Fit | None:
    """How an offer fits what somebody wants; None when something speaks against it, or only words say what that is.

    A price that is not recorded, or is asked in another currency, does not speak against it.
    """
    goal, asked, most = person.goal, animal.offer and animal.offer.price, person.up_to
    wanted = goal.shows or goal.carries or person.species or most or person.sex is not Sex.UNKNOWN
    too_dear = asked and most and asked.currency == most.currency and asked.amount > most.amount
    other_sex = {person.sex, animal.sex} == {Sex.FEMALE, Sex.MALE}
    if not wanted or too_dear or other_sex or person.species not in ("", animal.species):
        return None
    genome, own = collection.species[animal.species].genome, claims[animal.id] if goal.shows or goal.carries else ()
    told = [
        *(_of_look(look, genome, own) for look in goal.shows),
        *(_of_allele(allele, genome, own) for allele in goal.carries),
    ]
    known = tuple(claim for claim in told if claim)
    ready = is_ready(animal, collection.site.ready_when, day)
    return Fit(person, animal, known, ready) if len(known) == len(told) else None


def _of_look(look: str, genome: Genome, claims: Sequence[Claim]) -> Claim | None:
    """The claim that an animal shows a look, or may show it once it is old enough, with the chance of that look."""
    locus = genome.locus(genome.look(look).locus)
    for claim in claims:
        if claim.kind in _SEEN and claim.look == look:
            return claim
        if claim.kind is ClaimKind.TOO_YOUNG and claim.locus == locus.id and look in looks_with(locus, claim.allele):
            chance = chance_of_look(locus, claim.posterior, look) * locus.allele(claim.allele).penetrance
            return replace(claim, look=look, chance=chance) if chance else None
    return None


def _of_allele(allele: str, genome: Genome, claims: Sequence[Claim]) -> Claim | None:
    """The strongest claim that an animal has, or may have, an allele."""
    loci = [locus.id for locus in genome.loci if any(each.id == allele for each in locus.alleles)]
    for claim in claims:  # strongest first
        shown = claim.kind in _SEEN and chance_of_allele(claim.posterior, allele) == 1
        if claim.locus in loci and (shown or (claim.kind in _HELD and claim.allele == allele)):
            return claim
    return None


def _is_certain(claim: Claim) -> bool:
    hangs = claim.strained or (claim.condition is not None and not claim.condition.of_copies)
    proven = claim.kind is ClaimKind.CARRIES and not hangs and claim.basis is not Basis.PREVIOUS_KEEPER
    return claim.kind in _SEEN or proven
