"""Parents, littermates and young of an animal, and how its parents are related."""

from sitegen.content.animals import Animal
from sitegen.genetics.questions import AnimalId
from sitegen.site.material import Folio
from sitegen.site.models import Ancestor, Relatives
from sitegen.site.parts import Line, Span
from sitegen.words.labels import labels, no_parents
from sitegen.words.speech import Sentence, _, listed, said


def dam_of(animal: Animal | None, folio: Folio) -> Animal | None:
    """The recorded dam."""
    return folio.collection.animals[animal.dam] if animal and animal.dam else None


def sire_of(animal: Animal | None, folio: Folio) -> Animal | None:
    """The sire, when exactly one is recorded."""
    return folio.collection.animals[animal.sires[0][0]] if animal and len(animal.sires) == 1 else None


def sires_words(animal: Animal, folio: Folio) -> Sentence:
    """The sire or the possible ones."""
    names = [folio.voice.animal(sire) for sire, _share in animal.sires]
    return listed(names, either=True) if names else said(no_parents())


def dam_words(animal: Animal, folio: Folio) -> Sentence:
    """The dam."""
    return (folio.voice.animal(animal.dam),) if animal.dam else said(no_parents())


def pedigree(animal: Animal, folio: Folio) -> tuple[Ancestor, ...]:
    """Parents and grandparents: dam, dam's dam, dam's sire, sire, sire's dam, sire's sire; empty without any parent."""
    if not animal.dam and not animal.sires:
        return ()
    dam, sire = dam_of(animal, folio), sire_of(animal, folio)
    several = len(animal.sires) > 1
    none, depends = folio.line(said(no_parents())), folio.line(said(_("Depends on which sire it was")))

    def who(parent: Animal | None, part: str, unknown: Line = none) -> Line:
        if parent is None:
            return unknown
        return folio.line(dam_words(parent, folio) if part == "dam" else sires_words(parent, folio))

    of_sires = depends if several else none
    words = labels()
    return (
        Ancestor(words.dam, folio.line(dam_words(animal, folio))),
        Ancestor(_("Dam’s dam"), who(dam, "dam")),
        Ancestor(_("Dam’s sire"), who(dam, "sire")),
        Ancestor(words.possible_sires if several else words.sire, folio.line(sires_words(animal, folio))),
        Ancestor(_("Sire’s dam"), who(sire, "dam", of_sires)),
        Ancestor(_("Sire’s sire"), who(sire, "sire", of_sires)),
    )


def _litter_lines(animal: Animal, folio: Folio) -> tuple[tuple[AnimalId, Line], ...]:
    """All listed young of its litter, each with its link."""
    litter = folio.collection.litters.get(animal.litter)
    names = [folio.voice.animal(young) for young in litter.young] if litter else []
    return tuple((name.id, (Span(name.text, folio.linker.run(name)),)) for name in names)


def young_by_litter(animal: Animal, folio: Folio) -> tuple[Relatives, ...]:
    """What it has produced: every litter it is a parent of, and young recorded without a litter."""
    lines: list[Line] = []
    for litter_id in folio.material.litters_of.get(animal.id, ()):
        litter = folio.collection.litters[litter_id]
        unsure = len(litter.sires) > 1 and animal.id != litter.dam
        words = _("{litter} (possibly)") if unsure else "{litter}"
        lines.append(folio.line(said(words, litter=folio.voice.litter(litter_id))))
    for young in folio.material.young_of.get(animal.id, ()):
        lines.append(folio.line((folio.voice.animal(young),)))
    return (Relatives(labels().young, tuple(lines)),) if lines else ()


def relatives(animal: Animal, folio: Folio) -> tuple[Relatives, ...]:
    """Littermates and young."""
    mates = tuple(line for other, line in _litter_lines(animal, folio) if other != animal.id)
    return (*((Relatives(labels().littermates, mates),) if mates else ()), *young_by_litter(animal, folio))
