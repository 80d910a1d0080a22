"""Animals and litters as they stand in lists, and what a list can be narrowed by."""

import datetime as dt
from collections.abc import Iterable, Sequence
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.prices import OfferState
from sitegen.content.species import Species
from sitegen.content.values import PartialDate
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.offers import standing
from sitegen.genetics.loci import look_id
from sitegen.site.addresses import GENES, litter_address
from sitegen.site.material import Folio
from sitegen.site.parts import AnimalEntry, Choice, Line, LitterRow, Plate, Sieve, SpeciesGroup, YearGroup
from sitegen.site.plates import animal_picture, empty_plate, in_time_order, lead_photo, litter_plate
from sitegen.site.views import dam_words, offer_view, sires_words
from sitegen.words.claims import HIDDEN, SEEN
from sitegen.words.conditions import is_conditional
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import animals_count, none_living, offer_state, sex_words, stays_text
from sitegen.words.speech import Sentence, _, capital, ngettext, said


def _list_plate(animal: Animal, folio: Folio) -> Plate:
    """The newest photo without a caption, leading to the animal's page."""
    photo, href = lead_photo(animal.photos, folio), folio.linker.animal(animal.id)
    return Plate(animal_picture(photo, animal, folio), (), "", href, photo.drawing) if photo else empty_plate((), href)


def _origin(animal: Animal, folio: Folio, here: str = "") -> Line:
    """``From Juniper and Flint 2026.``; empty without a litter, where the name has it, and on that litter's page."""
    if not animal.litter or animal.litter == here or animal.name in ("", animal.number):
        return ()
    return folio.line(said(_("From {litter}."), litter=folio.voice.litter(animal.litter)))


def animal_entry(animal: Animal, folio: Folio, litter: str = "") -> AnimalEntry:
    """An animal as it stands in a list; on the page of its ``litter`` a young needs no more than its number."""
    in_its_litter = bool(litter) and animal.name in ("", animal.number)
    name = _("No. {number}").format(number=animal.number) if in_its_litter else folio.name(animal)
    return AnimalEntry(
        id=animal.id,
        name=name,
        href=folio.linker.animal(animal.id),
        plate=_list_plate(animal, folio),
        species=folio.collection.species[animal.species].name,
        line=folio.line(folio.material.lines[animal.id].whole()),
        offer=offer_view(animal, folio),
        origin=_origin(animal, folio, litter),
        kept=stays_text() if _stays(animal) else "",
        sieved=sieve_values(animal, folio),
    )


def _stays(animal: Animal) -> bool:
    """True for one that is kept, lives, and is not offered."""
    offered = animal.offer is not None and animal.offer.state is not OfferState.NOT_FOR_SALE
    return animal.kept and animal.died is None and not offered


def species_groups(animals: Iterable[Animal], folio: Folio) -> tuple[SpeciesGroup, ...]:
    """The animals by species, in record order; species without any are left out."""
    by_species: dict[str, list[Animal]] = {species: [] for species in folio.collection.species}
    for animal in animals:
        by_species[animal.species].append(animal)
    return tuple(
        SpeciesGroup(
            id=species,
            name=capital(folio.collection.species[species].name),
            scientific=folio.collection.species[species].scientific,
            href=folio.linker.to(f"{GENES}#{species}"),
            entries=tuple(animal_entry(animal, folio) for animal in found),
            count=animals_count(len(found)),
        )
        for species, found in by_species.items()
        if found
    )


def parents_in_line(litter: Litter, folio: Folio) -> tuple[Sentence, Sentence]:
    """Dam and sires where no label says which is which; one that is not recorded is named as such."""
    return dam_words(litter, folio, _("dam not recorded")), sires_words(litter, folio, _("sire not recorded"))


def no_young(litter: Litter, folio: Folio) -> str:
    """What is said of a litter without living young: none yet where one is under way, else that none is recorded."""
    under_way = litter.born is None and (litter.paired or litter.laid or litter.expected)
    return birth_words(folio.collection.species[litter.species]).none_yet if under_way else none_living()


def came_word(litter: Litter, species: Species) -> str:
    """``hatched`` or ``born``; ``ended`` where what was counted says that none was."""
    counted = litter.eggs is not None or bool(litter.infertile)
    if counted and not living_young(litter) and not litter.stillborn:
        return _("ended")
    return birth_words(species).came


def litter_date(litter: Litter, folio: Folio) -> str:
    """When the young came; before that, the nearest date that is recorded: expected, laid, paired."""
    if litter.born:
        came = came_word(litter, folio.collection.species[litter.species])
        return _("{came} {date}").format(came=came, date=folio.date(litter.born))
    if litter.expected:
        return _("expected {date}").format(date=folio.date(litter.expected))
    if litter.laid:
        return _("laid {date}").format(date=folio.date(litter.laid))
    return _("paired {date}").format(date=folio.date(litter.paired)) if litter.paired else _("no date recorded")


def living_young(litter: Litter) -> int:
    """How many living young are recorded, listed or not."""
    return len(litter.young) + sum(others.count for others in litter.others)


