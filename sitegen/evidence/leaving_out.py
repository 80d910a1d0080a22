"""The same question with less evidence: what remains possible when some pieces are left out.

Chances are replaced by possible or not, founders and parents that are left out may have any genotype, and
animals of which no remaining piece speaks are left out with them.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.network import agree as heredity_agrees
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question, parents_of

Key = tuple[str, str, str]
"""Locus, what it is (``seen``, ``tally``, ``founder``, ``dam``, ``sire``, ``phase``), and its key or animal."""

Asked = Question | LinkedQuestion


def questions_of(asked: Asked) -> tuple[Question, ...]:
    """The question of each locus."""
    return asked.questions if isinstance(asked, LinkedQuestion) else (asked,)


def with_questions(asked: Asked, questions: Sequence[Question]) -> Asked:
    """The same linkage with other questions."""
    return replace(asked, questions=tuple(questions)) if isinstance(asked, LinkedQuestion) else questions[0]


def of_family(asked: Asked, family: Collection[AnimalId]) -> Asked:
    """The question of some animals alone; their parents must be among them."""
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
        for question in questions_of(asked)
    ]
    if isinstance(asked, LinkedQuestion):
        asked = replace(asked, phases={animal: lines for animal, lines in asked.phases.items() if animal in family})
    return with_questions(asked, kept)


def only(whole: Sequence[Asked], kept: Collection[Key], contrary: Observation | None = None) -> list[Asked]:
    """The questions with only the kept pieces.

    Args:
        whole: The questions that are asked together.
        kept: What is not left out.
        contrary: Something that is held to be true besides, at the locus of the first question that is its ``key``.
    """
    found: list[Asked] = []
    for each in whole:
        questions = questions_of(each)
        opened = {
            (member.id, parent)
            for member in questions[0].members
            for parent in missing(member)
            if any((question.locus.id, parent, member.id) not in kept for question in questions)
        }
        reduced = [_only(question, kept, opened) for question in questions]
        if contrary is not None and not found:
            place = next(rank for rank, question in enumerate(reduced) if contrary.key == question.locus.id)
            reduced[place] = replace(reduced[place], observations=(*reduced[place].observations, contrary))
        if isinstance(each, LinkedQuestion):
            held = {animal for _, kind, animal in kept if kind == "phase"}
            each = replace(each, phases={animal: lines for animal, lines in each.phases.items() if animal in held})
        found.append(with_questions(each, reduced))
    return _spoken_of(found)


def _spoken_of(asked: list[Asked]) -> list[Asked]:
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
    waiting = list(needed)
    while waiting:
        further = parents.get(waiting.pop(), set()) - needed
        needed |= further
        waiting += further
    return [of_family(each, needed) for each in asked]


def narrow(asked: Sequence[Asked]) -> bool:
    """False when neighbours alone exclude each other: quick, and sure when it is False."""
    return not any(part_of(each).impossible for each in asked)


def agree(asked: Sequence[Asked]) -> bool:
    """False when the evidence contradicts itself; True as well when that would take too much memory to tell."""
    return heredity_agrees(asked) is not False


def missing(member: Member) -> tuple[str, ...]:
    """Which one parent of an animal is not recorded, when the other is."""
    if member.dam is None and member.sires:
        return ("dam",)
    return ("sire",) if member.dam is not None and not member.sires else ()


def _only(question: Question, kept: Collection[Key], opened: set[tuple[AnimalId, str]]) -> Question:
    """The question with only the kept pieces, and chances that only say possible or not."""
    locus = question.locus.id
    members: list[Member] = []
    priors: dict[AnimalId, Mapping[Genotype, Fraction]] = {}
    for member in question.members:
        for parent in missing(member):
            if (member.id, parent) in opened:
                extra = Member(f"unrecorded {parent} of {member.id}", Sex.FEMALE if parent == "dam" else Sex.MALE)
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
