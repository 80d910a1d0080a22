"""What may be said of an offer, and which cautions go with an animal or an offer.

What an offered young lacks is told by the site's own rules. Common practice, no source: a young goes when it has taken
some meals. The rules are the breeder's; what they are measured by is recorded: meals taken, the last weight, the date
of birth. An animal that is a year old needs no list of first meals.
"""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.prices import Money, OfferState
from sitegen.content.public import Public, is_shown
from sitegen.content.site import ReadyRules
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Locus, Welfare
from sitegen.genetics.questions import AnimalId

FIRST_YEAR_DAYS = 365


class Lacks(StrEnum):
    """What is missing."""

    MEALS = "meals"
    WEIGHT = "weight"
    AGE = "age"
    UNSHOWN = "unshown"


@dataclass(frozen=True, slots=True)
class Missing:
    """One rule that is not met.

    Attributes:
        what: Which rule; ``UNSHOWN`` for one that is held against records that are not public.
        wanted: Meals, or grams; 0 for the age.
        found: Meals taken, or grams; None where no weight or no date of birth is recorded.
        age: The age that is wanted.
        on: The day on which it reaches that age; None when the date of birth is not recorded.
    """

    what: Lacks
    wanted: int = 0
    found: int | None = None
    age: WrittenAge | None = None
    on: dt.date | None = None


AVAILABILITY = {
    OfferState.AVAILABLE: "https://schema.org/InStock",
    OfferState.ON_HOLD: "https://schema.org/Reserved",
    OfferState.SOLD: "https://schema.org/SoldOut",
    OfferState.NOT_FOR_SALE: "",
}
"""State of an offer to the member of schema.org ItemAvailability; empty: no offer is published at all."""


@dataclass(frozen=True, slots=True)
class OfferClaim:
    """What is said of one offer.

    Attributes:
        since: From when its state is so; None when not recorded.
        price: What is asked; None when not stated. A sold animal has none: the price is no longer asked.
        ready: The day from which it can go, when that day lies ahead; None when it does not.
        missing: What it lacks by the site's own rules before it can go; nothing for one that cannot be had.
        availability: IRI of schema.org, or empty for none: an animal that cannot go yet is not in stock.
    """

    animal: AnimalId
    state: OfferState
    since: PartialDate | None
    price: Money | None
    ready: PartialDate | None
    availability: str
    missing: tuple[Missing, ...] = ()

    @property
    def offered(self) -> bool:
        """True for an animal that is or was for sale."""
        return self.state is not OfferState.NOT_FOR_SALE


def standing(animal: Animal) -> OfferState | None:
    """Where an animal's offer stands; None when it was never offered, or has died without being sold."""
    offer = animal.offer
    if offer is None or (animal.died is not None and offer.state is not OfferState.SOLD):
        return None
    return offer.state


def offer_of(
    animal: Animal, as_of: dt.date, rules: ReadyRules | None = None, whole: Animal | None = None
) -> OfferClaim | None:
    """What may be said of an animal's offer on a day; None when it was never offered.

    ``whole`` is its record with what is not public: the rules are held against it, and of what it lacks by such
    records no more is told than that it lacks something.

    An animal that has died is offered to nobody. One that lacks something by the site's rules is not ready, also
    when the day that was set for it is past; its state stays as recorded.
    """
    offer = animal.offer
    if offer is None or standing(animal) is None:
        return None
    asked = offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)
    ahead = offer.ready is not None and offer.ready.earliest > as_of
    lacks = missing(whole or animal, rules, as_of) if asked and rules else ()
    waits = offer.state is OfferState.AVAILABLE and (ahead or bool(lacks))
    return OfferClaim(
        animal=animal.id,
        state=offer.state,
        since=offer.since,
        price=offer.price if asked else None,
        ready=offer.ready if asked and ahead else None,
        availability="" if waits else AVAILABILITY[offer.state],
        missing=lacks,
    )


def goes_from(offer: OfferClaim, as_of: dt.date) -> dt.date | None:
    """The day from which an animal can go by what is recorded, not before the day of the statement.

    None for one that is on hold or sold, and for one that still lacks what no day brings, as meals.
    """
    ages = [each.on for each in offer.missing if each.what is Lacks.AGE and each.on]
    if offer.state is not OfferState.AVAILABLE or len(ages) < len(offer.missing):
        return None
    return max([as_of, *ages, *([offer.ready.earliest] if offer.ready else [])])