def litter_row(litter: Litter, folio: Folio) -> LitterRow:
    """A litter as it stands in the ledger."""
    species = folio.collection.species[litter.species]
    young = living_young(litter)
    told = ngettext("{count} young", "{count} young", young).format(count=young)
    standings = [standing(folio.collection.animals[animal]) for animal in litter.young]
    available = standings.count(OfferState.AVAILABLE)
    offered = ngettext("{count} available", "{count} available", available).format(count=available)
    photos = in_time_order(litter.photos, folio)
    dam, sires = parents_in_line(litter, folio)
    return LitterRow(
        href=folio.linker.to(litter_address(litter.id)),
        name=litter.name,
        date=litter_date(litter, folio),
        dam=folio.line(dam),
        sires=folio.line(sires),
        species=species.name,
        state=told if young else no_young(litter, folio),
        offered=offered if available else "",
        picture=litter_plate(photos[-1], litter, folio).picture if photos else None,
    )


def _known_for(litter: Litter) -> PartialDate | None:
    """The date by which a litter stands in the ledger."""
    return litter.born or litter.expected or litter.laid or litter.paired


def newest_first(litters: Iterable[Litter]) -> list[Litter]:
    """Litters by the date they are known for, newest first; record order breaks ties."""

    def day(litter: Litter) -> dt.date:
        date = _known_for(litter)
        return date.latest if date else dt.date.min

    return sorted(litters, key=day, reverse=True)


def year_groups(litters: Sequence[Litter], folio: Folio) -> tuple[YearGroup, ...]:
    """Litters by season, newest first."""
    years: dict[str, list[LitterRow]] = {}
    for litter in newest_first(litters):
        date = _known_for(litter)
        years.setdefault(str(date.year) if date else _("No date"), []).append(litter_row(litter, folio))
    return tuple(YearGroup(year, tuple(rows)) for year, rows in years.items())


WORTH_IT = 4
"""A list shorter than this is read faster than it is narrowed."""


def _holds(claim: Claim) -> bool:
    """True for a claim that says with what chance an animal has an allele."""
    return bool(claim.allele) and claim.kind in (*SEEN, *HIDDEN) and claim.kind is not ClaimKind.TOO_YOUNG


def _held_chance(claim: Claim) -> Fraction | int:
    """The chance by which a list is narrowed: what hangs on a condition is likely, and never among what is certain."""
    return 1 if claim.kind in SEEN else Fraction(99, 100) if is_conditional(claim) else claim.chance


def _allele_word(claim: Claim, folio: Folio) -> str:
    return look_id(folio.voice.allele(claim).name)


def sieve_values(animal: Animal, folio: Folio) -> tuple[tuple[str, str], ...]:
    """An animal's facts as data for the theme's script.

    Genes stand there by name, so that species can be mixed, and are parted by blanks: words for what it shows, and
    words each with an exact chance after a colon for what it may have.
    """
    claims, offer = folio.claims(animal.id), folio.offer(animal)
    shown = [look_id(folio.voice.gene(claim).text) for claim in claims if claim.kind in SEEN]
    held = [f"{_allele_word(c, folio)}:{_held_chance(c)}" for c in claims if _holds(c)]
    return (
        ("name", folio.name(animal)),
        ("sex", animal.sex.value),
        ("born", str(animal.born) if animal.born else ""),
        ("shows", " ".join(shown)),
        ("carries", " ".join(held)),
        ("state", look_id(offer.state.value) if offer else ""),
        ("price", str(offer.price.amount) if offer and offer.price else ""),
    )


def sieve_of(animals: Sequence[Animal], folio: Folio, *, offers: bool) -> Sieve | None:
    """The choices that fit some animals; None for a short list.

    Args:
        animals: Those in the list.
        folio: The page.
        offers: The list is of offers, so that state and price matter.
    """
    if len(animals) < WORTH_IT:
        return None
    claims = [claim for animal in animals for claim in folio.claims(animal.id)]
    states = [animal.offer.state for animal in animals if animal.offer] if offers else []
    counted = _("{shown} of {all} shown")
    by_price = (Choice("price", _("lowest price first")),) if offers else ()
    return Sieve(
        shows=_choices((look_id(name), name) for c in claims if c.kind in SEEN for name in [folio.voice.gene(c).text]),
        carries=_choices((_allele_word(c, folio), folio.voice.allele(c).name) for c in claims if _holds(c)),
        chances=(
            Choice("", _("with any chance")),
            Choice("1/2", _("at least 50 in 100")),
            Choice("2/3", _("at least about 67 in 100")),
            Choice("1", _("for certain, or by a keeper’s word")),
        ),
        sexes=_choices((animal.sex.value, sex_words(animal.sex)) for animal in animals),
        states=_choices((look_id(state.value), offer_state(state)) for state in states),
        orders=(
            Choice("", _("as listed")),
            *by_price,
            Choice("young", _("youngest first")),
            Choice("name", _("by name")),
        ),
        counted=counted,
        all_shown=counted.format(shown=len(animals), all=len(animals)),
    )


def _choices(found: Iterable[tuple[str, str]]) -> tuple[Choice, ...]:
    """Each choice once, by name; none where there is nothing to choose between."""
    unique = sorted(dict.fromkeys((value, capital(text)) for value, text in found), key=lambda pair: pair[1])
    return tuple(Choice(value, text) for value, text in unique) if len(unique) > 1 else ()
