"""A gene in pictures: the wild type, each look, what came together, one animal as it grew; and what is not here yet."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.content.species import Species
from sitegen.evidence.judging import how_judged
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Judging
from sitegen.genetics.loci import Allele, Locus, Look
from sitegen.site.material import Folio
from sitegen.site.parts import Line, Plate
from sitegen.site.plates import in_time_order, lead_photo, named_plate, opening_plate
from sitegen.words.claims import SEEN
from sitegen.words.conditions import is_conditional
from sitegen.words.inheritance import copies_words, no_photograph_of, not_seen_yet, plate_words
from sitegen.words.speech import Sentence, Words, _, plain, said


@dataclass(frozen=True, slots=True)
class GenePlates:
    """The plates of one locus: ``looks`` from the wild type on, ``combined`` with other genes, one animal's ``ages``.

    ``missing`` says what no animal in the records shows, and what was not photographed.
    """

    looks: tuple[Plate, ...]
    combined: tuple[Plate, ...]
    ages: tuple[Plate, ...]
    ages_words: Line
    missing: tuple[Line, ...]


_MOST_COMBINED = 6
_MOST_AGES = 4


def is_here(animal: Animal) -> bool:
    """True for an animal that is still with the breeder."""
    return animal.died is None and not (animal.offer and animal.offer.state is OfferState.SOLD)


def gene_plates(species: Species, locus: Locus, folio: Folio) -> GenePlates:
    """All plates of a locus, each of one animal; those that are still here go before those that are not."""
    own, pictured = {look.id for look in locus.looks}, _pictured(species, folio)
    wild = next((animal for animal in pictured if _is_wild_type(animal, folio)), None)
    looks = (
        [_plate(wild, said(_("The normal look: {animal}."), animal=folio.voice.animal(wild.id)), folio)] if wild else []
    )
    for look in locus.looks:
        looks += _look_plates(look, locus, pictured, folio)
    several: dict[frozenset[str], Animal] = {}
    stands = {plate.href for plate in looks}
    for animal in pictured:
        seen = _seen(animal, folio)
        if len(seen) > 1 and seen & own and folio.linker.animal(animal.id) not in stands:
            several.setdefault(seen, animal)
    combined = sorted(several.values(), key=lambda animal: len(_seen(animal, folio)))[:_MOST_COMBINED]
    grown = max((a for a in pictured if _seen(a, folio) & own), key=lambda a: len(_dated(a, folio)), default=None)
    ages = _ages(grown, folio) if grown else ()
    told = (
        said(_("The same animal at different ages: {animal}."), animal=folio.voice.animal(grown.id))
        if ages and grown
        else ()
    )
    return GenePlates(
        looks=tuple(looks),
        combined=tuple(_named_by_look(animal, folio) for animal in combined),
        ages=ages,
        ages_words=folio.line(told),
        missing=folio.lines(_missing(species, locus, pictured, wild is None, folio)),
    )


def alike_plates(species: Species, allele: Allele, folio: Folio) -> tuple[Plate, ...]:
    """An allele's look beside each one that is not the same; empty where there is no picture of both."""
    genome, pictured = species.genome, _pictured(species, folio)
    found = []
    for name in (allele.id, *allele.not_the_same_as):
        home = next((locus for locus in genome.loci if any(other.id == name for other in locus.alleles)), None)
        look = home and home.shown.get((name, name))
        animal = _showing({look}, pictured, folio) if look else None
        if home and look and animal:
            sentence = plate_words(home.look(look).name, "", folio.voice.animal(animal.id))
            found.append(_plate(animal, sentence, folio, home.look(look)))
        elif name == allele.id:
            return ()
    return tuple(found) if len(found) > 1 else ()


def _seen(animal: Animal, folio: Folio) -> frozenset[str]:
    """The looks that are claimed of an animal."""
    return frozenset(claim.look for claim in folio.claims(animal.id) if claim.kind in SEEN)


def _pictured(species: Species, folio: Folio) -> list[Animal]:
    """The animals of a species that have a photograph, those that are here first, grown ones before young."""
    animals = [animal for animal in folio.collection.animals.values() if animal.species == species.id]
    return sorted(
        (a for a in animals if lead_photo(a.photos, folio)), key=lambda animal: (not is_here(animal), animal.is_young)
    )


def _is_wild_type(animal: Animal, folio: Folio) -> bool:
    """True for one that was judged for every gene and shows none."""
    claims = folio.claims(animal.id)
    if _seen(animal, folio) or any(claim.kind is ClaimKind.NO_CLAIM for claim in claims):
        return False
    return how_judged(folio.collection, animal, folio.material.as_of) is Judging.WHOLE


