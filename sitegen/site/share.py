"""Share pictures: what other programs show for a link to a page."""

from collections.abc import Iterator

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.projects import Project
from sitegen.content.species import Species
from sitegen.evidence.offers import allele_cautions
from sitegen.genetics.loci import Locus
from sitegen.photos.share_pictures import HEIGHT_PX, WIDTH_PX, ShareCard
from sitegen.site.addresses import START
from sitegen.site.entries import came_word
from sitegen.site.frame import fallback_description
from sitegen.site.lists import kept_animals
from sitegen.site.material import Folio, Material, folio
from sitegen.site.parts import Picture
from sitegen.site.plates import lead_photo
from sitegen.site.projects import goal_sentence
from sitegen.site.views import dam_words, sires_words
from sitegen.words.buying import caution_title
from sitegen.words.claims import SEEN
from sitegen.words.inheritance import birth_words, inheritance_sentence
from sitegen.words.speech import _, capital, plain

_PHOTO_PX = 960
"""Width of the picture that a share picture is composed from; its photo is 626 pixels wide."""


def every_share(material: Material) -> dict[str, ShareCard]:
    """Address of every share picture to what stands on it.

    A site without a public address has none: a program that shows one fetches it from there.
    """
    records, at = material.collection, folio(material, START)
    if not records.site.address:
        return {}
    cards = [site_share(at), *(animal_share(animal, at) for animal in records.animals.values())]
    cards += [litter_share(litter, at) for litter in records.litters.values()]
    cards += [gene_share(species, locus, at) for species in records.species.values() for locus in species.genome.loci]
    cards += [project_share(project, at) for project in records.projects.values()]
    return {card.address: card for card in cards}


def animal_share(animal: Animal, at: Folio) -> ShareCard:
    """What stands on the share picture of an animal.

    Of its label line only what later evidence does not undo; odds change, and a picture that somebody sent on would
    go on telling the old ones. Of an offer the day on which it was made is told, and no price.
    """
    photo = lead_photo(animal.photos, at)
    return ShareCard(
        kicker=capital(at.collection.species[animal.species].name),
        name=at.name(animal),
        line=plain(at.material.lines[animal.id].lasting()),
        foot=_foot(animal, at),
        mark=_mark(photo, at),
        photo=_source(photo, at),
    )


def site_share(at: Folio) -> ShareCard:
    """What stands on the share picture of the site, for its pages of many records or none."""
    site, animals = at.collection.site, sorted(kept_animals(at), key=lambda animal: -len(animal.photos))
    photo = next((photo for animal in animals if (photo := lead_photo(animal.photos, at))), None)
    return ShareCard("", site.name, fallback_description(at), "", _mark(photo, at), _source(photo, at))


def litter_share(litter: Litter, at: Folio) -> ShareCard:
    """What stands on the share picture of a litter: its parents and the day on which it came."""
    species, word = at.collection.species[litter.species], at.material.labels
    nobody, parents = _("not recorded"), [litter.dam, *(sire for sire, _share in litter.sires)]
    photos = [litter.photos, *(at.collection.animals[each].photos for each in (*litter.young, *parents) if each)]
    photo = next((photo for each in photos if (photo := lead_photo(each, at))), None)
    facts = [
        (word.dam, plain(dam_words(litter, at, nobody))),
        (word.possible_sires if len(litter.sires) > 1 else word.sire, plain(sires_words(litter, at, nobody))),
        (capital(came_word(litter, species)), at.date(litter.born)),
    ]
    return ShareCard(
        kicker=capital(birth_words(species).litter) + ", " + species.name,
        name=litter.name,
        line=", ".join(f"{label} {told}" for label, told in facts if told),
        foot=at.collection.site.name,
        mark=_mark(photo, at),
        photo=_source(photo, at),
    )


def gene_share(species: Species, locus: Locus, at: Folio) -> ShareCard:
    """What stands on the share picture of a gene: how it is inherited, that it harms, and an animal that shows it."""
    photo = next(_showing(species, locus, at), None)
    told = [plain(inheritance_sentence(locus, allele)) for allele in locus.alleles]
    harms = [harm.kind for allele in locus.alleles for harm in allele_cautions(species.id, locus, allele.id)]
    told += [f"{caution_title(kind)}." for kind in harms]
    return ShareCard(
        kicker=capital(species.name),
        name=capital(locus.name),
        line=" ".join(dict.fromkeys(told)),
        foot=at.collection.site.name,
        mark=_mark(photo, at),
        photo=_source(photo, at),
    )


def _showing(species: Species, locus: Locus, at: Folio) -> Iterator[PhotoRecord]:
    for animal in at.collection.animals.values():
        shows = (claim.locus == locus.id and claim.kind in SEEN for claim in at.claims(animal.id))
        if animal.species == species.id and any(shows) and (photo := lead_photo(animal.photos, at)):
            yield photo


def _foot(animal: Animal, at: Folio) -> str:
    """The site, and the day on which an offer was made, which stays true when it is not one any more."""
    name, offer = at.collection.site.name, at.offer(animal)
    if offer is None or offer.state is not OfferState.AVAILABLE or offer.since is None:
        return name
    return name + "\n" + _("Offered on {date}").format(date=at.date(offer.since))


def project_share(project: Project, at: Folio) -> ShareCard:
    """What stands on the share picture of a project: what it aims at."""
    photo, species = _project_photo(project, at), at.collection.species[project.species]
    return ShareCard(
        kicker=_("{species}, a project").format(species=capital(species.name)),
        name=project.name,
        line=_("Goal: {goal}").format(goal=plain(goal_sentence(project, at))),
        foot=at.collection.site.name,
        mark=_mark(photo, at),
        photo=_source(photo, at),
    )


def _project_photo(project: Project, at: Folio) -> PhotoRecord | None:
    """Its newest photo; without any, the newest of the first animal of its stages that has one."""
    own = [*project.photos, *(photo for update in project.updates for photo in update.photos)]
    if found := lead_photo(own, at):
        return found
    names = [name for stage in project.stages for name in (stage.dam, stage.sire)]
    animals = [at.collection.animals[name] for name in names if name in at.collection.animals]
    return next((photo for animal in animals if (photo := lead_photo(animal.photos, at))), None)


def _mark(photo: PhotoRecord | None, at: Folio) -> str:
    """What says that a picture is drawn."""
    return _("Drawing") if photo and (photo.drawing or at.collection.site.drawings) else ""


def _source(photo: PhotoRecord | None, at: Folio) -> str:
    return at.material.pictures[photo.path].fallback(_PHOTO_PX).file_name if photo else ""


def share_picture(card: ShareCard, at: Folio) -> Picture | None:
    """The share picture as a picture of one size, with its link from where the page stands.

    None on a site without a public address, which has none.
    """
    if not at.collection.site.address:
        return None
    named = _("{name}.").format(name=card.name)
    alt = f"{named} {card.line}" if card.line else named
    return Picture((), at.linker.to(card.address), WIDTH_PX, HEIGHT_PX, alt, False, WIDTH_PX, HEIGHT_PX)
