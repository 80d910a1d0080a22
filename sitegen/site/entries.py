"""Animals and litters as they stand in lists."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import seasons_by_litter
from sitegen.content.litters import Litter, living_young
from sitegen.content.off_site import is_off_site
from sitegen.content.prices import OfferState
from sitegen.content.species import Species
from sitegen.content.values import PartialDate
from sitegen.evidence.offers import standing
from sitegen.genetics.questions import parents_of
from sitegen.site.addresses import GENES, litter_address, season_address
from sitegen.site.finding import found_by
from sitegen.site.material import Folio
from sitegen.site.parts import AnimalEntry, Line, LitterRow, Plate, SpeciesGroup, YearGroup, words
from sitegen.site.plates import animal_picture, empty_plate, in_time_order, lead_photo, litter_plate
from sitegen.site.views import dam_words, icon_array, odds_label, offer_view, sires_words, unlinked
from sitegen.words.claims import HIDDEN
from sitegen.words.inheritance import birth_words
from sitegen.words.label_line import LONGEST_IN_LIST
from sitegen.words.labels import animals_count, none_came, none_living, stays_text
from sitegen.words.speech import Sentence, _, capital, ngettext, said


def _list_plate(animal: Animal, folio: Folio) -> Plate:
    """The newest photo without a caption, leading to the animal's page."""
    photo, href = lead_photo(animal.photos, folio), folio.linker.animal(animal.id)
    return Plate(animal_picture(photo, animal, folio), (), "", href, photo.drawing) if photo else empty_plate((), href)


def _origin(animal: Animal, folio: Folio, here: str = "") -> Line:
    """``From Juniper and Flint 2026.``; empty without a litter, where the name has it, and on that litter's page."""
    if not animal.litter or is_off_site(animal.litter) or animal.litter == here or animal.name in ("", animal.number):
        return ()
    return folio.line(said(_("From {litter}."), litter=folio.voice.litter(animal.litter)))


def animal_entry(animal: Animal, folio: Folio, litter: str = "") -> AnimalEntry:
    """An animal as it stands in a list; on the page of its ``litter`` a young needs no more than its number."""
    in_its_litter = bool(litter) and animal.name in ("", animal.number)
    name = _("No. {number}").format(number=animal.number) if in_its_litter else folio.name(animal)
    doubtful = [claim for claim in folio.claims(animal.id) if claim.kind in HIDDEN and icon_array(claim, folio)]
    likely = sorted(doubtful, key=lambda claim: -claim.chance)
    line = folio.material.lines[animal.id]
    return AnimalEntry(
        id=animal.id,
        name=name,
        href=folio.linker.animal(animal.id),
        plate=_list_plate(animal, folio),
        species=folio.collection.species[animal.species].name,
        line=unlinked(line.within(LONGEST_IN_LIST)),
        offer=offer_view(animal, folio),
        origin=_origin(animal, folio, litter),
        kept=stays_text() if _stays(animal) else "",
        odds=icon_array(likely[0], folio) if likely else None,
        odds_words=odds_label(likely[0], folio) if likely else "",
        found_by=found_by(animal, folio),
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
    """What is said of a litter without living young: none came, none yet where one is under way, or none recorded."""
    if litter.failed:
        return none_came()
    under_way = litter.born is None and (litter.paired or litter.laid or litter.expected)
    return birth_words(folio.collection.species[litter.species]).none_yet if under_way else none_living()


def came_word(litter: Litter, species: Species) -> str:
    """``hatched`` or ``born``; ``ended`` where what was counted says that none was."""
    counted = litter.eggs is not None or bool(litter.infertile)
    if litter.failed:
        return _("ended")
    if counted and not living_young(litter) and not litter.stillborn:
        return _("ended")
    return birth_words(species).came


def litter_date(litter: Litter, folio: Folio) -> str:
    """When the young came, or none did; before that, the nearest date that is recorded: expected, laid, paired."""
    if day := litter.failed.date if litter.failed else litter.born:
        came = came_word(litter, folio.collection.species[litter.species])
        return _("{came} {date}").format(came=came, date=folio.date(day))
    if litter.expected:
        return _("expected {date}").format(date=folio.date(litter.expected))
    if litter.laid:
        return _("laid {date}").format(date=folio.date(litter.laid))
    return _("paired {date}").format(date=folio.date(litter.paired)) if litter.paired else _("no date recorded")


def _litter_plate(litter: Litter, folio: Folio) -> Plate:
    """The newest photo of a litter; without one that of a young or, before there are any, of a parent, named."""
    href = folio.linker.to(litter_address(litter.id))
    if photos := in_time_order(litter.photos, folio):
        return replace(litter_plate(photos[-1], litter, folio), caption=(), note="", href=href, video=None)
    parents = [each for each in parents_of(litter) if not is_off_site(each)]
    for animal in folio.young(litter) if litter.young else [folio.collection.animals[each] for each in parents]:
        if photo := lead_photo(animal.photos, folio):
            name = animal_entry(animal, folio, litter.id).name
            return Plate(animal_picture(photo, animal, folio), words(name), href=href, drawing=photo.drawing)
    return empty_plate((), href)


def litter_row(litter: Litter, folio: Folio) -> LitterRow:
    """A litter as it stands in the ledger."""
    species = folio.collection.species[litter.species]
    young = living_young(litter)
    told = ngettext("{count} young", "{count} young", young).format(count=young)
    standings = [standing(animal) for animal in folio.young(litter)]
    available = standings.count(OfferState.AVAILABLE)
    offered = ngettext("{count} available", "{count} available", available).format(count=available)
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
        plate=_litter_plate(litter, folio),
    )


def _known_for(litter: Litter) -> PartialDate | None:
    """The date by which a litter stands in the ledger."""
    failed = litter.failed.date if litter.failed else None
    return litter.born or failed or litter.expected or litter.laid or litter.paired


def newest_first(litters: Iterable[Litter]) -> list[Litter]:
    """Litters by the date they are known for, newest first; record order breaks ties."""

    def day(litter: Litter) -> dt.date:
        date = _known_for(litter)
        return date.latest if date else dt.date.min

    return sorted(litters, key=day, reverse=True)


def year_groups(litters: Sequence[Litter], folio: Folio) -> tuple[YearGroup, ...]:
    """Litters by season, newest first."""
    seasons = seasons_by_litter(folio.collection)
    years: dict[int, list[LitterRow]] = {}
    for litter in newest_first(litters):
        years.setdefault(seasons[litter.id] or 0, []).append(litter_row(litter, folio))
    return tuple(
        YearGroup(str(year or _("No date")), tuple(years[year]), folio.linker.to(season_address(year)) if year else "")
        for year in sorted(years, reverse=True)
    )
