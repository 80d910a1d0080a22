"""Records that contradict each other: a smallest set of them that cannot all be true, in words.

What can be left out is every look, every test, every tally, and for every founder the odds that it was given. Left out
means: any genotype is possible there; and so it is wherever nobody wrote anything. None of the records
that are named could be left out, or the rest would agree. So chances are replaced by possible or not, and animals of
which no remaining piece speaks are left out with them.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from sitegen.evidence.gather import gather, with_own_sires
from sitegen.evidence.gathered import (
    AnyQuestion,
    Evidence,
    Ground,
    LocusGroup,
    Source,
    name_of,
    questions_of,
    reached,
    unrecorded,
)
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.network import agree as heredity_agrees
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Observation, Question, parents_of


@dataclass(frozen=True, slots=True)
class Clash:
    """Records of one family that cannot all be true; none of them can be left out.

    Attributes:
        loci: The locus, or the linked group, that has no answer because of it.
        named: The loci that the records speak of.
        animals: The family that is left without an answer.
        records: Place of each record and what it says.
        perhaps_mixed: Litters of which all can be true if their young may have several sires.
    """

    species: str
    loci: tuple[str, ...]
    named: tuple[str, ...]
    animals: tuple[AnimalId, ...]
    records: tuple[tuple[Place, str], ...]
    perhaps_mixed: tuple[str, ...] = ()


Key = tuple[str, str, str]
"""Locus, what it is (``seen``, ``tally``, ``founder``, ``phase``), and its key or animal."""

OPEN = Fraction(1)
"""The chance of what nobody wrote, where it only matters what is possible."""


def of_family(asked: AnyQuestion, family: Collection[AnimalId], keys: Collection[str] | None = None) -> AnyQuestion:
    """The question of some animals alone; their recorded parents must be among them.

    ``keys`` are those of the observations and tallies that are kept; without them all of the family stay.
    """
    members = questions_of(asked)[0].members
    unnamed = {member.id for member in members if not member.recorded}
    family = {*family, *(each for m in members if m.id in family for each in parents_of(m) if each in unnamed)}
    kept = tuple(
        replace(
            question,
            members=tuple(member for member in question.members if member.id in family),
            priors={animal: odds for animal, odds in question.priors.items() if animal in family},
            observations=tuple(
                seen for seen in question.observations if (seen.member in family if keys is None else seen.key in keys)
            ),
            tallies=tuple(
                tally
                for tally in question.tallies
                if (any(parent in family for parent in parents_of(tally)) if keys is None else tally.key in keys)
            ),
        )
        for question in questions_of(asked)
    )
    if not isinstance(asked, LinkedQuestion):
        return kept[0]
    phases = {animal: lines for animal, lines in asked.phases.items() if animal in family}
    return replace(asked, questions=kept, phases=phases)


def only(whole: Sequence[AnyQuestion], kept: Collection[Key], contrary: Observation | None = None) -> list[AnyQuestion]:
    """The questions, which are asked together, with only the kept pieces.

    ``contrary`` is held to be true besides, at the locus of the first question that is its ``key``.
    """
    found: list[AnyQuestion] = []
    for each in whole:
        reduced = [_only(question, kept) for question in questions_of(each)]
        if contrary is not None and not found:
            place = next(rank for rank, question in enumerate(reduced) if contrary.key == question.locus.id)
            reduced[place] = replace(reduced[place], observations=(*reduced[place].observations, contrary))
        if isinstance(each, LinkedQuestion):
            held = {animal for _, kind, animal in kept if kind == "phase"}
            phases = {animal: lines for animal, lines in each.phases.items() if animal in held}
            found.append(replace(each, questions=tuple(reduced), phases=phases))
        else:
            found += reduced
    return _spoken_of(found)


def _spoken_of(asked: list[AnyQuestion]) -> list[AnyQuestion]:
    """Without the animals that nothing is known of, nor of any of their descendants."""
    needed: set[AnimalId] = set()
    for each in asked:
        needed |= set(each.phases) if isinstance(each, LinkedQuestion) else set()
        for question in questions_of(each):
            needed.update(seen.member for seen in question.observations)
            for tally in question.tallies:
                needed.update(parents_of(tally))
    parents: dict[AnimalId, set[AnimalId]] = {}
    for each in asked:
        for member in questions_of(each)[0].members:
            parents.setdefault(member.id, set()).update(parents_of(member))
    kept = reached(needed, lambda animal: parents.get(animal, ()))
    return [of_family(each, kept) for each in asked]


def agree(asked: Sequence[AnyQuestion], rare: Fraction = OPEN) -> bool:
    """False when the evidence contradicts itself; True as well when that would take too much memory to tell.

    ``rare`` is the chance of what nobody wrote; 0 takes it as wild type.
    """
    return heredity_agrees(asked, rare) is not False


def _only(question: Question, kept: Collection[Key]) -> Question:
    """The question with only the kept pieces, and chances that only say possible or not."""
    locus = question.locus.id
    priors: dict[AnimalId, Mapping[Genotype, Fraction]] = {}
    for member in question.members:
        if member.dam is None and not member.sires:
            if (locus, "founder", member.id) not in kept:
                priors[member.id] = _anything(question.locus, member.sex)
            elif member.id in question.priors:
                priors[member.id] = question.priors[member.id]
    seen = [each for each in question.observations if (locus, "seen", each.key) in kept]
    tallies = [tally for tally in question.tallies if (locus, "tally", tally.key) in kept]
    return replace(
        question,
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


_T = TypeVar("_T")


def smallest_clash(pieces: Sequence[_T], agree: Callable[[Sequence[_T]], bool]) -> tuple[_T, ...]:
    """Of pieces that do not agree those that cannot all be true, none of which can be left out, in their own order.

    Earlier pieces are preferred; empty when they clash even without any of them. Fewer pieces never agree less. About
    ``2 k log(n / k)`` questions for ``k`` of ``n`` pieces.

    Source:
        QuickXplain: Junker U (2004) AAAI-04, 167-172 (from memory).
    """
    if not agree(()):
        return ()
    found = _explain([], False, range(len(pieces)), lambda ranks: agree([pieces[rank] for rank in sorted(ranks)]))
    return tuple(pieces[rank] for rank in sorted(found))


def _explain(
    kept: Sequence[int], grown: bool, pieces: Sequence[int], agree: Callable[[Sequence[int]], bool]
) -> Sequence[int]:
    """The ranks of a smallest set that clashes with those kept; ``grown``: some were just added to these."""
    if grown and not agree(kept):
        return []
    if len(pieces) == 1:
        return pieces
    half = len(pieces) // 2
    first, second = pieces[:half], pieces[half:]
    from_second = _explain([*kept, *first], True, second, agree)
    from_first = _explain([*kept, *from_second], bool(from_second), first, agree)
    return [*from_first, *from_second]


_ASSUMED = (Ground.NOTHING_STATED, Ground.BACKGROUND)


@dataclass(frozen=True, slots=True)
class Removable:
    """Something that can be left out: at which locus, what, and its record."""

    locus: str
    kind: str
    key: str
    source: Source


def clash_of(evidence: Evidence, units: Sequence[LocusGroup], family: Sequence[AnimalId]) -> Clash:
    """A smallest set of records of one family that contradict each other.

    There are several ``units`` where they contradict themselves only together, because a litter cannot have had one
    sire for all of them.
    """
    found = clashing(evidence, units, family)
    loci = tuple(locus for unit in units for locus in unit.loci)
    named = tuple(locus for locus in loci if any(piece.locus == locus for piece in found)) or loci
    records = tuple((piece.source.places[0], piece.source.says) for piece in found)
    animals = tuple(each for each in family if each in evidence.collection.animals)
    return Clash(units[0].species, loci, named, animals, records, _perhaps_mixed(evidence, units, family))


def _perhaps_mixed(evidence: Evidence, units: Sequence[LocusGroup], family: Sequence[AnimalId]) -> tuple[str, ...]:
    """The litters without a recorded sire of which the records agree once each young may have a sire of its own."""
    found = []
    for litter in evidence.collection.litters.values():
        if litter.each_its_own_sire is None and unrecorded("sire", litter.id) in family:
            apart = gather(
                with_own_sires(evidence.collection, litter.id), {each for unit in units for each in unit.loci}
            )
            asked = [unit.question for unit in apart.units_of(litter.species)]
            if agree([of_family(each, set(family)) for each in asked]):
                found.append(litter.id)
    return tuple(found)


def clashing(
    evidence: Evidence,
    units: Sequence[LocusGroup],
    family: Sequence[AnimalId],
    contrary: Observation | None = None,
    *,
    taken_as_wild: bool = False,
) -> tuple[Removable, ...]:
    """A smallest set of pieces of evidence that cannot all be true, assumptions last; empty when all can be.

    ``contrary`` is held to be true besides, at the locus of the first unit that is its ``key``. With ``taken_as_wild``
    it is one of the pieces that what nobody wrote is wild type.

    What neighbours exclude among themselves is looked for first, because it is quick; the few pieces that are left are
    then asked in full. Pieces that could only be told apart beyond the memory bound stay in.
    """
    whole = [of_family(unit.question, set(family)) for unit in units]
    pieces = [
        piece
        for unit, asked in zip(units, whole, strict=True)
        for piece in (*_pieces(evidence, unit, asked), *_phases(evidence, unit, asked))
    ]
    pieces.sort(key=lambda piece: piece.source.ground in _ASSUMED)

    # What is certain may be so because nobody wrote otherwise; that records contradict each other may not.
    closed = taken_as_wild or (contrary is not None and agree(whole, Fraction(0)))
    rare = Fraction(0) if closed else OPEN

    def reduced(some: Sequence[Removable]) -> list[AnyQuestion]:
        return only(whole, {(piece.locus, piece.kind, piece.key) for piece in some}, contrary)

    def narrow(some: Sequence[Removable]) -> bool:
        """False when neighbours alone exclude each other: quick, and sure when it is False."""
        return not any(part_of(each, rare).impossible for each in reduced(some))

    if not narrow(pieces):
        pieces = list(smallest_clash(pieces, narrow))
    elif contrary is not None and agree(reduced(pieces), rare):
        return ()
    return smallest_clash(pieces, lambda some: agree(reduced(some), rare))


def finding_of(clash: Clash) -> Finding:
    """The contradiction as a finding: what the records say, each once, and what to do."""
    said = tuple(dict.fromkeys(says for _, says in clash.records))
    places = tuple(dict.fromkeys(place for place, _ in clash.records))
    mixed = clash.perhaps_mixed
    return Finding(
        Level.ERROR,
        Kind.CONTRADICTION,
        places[0] if places else None,
        f"these records cannot all be true: {'; '.join(said)}",
        expected=f"records of {', '.join(clash.named)} that agree by descent",
        remedy="one of these records, or a parentage between them, is wrong: mend it"
        + (f"; or {' or '.join(mixed)} had several sires: write mixed_sires: true there" if mixed else ""),
        others=places[1:],
    )


def _pieces(evidence: Evidence, unit: LocusGroup, whole: AnyQuestion) -> Iterator[Removable]:
    for locus, question in zip(unit.loci, questions_of(whole), strict=True):
        known = evidence.loci[unit.species, locus]
        for seen in question.observations:
            yield Removable(locus, "seen", seen.key, known.sources[seen.key])
        for tally in question.tallies:
            yield Removable(locus, "tally", tally.key, known.sources[tally.key])
        for member in question.members:
            if member.id in known.founders:
                yield Removable(locus, "founder", member.id, known.founders[member.id])


def _phases(evidence: Evidence, unit: LocusGroup, whole: AnyQuestion) -> Iterator[Removable]:
    """What is written down of single chromosomes."""
    for animal in whole.phases if isinstance(whole, LinkedQuestion) else ():
        record = evidence.collection.animals[animal]
        places = tuple(line.place for genes in record.genes for line in genes.haplotypes)
        says = f"the haplotypes of {name_of(record)} are written down"
        yield Removable(unit.loci[0], "phase", animal, Source(Ground.STATED, animal, places, says))
