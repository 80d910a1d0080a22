"""Share pictures: what other programs show for a link to an animal or a project."""

from sitegen.content.animals import Animal
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.projects import Project
from sitegen.photos.share_pictures import HEIGHT_PX, WIDTH_PX, ShareCard
from sitegen.site.addresses import START
from sitegen.site.material import Folio, Material, folio
from sitegen.site.parts import Picture
from sitegen.site.plates import lead_photo
from sitegen.site.projects import goal_sentence
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
    cards = [animal_share(animal, at) for animal in records.animals.values()]
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


def share_picture(card: ShareCard, at: Folio) -> Picture:
    """The share picture as a picture of one size, with its link from where the page stands."""
    named = _("{name}.").format(name=card.name)
    alt = f"{named} {card.line}" if card.line else named
    return Picture((), at.linker.to(card.address), WIDTH_PX, HEIGHT_PX, alt, False, WIDTH_PX, HEIGHT_PX)
