"""Records that contradict each other: a smallest set of them that cannot all be true, in words.

What can be left out is every look, every test, every tally, and for every founder and every parent that is
not recorded the odds that it was given. Left out means: any genotype is possible there. None of the records
that are named could be left out, or the rest would agree.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.evidence.clashes import smallest_clash
from sitegen.evidence.gathered import Evidence, Source, Unit
from sitegen.evidence.known import Clash, Ground
from sitegen.evidence.saying import name_of
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.network import answer, answer_all
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.questions import AnimalId, Impossible, LinkedQuestion, Member, Observation, Question, TooTangled
from sitegen.records.animals import Animal

_UNKNOWN = "unrecorded parent "
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

    Where leaving out is beyond the memory bound, all looks and tests of the family are named.

    Args:
        evidence: All evidence.
        units: The loci or linked groups that contradict themselves; several where they do so only together,
            because a litter cannot have had one sire for all of them.
        family: The animals that are left without an answer.
    """
    try:
        found = clashing(evidence, units, family)
    except MemoryError:
        whole = [(unit, of_family(unit, set(family))) for unit in units]
        pieces = (piece for unit, asked in whole for piece in _pieces(evidence, unit, asked))
        found = tuple(piece for piece in pieces if piece.kind in ("seen", "tally"))
    loci = tuple(locus for unit in units for locus in unit.loci)
    named = tuple(locus for locus in loci if any(piece.locus == locus for piece in found)) or loci
    records = tuple((piece.source.places[0], piece.source.says) for piece in found)
    assumed = tuple(piece.key for piece in found if piece.kind == "founder" and piece.source.ground in _ASSUMED)
    return Clash(units[0].species, loci, named, tuple(family), records, assumed)


def clashing(
    evidence: Evidence, units: Sequence[Unit], family: Sequence[AnimalId], contrary: Observation | None = None
) -> tuple[Piece, ...]:
    """A smallest set of pieces of evidence that cannot all be true, assumptions last; empty when all can be.

    Args:
        evidence: All evidence.
        units: The loci or linked groups that are asked together.
        family: The animals that are asked.
        contrary: Something that is held to be true besides, at the locus of the first unit that is its ``key``.

    Raises:
        MemoryError: It would take tables beyond the memory bound to tell.
    """
    whole = [of_family(unit, set(family)) for unit in units]
    pieces = [
        piece
        for unit, asked in zip(units, whole, strict=True)
        for piece in (*_pieces(evidence, unit, asked), *_phases(evidence, unit, asked))
    ]
    pieces.sort(key=lambda piece: piece.source.ground in _ASSUMED)
    if contrary is not None and _agree(whole, pieces, contrary):
        return ()
    return smallest_clash(pieces, lambda some: _agree(whole, some, contrary))


def agrees_alone(unit: Unit, family: Sequence[AnimalId]) -> bool:
    """True when the records of the family agree at this locus or group, taken by itself."""
    asked = of_family(unit, set(family))
    heredity = answer(asked)
    return not any(isinstance(heredity.of(member.id), Impossible) for member in _questions(asked)[0].members)


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
    elif any("not recorded" in says for says in said):
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


def _questions(asked: Question | LinkedQuestion) -> tuple[Question, ...]:
    return asked.questions if isinstance(asked, LinkedQuestion) else (asked,)


def _with(asked: Question | LinkedQuestion, questions: Sequence[Question]) -> Question | LinkedQuestion:
    return replace(asked, questions=tuple(questions)) if isinstance(asked, LinkedQuestion) else questions[0]


def of_family(unit: Unit, family: set[AnimalId]) -> Question | LinkedQuestion:
    """The question of one family alone."""
    asked = unit.question
    kept = [
        replace(
            question,
            members=tuple(member for member in question.members if member.id in family),
            priors={animal: odds for animal, odds in question.priors.items() if animal in family},
            observations=tuple(seen for seen in question.observations if seen.member in family),
            tallies=tuple(
                tally
                for tally in question.tallies
                if tally.dam in family or any(sire in family for sire, _ in tally.sires)
            ),
        )
        for question in _questions(asked)
    ]
    if isinstance(asked, LinkedQuestion):
        asked = replace(asked, phases={animal: lines for animal, lines in asked.phases.items() if animal in family})
    return _with(asked, kept)


def _pieces(evidence: Evidence, unit: Unit, whole: Question | LinkedQuestion) -> Iterator[Piece]:
    for locus, question in zip(unit.loci, _questions(whole), strict=True):
        known = evidence.loci[unit.species, locus]
        for seen in question.observations:
            yield Piece(locus, "seen", seen.key, known.sources[seen.key])
        for tally in question.tallies:
            yield Piece(locus, "tally", tally.key, known.sources[tally.key])
        for member in question.members:
            if member.id in known.founders:
                yield Piece(locus, "founder", member.id, known.founders[member.id])
            animal = evidence.collection.animals[member.id]
            for parent in _missing(member):
                yield Piece(locus, parent, member.id, _unrecorded(animal, parent, question.locus))


