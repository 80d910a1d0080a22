"""The pedigree on an animal's page: parents and grandparents by picture, each in the outline of its sex.

The outlines and lines are those of the drawn pedigree of the paper (:mod:`sitegen.site.pedigree_chart`, with their
source); a photograph stands where genes are filled in there, and the label line, if need be shortened, below it.
"""

from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.genetics.loci import Sex
from sitegen.site.material import Folio
from sitegen.site.parts import Line, Picture
from sitegen.site.pedigree_chart import OUTLINES, Outline, dam_of, sire_of
from sitegen.site.plates import animal_picture, lead_photo
from sitegen.site.views import dam_words, sires_words
from sitegen.words.speech import Sentence, _, capital

LONGEST_LABEL = 60
"""Characters of a label line below a symbol: three lines of its column."""


@dataclass(frozen=True, slots=True)
class Kin:
    """One place of the pedigree. ``shape`` is square, circle or diamond; the label line of the animal tells its sex.

    ``part`` is empty for the animal itself; ``related`` says that its ``parents`` (sire, dam) are.
    """

    part: str
    who: Line
    shape: str
    label: Line
    picture: Picture | None
    recorded: bool
    died: bool
    related: bool
    parents: "tuple[Kin, ...]"


@dataclass(frozen=True, slots=True)
class PicturedPedigree:
    """The animal with its ancestors; ``legend`` says what the outlines and lines mean."""

    animal: Kin
    title: str
    legend: str


def pictured_pedigree(animal: Animal, folio: Folio) -> PicturedPedigree | None:
    """Three generations, as far as they are recorded; None without a recorded parent."""
    if not animal.dam and not animal.sires:
        return None
    word = folio.material.labels
    sire, dam = sire_of(animal, folio), dam_of(animal, folio)
    above = (
        _parents(sire, (_("Sire’s sire"), _("Sire’s dam")), ((), ()), folio),
        _parents(dam, (_("Dam’s sire"), _("Dam’s dam")), ((), ()), folio),
    )
    titles = (word.possible_sires if len(animal.sires) > 1 else word.sire, word.dam)
    parents = _parents(animal, titles, above, folio)
    whole = _kin("", (folio.voice.animal(animal.id),), animal, Sex.UNKNOWN, parents, folio)
    everybody = [whole, *parents, *(kin for parent in parents for kin in parent.parents)]
    legend = [_("Square: male; circle: female; diamond: sex not known.")]
    if any(kin.died for kin in everybody):
        legend.append(_("A stroke: has died."))
    if any(kin.related for kin in everybody):
        legend.append(capital(_("A double line joins mates that are related.")))
    title = _("Pedigree of {name}: parents and grandparents").format(name=folio.name(animal))
    return PicturedPedigree(whole, title, " ".join(legend))


Above = tuple[tuple[Kin, ...], tuple[Kin, ...]]
"""The parents of the sire and those of the dam."""


def _parents(young: Animal | None, parts: tuple[str, str], above: Above, folio: Folio) -> tuple[Kin, ...]:
    """Sire and dam, also where only one is recorded; nobody without either. Several possible sires are one place."""
    if young is None or not (young.dam or young.sires):
        return ()
    return (
        _kin(parts[0], sires_words(young, folio), sire_of(young, folio), Sex.MALE, above[0], folio),
        _kin(parts[1], dam_words(young, folio), dam_of(young, folio), Sex.FEMALE, above[1], folio),
    )


def _kin(part: str, who: Sentence, animal: Animal | None, role: Sex, parents: tuple[Kin, ...], folio: Folio) -> Kin:
    """A place; ``role`` is the sex that the place itself tells."""
    photo = lead_photo(animal.photos, folio) if animal else None
    sex = animal.sex if animal and animal.sex is not Sex.UNKNOWN else role
    return Kin(
        part=part,
        who=folio.line(who),
        shape=OUTLINES.get(sex, Outline.DIAMOND).value,
        label=folio.line(folio.material.lines[animal.id].within(LONGEST_LABEL)) if animal else (),
        picture=animal_picture(photo, animal, folio) if photo and animal else None,
        recorded=animal is not None,
        died=bool(animal and animal.died),
        related=bool(animal and parents and folio.material.answers.inbreeding.get(animal.id)),
        parents=parents,
    )
