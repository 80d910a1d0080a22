"""Text that stands for a photograph: who, what it shows, how old it was."""

from collections.abc import Sequence

from sitegen.content.animals import Animal, PhotoRecord
from sitegen.content.litters import Litter
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.words.measures import age_text
from sitegen.words.runs import plain
from sitegen.words.speech import _, capital, listed
from sitegen.words.voice import Voice, animal_name, claimed_name


def alt_text(photo: PhotoRecord, animal: Animal, claims: Sequence[Claim], voice: Voice) -> str:
    """The text alternative of an animal's photograph: ``Juniper, a female corn snake showing amel, 3 years old``.

    A drawing is called a drawing. The age is told only when both dates are known.
    """
    shown = [c for c in claims if c.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)]
    looks = [claimed_name(voice.locus(claim), claim) for claim in shown]
    species = voice.species(animal.species).name
    whom = _("{name}, a {species}") if animal.sex is Sex.UNKNOWN else _("{name}, a {sex} {species}")
    sex = {Sex.FEMALE: _("female"), Sex.MALE: _("male")}.get(animal.sex, "")
    told = whom.format(name=animal_name(voice.collection, animal.id), sex=sex, species=species)
    if looks:
        told = _("{whom} showing {looks}").format(whom=told, looks=plain(listed(looks)))
    age = age_text(animal.born, photo.date.latest) if animal.born and photo.date else ""
    told = _("{whom}, {age} old").format(whom=told, age=age) if age else told
    return _("Drawing of {whom}").format(whom=told) if photo.drawing else capital(told)


def litter_alt_text(photo: PhotoRecord, litter: Litter) -> str:
    """The text alternative of a photograph of a whole litter; before the young are here it may show eggs or a pair."""
    born = litter.born
    if born is None or (photo.date and photo.date.latest < born.earliest):
        return (_("Drawing for {name}") if photo.drawing else _("Photograph for {name}")).format(name=litter.name)
    words = _("Drawing of the young of {litter}") if photo.drawing else _("The young of {litter}")
    return words.format(litter=litter.name)