def _showing(looks: Iterable[str], animals: Sequence[Animal], folio: Folio) -> Animal | None:
    """The animal that shows the looks and least besides; of several the first."""
    wanted = frozenset(looks)
    fitting = [animal for animal in animals if _seen(animal, folio) >= wanted]
    return min(fitting, key=lambda animal: len(_seen(animal, folio)), default=None)


def _look_plates(look: Look, locus: Locus, animals: Sequence[Animal], folio: Folio) -> Iterator[Plate]:
    """A look, with the copies that show it; one that one copy shows too, also on an animal that surely has two."""
    animal = _showing((look.id,), animals, folio)
    if animal is None:
        return
    shown_by = [genotype for genotype, shown in locus.shown.items() if shown == look.id]
    copies = copies_words(locus, look, shown_by)
    yield _plate(animal, plate_words(look.name, copies, folio.voice.animal(animal.id)), folio, look)
    doubled = [g for g in shown_by if g[0] == g[1]] if len(shown_by) > 1 else []
    two = next((a for a in animals if a != animal and any(_has_two(c, look) for c in folio.claims(a.id))), None)
    if doubled and two:
        copies = copies_words(locus, look, doubled)
        yield _plate(two, plate_words(look.name, copies, folio.voice.animal(two.id)), folio, look)


def _has_two(claim: Claim, look: Look) -> bool:
    """True where two copies are certain by records of our own."""
    sure = claim.basis is not Basis.PREVIOUS_KEEPER and not is_conditional(claim)
    return claim.kind in SEEN and claim.look == look.id and claim.copies == 2 and sure


def _plate(animal: Animal, sentence: Sentence, folio: Folio, look: Look | None = None) -> Plate:
    """An animal's newest photo under a sentence; where it shows more than the look, all that it shows is noted."""
    plate, seen = named_plate(animal, folio), plain(folio.material.lines[animal.id].seen())
    more = look is not None and _seen(animal, folio) != {look.id}
    note = ", ".join(part for part in (seen if more else "", plate.note) if part)
    return replace(plate, caption=folio.line(sentence), note=note)


def _named_by_look(animal: Animal, folio: Folio) -> Plate:
    seen = plain(folio.material.lines[animal.id].seen())
    return _plate(animal, plate_words(seen, "", folio.voice.animal(animal.id)), folio)


def _dated(animal: Animal, folio: Folio) -> list[int]:
    """The places of the photographs that have a day, in the order of time."""
    return [at for at, photo in enumerate(in_time_order(animal.photos, folio)) if photo.date]


def _ages(animal: Animal, folio: Folio) -> tuple[Plate, ...]:
    """The oldest photograph of an animal and the newest ones; empty where there are not two with a day."""
    photos, dated = in_time_order(animal.photos, folio), _dated(animal, folio)
    if len(dated) < 2 or animal.born is None:
        return ()
    few = dated if len(dated) <= _MOST_AGES else [dated[0], *dated[1 - _MOST_AGES :]]
    return tuple(opening_plate(photos[at], animal, folio) for at in few)


def _missing(
    species: Species, locus: Locus, pictured: Sequence[Animal], no_wild: bool, folio: Folio
) -> Iterator[Sentence]:
    """What no record names, then what no photograph shows: looks of the locus, and named combinations with them."""
    recorded = [
        frozenset(claim.look for claim in folio.claims(animal.id) if claim.kind in (*SEEN, ClaimKind.NO_CLAIM))
        for animal in folio.collection.animals.values()
        if animal.species == species.id
    ]
    for litter in folio.collection.litters.values():
        if litter.species == species.id:
            recorded += [frozenset(seen.look for seen in others.judged.seen) for others in litter.others]
    own = {look.id for look in locus.looks}
    wanted: list[tuple[Words, frozenset[str]]] = [(look.name, frozenset((look.id,))) for look in locus.looks]
    wanted += [(each.name, frozenset(each.looks)) for each in species.genome.combinations if own & set(each.looks)]
    unseen = [name for name, looks in wanted if not any(looks <= each for each in recorded)]
    shown = [each for each in wanted if each[0] not in unseen]
    unpictured = [name for name, looks in shown if not _showing(looks, pictured, folio)]
    if no_wild:
        unpictured.insert(0, _("the normal look"))
    yield not_seen_yet(unseen)
    yield no_photograph_of(unpictured)
