"""Records that contradict each other: a smallest set of them that cannot all be true, in words.

What can be left out is every look, every test, every tally, and for every founder and every parent that is
not recorded the odds that it was given. Left out means: any genotype is possible there. None of the records
that are named could be left out, or the rest would agree.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.evidence.clashes import smallest_clash
from sitegen.evidence.gathered import Evidence, Source, Unit
from sitegen.evidence.known import Clash, Ground
from sitegen.evidence.leaving_out import Asked, agree, missing, narrow, of_family, only, questions_of
from sitegen.evidence.saying import name_of
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Observation

_ASSUMED = (Ground.NOTHING_STATED, Ground.BACKGROUND)


@dataclass(frozen=True, slots=True)
class Piece:
    """Something that can be left out: at which locus, what, and its record."""

    locus: str
    kind: str
    key: str
    source: Source


def clash_of(evidence: Evidence, units: Sequence[Unit], family: Sequence[AnimalId]) -> Clash:
    """A smallest set of records of one family that contradict each other.

    Args:
        evidence: All evidence.
        units: The loci or linked groups that contradict themselves; several where they do so only together,
            because a litter cannot have had one sire for all of them.
        family: The animals that are left without an answer.
    """
    found = clashing(evidence, units, family)
    loci = tuple(locus for unit in units for locus in unit.loci)
    named = tuple(locus for locus in loci if any(piece.locus == locus for piece in found)) or loci
    records = tuple((piece.source.places[0], piece.source.says) for piece in found)
    assumed = tuple(piece.key for piece in found if piece.kind == "founder" and piece.source.ground in _ASSUMED)
    unrecorded = any(piece.kind in ("dam", "sire") for piece in found)
    return Clash(units[0].species, loci, named, tuple(family), records, assumed, unrecorded)


def clashing(
    evidence: Evidence, units: Sequence[Unit], family: Sequence[AnimalId], contrary: Observation | None = None
) -> tuple[Piece, ...]:
    """A smallest set of pieces of evidence that cannot all be true, assumptions last; empty when all can be.

    Args:
        evidence: All evidence.
        units: The loci or linked groups that are asked together.
        family: The animals that are asked.
        contrary: Something that is held to be true besides, at the locus of the first unit that is its ``key``.

    What neighbours exclude among themselves is looked for first, because it is quick; the few pieces that are left
    are then asked in full. Pieces that could only be told apart beyond the memory bound stay in.
    """
    whole = [of_family(unit.question, set(family)) for unit in units]
    pieces = [
        piece
        for unit, asked in zip(units, whole, strict=True)
        for piece in (*_pieces(evidence, unit, asked), *_phases(evidence, unit, asked))
    ]
    pieces.sort(key=lambda piece: piece.source.ground in _ASSUMED)

    def reduced(some: Sequence[Piece]) -> list[Asked]:
        return only(whole, {(piece.locus, piece.kind, piece.key) for piece in some}, contrary)

    if not narrow(reduced(pieces)):
        pieces = list(smallest_clash(pieces, lambda some: narrow(reduced(some))))
    elif contrary is not None and agree(reduced(pieces)):
        return ()
    return smallest_clash(pieces, lambda some: agree(reduced(some)))


def agrees_alone(unit: Unit, family: Sequence[AnimalId]) -> bool:
    """True when the records of the family agree at this locus or group, taken by itself."""
    return agree([of_family(unit.question, set(family))])


def finding_of(clash: Clash) -> Finding:
    """The contradiction as a finding: what the records say, each once, and what to do."""
    said = tuple(dict.fromkeys(says for _, says in clash.records))
    places = tuple(dict.fromkeys(place for place, _ in clash.records))
    locus = clash.named[0]
    if clash.assumed:
        remedy = (
            f"if a previous keeper could not know, write it there: stated: {{{locus}: 1/2}}; "
            "or give the species a background; or look again at what the young show"
        )
    elif clash.unrecorded:
        remedy = "record that parent as an animal with what is stated of it, or give the species a background"
    else:
        remedy = "one of these records, or a parentage between them, is wrong: mend it"
    return Finding(
        Level.ERROR,
        Kind.CONTRADICTION,
        places[0] if places else None,
        f"these records cannot all be true: {'; '.join(said)}",
        expected=f"records of {', '.join(clash.named)} that agree by descent",
        remedy=remedy,
        others=places[1:],
    )


def _pieces(evidence: Evidence, unit: Unit, whole: Asked) -> Iterator[Piece]:
    for locus, question in zip(unit.loci, questions_of(whole), strict=True):
        known = evidence.loci[unit.species, locus]
        for seen in question.observations:
            yield Piece(locus, "seen", seen.key, known.sources[seen.key])
        for tally in question.tallies:
            yield Piece(locus, "tally", tally.key, known.sources[tally.key])
        for member in question.members:
            if member.id in known.founders:
                yield Piece(locus, "founder", member.id, known.founders[member.id])
            animal = evidence.collection.animals[member.id]
            for parent in missing(member):
                yield Piece(locus, parent, member.id, _unrecorded(animal, parent, question.locus))


def _phases(evidence: Evidence, unit: Unit, whole: Asked) -> Iterator[Piece]:
    """What is written down of single chromosomes."""
    for animal in whole.phases if isinstance(whole, LinkedQuestion) else ():
        record = evidence.collection.animals[animal]
        places = tuple(line.place for genes in record.genes for line in genes.haplotypes)
        says = f"the haplotypes of {name_of(record)} are written down"
        yield Piece(unit.loci[0], "phase", animal, Source(Ground.STATED, animal, places, says))


def _unrecorded(animal: Animal, parent: str, locus: Locus) -> Source:
    text = f"the {parent} of {name_of(animal)} is not recorded, so it is taken as not carrying {locus.id}"
    return Source(Ground.BACKGROUND, "", (animal.place,), text)