def _phases(evidence: Evidence, unit: Unit, whole: Question | LinkedQuestion) -> Iterator[Piece]:
    """What is written down of single chromosomes."""
    for animal in whole.phases if isinstance(whole, LinkedQuestion) else ():
        record = evidence.collection.animals[animal]
        places = tuple(line.place for genes in record.genes for line in genes.haplotypes)
        says = f"the haplotypes of {name_of(record)} are written down"
        yield Piece(unit.loci[0], "phase", animal, Source(Ground.STATED, animal, places, says))


def _unrecorded(animal: Animal, parent: str, locus: Locus) -> Source:
    text = f"the {parent} of {name_of(animal)} is not recorded, so it is taken as not carrying {locus.id}"
    return Source(Ground.BACKGROUND, "", (animal.place,), text)


def _agree(
    whole: Sequence[Question | LinkedQuestion], some: Iterable[Piece], contrary: Observation | None = None
) -> bool:
    """True when the pieces can all be true.

    Raises:
        MemoryError: It would take tables beyond the memory bound to tell.
    """
    kept = {(piece.locus, piece.kind, piece.key) for piece in some}
    asked: list[Question | LinkedQuestion] = []
    for each in whole:
        questions = _questions(each)
        opened = {
            (member.id, parent)
            for member in questions[0].members
            for parent in _missing(member)
            if any((question.locus.id, parent, member.id) not in kept for question in questions)
        }
        reduced = [_only(question, kept, opened) for question in questions]
        if contrary is not None and not asked:
            place = next(rank for rank, question in enumerate(reduced) if contrary.key == question.locus.id)
            seen = (*reduced[place].observations, contrary)
            reduced[place] = replace(reduced[place], observations=seen)
        if isinstance(each, LinkedQuestion):
            held = {animal for _, kind, animal in kept if kind == "phase"}
            each = replace(each, phases={animal: lines for animal, lines in each.phases.items() if animal in held})
        asked.append(_with(each, reduced))
    for question, heredity in zip(asked, answer_all(asked), strict=True):
        states = [heredity.of(member.id) for member in _questions(question)[0].members]
        if any(isinstance(state, Impossible) for state in states):
            return False
        if any(isinstance(state, TooTangled) for state in states):
            raise MemoryError
    return True


def _missing(member: Member) -> tuple[str, ...]:
    """Which one parent of an animal is not recorded, when the other is."""
    if member.dam is None and member.sires:
        return ("dam",)
    return ("sire",) if member.dam is not None and not member.sires else ()


def _only(question: Question, kept: set[tuple[str, str, str]], opened: set[tuple[AnimalId, str]]) -> Question:
    """The question with only the kept pieces, and chances that only say possible or not."""
    locus = question.locus.id
    members: list[Member] = []
    priors: dict[AnimalId, Mapping[Genotype, Fraction]] = {}
    for member in question.members:
        for parent in _missing(member):
            if (member.id, parent) in opened:
                extra = Member(f"{_UNKNOWN}{parent} of {member.id}", Sex.FEMALE if parent == "dam" else Sex.MALE)
                members.append(extra)
                if (locus, parent, member.id) not in kept:
                    priors[extra.id] = _anything(question.locus, extra.sex)
                dam = extra.id if parent == "dam" else member.dam
                sires = ((extra.id, Fraction(1)),) if parent == "sire" else member.sires
                member = replace(member, dam=dam, sires=sires)
        if member.dam is None and not member.sires:
            if (locus, "founder", member.id) not in kept:
                priors[member.id] = _anything(question.locus, member.sex)
            elif member.id in question.priors:
                priors[member.id] = question.priors[member.id]
        members.append(member)
    seen = [each for each in question.observations if (locus, "seen", each.key) in kept]
    tallies = [tally for tally in question.tallies if (locus, "tally", tally.key) in kept]
    return replace(
        question,
        members=tuple(members),
        priors=priors,
        observations=tuple(replace(each, likelihood=dict.fromkeys(each.likelihood, Fraction(1))) for each in seen),
        tallies=tuple(
            replace(tally, likelihood=dict.fromkeys(tally.likelihood, Fraction(1)), count=1) for tally in tallies
        ),
    )


def _anything(locus: Locus, sex: Sex) -> dict[Genotype, Fraction]:
    """Equal odds for every genotype that lives."""
    genotypes = all_genotypes(locus) if sex is Sex.UNKNOWN else locus.genotypes(sex)
    living = [genotype for genotype in genotypes if genotype not in locus.lethal]
    return dict.fromkeys(living, Fraction(1, len(living)))