def missing(animal: Animal, rules: ReadyRules, as_of: dt.date) -> tuple[Missing, ...]:
    """The rules that an animal does not meet on a day; none for one that is past its first year."""
    # Without a date of birth an animal is young while it stands in a litter record only.
    in_first_year = (as_of - animal.born.latest).days < FIRST_YEAR_DAYS if animal.born else animal.is_young
    lacks = _missing(animal, rules, as_of) if in_first_year else ()
    unshown = {kind for kind, of in _KEPT_AS.items() if not is_shown(of, animal.public)}
    told = (Missing(Lacks.UNSHOWN) if each.what in unshown else each for each in lacks)
    return tuple(dict.fromkeys(told))


_KEPT_AS = {Lacks.MEALS: Public.MEALS, Lacks.WEIGHT: Public.WEIGHTS}


def _missing(animal: Animal, rules: ReadyRules, as_of: dt.date) -> Iterator[Missing]:
    day = as_of if is_shown(Public.MEALS, animal.public) else dt.date.max  # the statement's day is that of public ones
    taken = sum(1 for meal in animal.meals if meal.taken and meal.date.earliest <= day)
    if rules.meals is not None and taken < rules.meals:
        yield Missing(Lacks.MEALS, rules.meals, taken)
    weighings = sorted(animal.weights, key=lambda weighing: weighing.date.latest)
    last = weighings[-1].grams if weighings else None
    if rules.grams is not None and (last is None or last < rules.grams):
        yield Missing(Lacks.WEIGHT, rules.grams, last)
    if rules.age is not None:
        on = rules.age.reached(animal.born.latest) if animal.born else None
        if on is None or on > as_of:
            yield Missing(Lacks.AGE, age=rules.age, on=on)


# None of the cautions can be switched off.
class CautionKind(StrEnum):
    """What a caution is about."""

    WELFARE = "welfare"
    LETHAL = "lethal"
    SALMONELLA = "salmonella"
    LAW = "law"
    SHIPPING = "shipping"
    VETERINARIAN = "veterinarian"
    OWN_WORDS = "own words"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution; the gene of one on welfare or lethal forms, which has a source where it harms.

    ``claim`` says how the animal stands to the gene; None where no single animal is meant. ``text`` is in the breeder's
    or the species file's own words.
    """

    kind: CautionKind
    species: str = ""
    locus: str = ""
    allele: str = ""
    welfare: Welfare | None = None
    claim: Claim | None = None
    text: str = ""


_HAS_IT = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)


def gene_cautions(collection: Collection, claims: Sequence[Claim]) -> tuple[Caution, ...]:
    """The cautions for the genes an animal shows, carries or may carry; each gene once, in the order of the claims."""
    found: dict[tuple[str, str, CautionKind], Caution] = {}
    for claim in claims:
        if claim.kind not in _HAS_IT:
            continue
        locus = collection.species[claim.species].genome.locus(claim.locus)
        for allele in locus.alleles:
            if not any(allele.id in genotype for genotype in claim.posterior):
                continue
            for caution in allele_cautions(claim.species, locus, allele.id, claim):
                found.setdefault((claim.locus, allele.id, caution.kind), caution)
    return tuple(found.values())


def allele_cautions(species: str, locus: Locus, allele_id: str, claim: Claim | None = None) -> tuple[Caution, ...]:
    """The cautions that go with one allele wherever it is named."""
    allele = locus.allele(allele_id)
    found = []
    if allele.welfare:
        found.append(Caution(CautionKind.WELFARE, species, locus.id, allele_id, allele.welfare, claim))
    if (allele_id, allele_id) in locus.lethal:
        found.append(Caution(CautionKind.LETHAL, species, locus.id, allele_id, None, claim))
    return tuple(found)


def offer_cautions(collection: Collection, *species_ids: str) -> tuple[Caution, ...]:
    """The cautions wherever animals are offered; the general ones first, then the species' and the site's own."""
    always = (CautionKind.SALMONELLA, CautionKind.LAW, CautionKind.SHIPPING, CautionKind.VETERINARIAN)
    general = [Caution(kind) for kind in always]
    own = [
        Caution(CautionKind.OWN_WORDS, species=species, text=text)
        for species in dict.fromkeys(species_ids)
        for text in collection.species[species].cautions
    ]
    return (*general, *own, *(Caution(CautionKind.OWN_WORDS, text=text) for text in collection.site.cautions))
