"""Share pictures: what other programs show for a link to an animal or a project."""

from collections.abc import Iterator

from sitegen.content.animals import Animal
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.projects import Project
from sitegen.content.species import Species
from sitegen.genetics.loci import Sex
from sitegen.photos.share_pictures import HEIGHT_PX, WIDTH_PX, ShareCard
from sitegen.site.material import Folio, Material, folio
from sitegen.site.parts import Picture
from sitegen.site.plates import lead_photo
from sitegen.site.projects import goal_sentence
from sitegen.site.views import shows_sentence
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import sex_words
from sitegen.words.speech import _, capital, plain


def animal_kicker(species: Species, sex: Sex, born: str) -> str:
    """``Corn snake, female, hatched 14 July 2020``; without the day where it is not known."""
    facts = [capital(species.name), sex_words(sex)]
    if born:
        facts.append(_("{came} {date}").format(came=birth_words(species).came, date=born))
    return _(", ").join(facts)


def offered_on(date: str) -> str:
    """The day on which an offer was made, which stays true when it is not one any more."""
    return _("Offered on {date}").format(date=date)


def project_kicker(species: Species) -> str:
    """``Corn snake, a project``."""
    return _("{species}, a project").format(species=capital(species.name))


def goal_line(goal: str) -> str:
    """What a project aims at."""
    return _("Goal: {goal}").format(goal=goal)


def drawing_mark() -> str:
    """What says that a picture is drawn."""
    return _("Drawing")


def card_in_words(name: str, line: str) -> str:
    """What stands on the picture, for who does not see it."""
    named = _("{name}.").format(name=name)
    return f"{named} {line}" if line else named


_PHOTO_PX = 960
"""Width of the picture that a share picture is composed from; its photo is 626 pixels wide."""


def every_share(material: Material) -> dict[str, ShareCard]:
    """Address of every share picture to what stands on it.

    A site without a public address has none: a program that shows one fetches it from there.
    """
    return {card.address: card for card in _cards(material)} if material.collection.site.address else {}


def _cards(material: Material) -> Iterator[ShareCard]:
    at = folio(material, "index.html")
    for animal in material.collection.animals.values():
        yield animal_share(animal, at)
    for project in material.collection.projects.values():
        yield project_share(project, at)


def animal_share(animal: Animal, at: Folio) -> ShareCard:
    """What stands on the share picture of an animal.

    The line says what was seen of it, which later evidence does not undo; odds change, and a picture that somebody
    sent on would go on telling the old ones. Of an offer the day on which it was made is told, and no price.
    """
    species = at.collection.species[animal.species]
    return ShareCard(
        kicker=animal_kicker(species, animal.sex, at.date(animal.born)),
        name=at.name(animal),
        line=plain(shows_sentence(animal, at)),
        foot=_foot(animal, at),
        mark=_mark(lead_photo(animal.photos, at), at),
        photo=_source(lead_photo(animal.photos, at), at),
    )


def _foot(animal: Animal, at: Folio) -> str:
    name, offer = at.collection.site.name, at.offer(animal)
    if offer is None or offer.state is not OfferState.AVAILABLE or offer.since is None:
        return name
    return "\n".join([name, offered_on(at.date(offer.since))])


def project_share(project: Project, at: Folio) -> ShareCard:
    """What stands on the share picture of a project: what it aims at."""
    photo = _project_photo(project, at)
    return ShareCard(
        kicker=project_kicker(at.collection.species[project.species]),
        name=project.name,
        line=goal_line(plain(goal_sentence(project, at))),
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
    return drawing_mark() if photo and (photo.drawing or at.collection.site.drawings) else ""


def _source(photo: PhotoRecord | None, at: Folio) -> str:
    return at.material.pictures[photo.path].fallback(_PHOTO_PX).file_name if photo else ""


def share_picture(card: ShareCard, at: Folio) -> Picture:
    """The share picture as a picture of one size, with its link from where the page stands."""
    src = at.linker.to(card.address)
    return Picture((), src, WIDTH_PX, HEIGHT_PX, card_in_words(card.name, card.line), False, WIDTH_PX, HEIGHT_PX)
