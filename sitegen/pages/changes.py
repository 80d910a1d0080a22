"""How what is said of an animal changed, as its page and the file for machines tell it."""

from collections.abc import Hashable

from sitegen.claims.changes import Change
from sitegen.claims.kinds import Claim
from sitegen.exact import written
from sitegen.pages.alike import ITSELF
from sitegen.pages.material import Folio
from sitegen.pages.parts import Field
from sitegen.records.animals import Animal
from sitegen.wording.changes import change_label, change_sentence
from sitegen.wording.runs import plain
from sitegen.wording.speech import tongue


def change_fields(animal: Animal, folio: Folio) -> tuple[Field, ...]:
    """Each change as a ruled line: how it changed, and the sentence that tells old, new, date and reason."""
    return tuple(_field(change, folio) for change in folio.material.changes.get(animal.id, ()))


def _field(change: Change, folio: Folio) -> Field:
    """One change; put together once for littermates of whom the same is told."""
    return folio.material.lately(
        ("change", _told(change), folio.folder, tongue()),
        lambda: Field(change_label(change), folio.line(change_sentence(change, folio.voice))),
    )


def _told(change: Change) -> Hashable:
    """All that the words for a change are made from; with its animal's id where it is named beside others."""
    own = (change.animal,)
    because = tuple([
        (reason.ground, ITSELF if reason.animals == own else reason.animals, reason.litter, reason.detail)
        for reason in change.because
    ])  # fmt: skip
    beside = any(change.animal in reason.animals and reason.animals != own for reason in change.because)
    return (
        change.animal if beside else "", change.kind, change.species, change.locus, change.allele, change.day,
        change.dated, _phrase(change.before), _phrase(change.after),
        change.chance_before.as_integer_ratio(), change.chance_after.as_integer_ratio(), because,
    )  # fmt: skip


def _phrase(claim: Claim | None) -> Hashable:
    """All that a claim in a few words is made from."""
    if claim is None:
        return None
    chance = claim.chance.as_integer_ratio()
    return claim.kind, claim.allele, claim.look, chance, claim.copies, claim.basis, claim.unjudged


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
