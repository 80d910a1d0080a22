"""How what is said of an animal changed, as its page and the file for machines tell it."""

from sitegen.content.animals import Animal
from sitegen.exact import written
from sitegen.site.material import Folio
from sitegen.site.parts import Field
from sitegen.words.changes import change_label, change_sentence
from sitegen.words.speech import plain


def change_fields(animal: Animal, folio: Folio) -> tuple[Field, ...]:
    """Each change as a ruled line: how it changed, and the sentence that tells old, new, date and reason."""
    return tuple(
        Field(change_label(change), folio.line(change_sentence(change, folio.voice)))
        for change in folio.material.changes.get(animal.id, ())
    )


def change_facts(animal: Animal, folio: Folio) -> list[dict[str, object]]:
    """The same for machines, with exact chances."""
    return [
        {
            "date": change.day.isoformat(),
            "locus": change.locus,
            "allele": change.allele,
            "kind": change.kind.value,
            "before": written(change.chance_before),
            "after": written(change.chance_after),
            "words": plain(change_sentence(change, folio.voice)),
        }
        for change in folio.material.changes.get(animal.id, ())
    ]
