"""Law: whatever pedigree, mode and evidence, a world is drawn with the chance that plain enumeration gives."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from helpers.drawn_worlds import assert_frequencies, genotypes_in, worlds_of
from helpers.in_e import opened
from helpers.pedigrees import AUTOSOMAL, SEXED, linked_questions, questions
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import Drawing, drawing
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import answer_all
from sitegen.genetics.questions import AnimalId, Impossible, LinkedQuestion, Member, Question

often = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
BLANK = tuple(replace(at, background={}) for at in (*AUTOSOMAL, *SEXED))
LIKE = ({("+", "pal"): Fraction(1), ("pal", "pal"): Fraction(1)}, {("+", "+"): Fraction(1), ("+", "pal"): Fraction(1)})


def compare(
    asked: Sequence[Question | LinkedQuestion],
    told: Sequence[Question | LinkedQuestion] | None = None,
    sexes: Mapping[AnimalId, Sex] | None = None,
) -> None:
    """What is drawn for ``asked`` given the sexes is what enumeration says of ``told``, which has them as records."""
    truth = Truth(told or asked)
    if not truth.total:
        truth = Truth([opened(one) for one in told or asked])
    answers = answer_all(asked)
    members = [member.id for member in members_of(asked[0])]
    if len(asked) > 1 or isinstance(asked[0], LinkedQuestion):
        members = members[-3:]  # the worlds of one locus times those of the other are many
    if not truth.total:
        assert isinstance(drawing(answers, [member.id for member in members_of(asked[0])], sexes), Impossible)
        return
    found = drawing(answers, members, sexes)
    assert isinstance(found, Drawing)
    worlds = worlds_of(found)
    assert sum(worlds.values()) == 1
    chances = genotypes_in(answers, worlds)
    assert chances == truth.worlds(members)
    for number, one in enumerate(answers if not sexes else ()):
        for few in (members[:2], members[-2:]):
            places = [members.index(member) for member in few]
            sums: dict[tuple[int, ...], Fraction] = {}
            for world, chance in worlds.items():
                key = tuple(world[number][place] for place in places)
                sums[key] = sums.get(key, Fraction(0)) + chance
            assert sums == one.states(few)  # phase and sex too, which genotypes do not tell
    drawn = found.drawn(400, Dice(7), (1,))
    seen = zip(*([tuple(column) for column in own.T.tolist()] for own in drawn), strict=True)
    assert_frequencies(seen, worlds, errors=7)  # over thousands of worlds


def members_of(one: Question | LinkedQuestion) -> tuple[Member, ...]:
    return one.questions[0].members if isinstance(one, LinkedQuestion) else one.members


@often
@given(questions(AUTOSOMAL))
def test_autosomal(question: Question) -> None:
    compare([question])


@often
@given(questions(SEXED, most=4))
def test_sex_linked_and_pseudo_autosomal(question: Question) -> None:
    compare([question])


@often
@given(questions(AUTOSOMAL[:3], most=6, several_sires=True))
def test_several_possible_sires(question: Question) -> None:
    compare([question])


@settings(often, max_examples=12)
@given(linked_questions())
def test_linked_loci(question: LinkedQuestion) -> None:
    compare([question])


@often
@given(st.data())
def test_loci_that_share_their_litters_sires(data: st.DataObject) -> None:
    compare(together(data, AUTOSOMAL))


@often
@given(questions(BLANK, several_sires=True))
def test_as_few_unwritten_copies_as_the_evidence_needs(question: Question) -> None:
    compare([question])


@often
@given(st.data())
def test_the_same_at_loci_that_share_their_litters_sires(data: st.DataObject) -> None:
    compare(together(data, BLANK))


@often
@given(questions(SEXED, most=4, several_sires=True), st.data())
def test_given_the_sex_that_a_member_is_to_have(question: Question, data: st.DataObject) -> None:
    (found,) = answer_all([question])
    unknown = [member.id for member in question.members if found.sex_of(member.id) is Sex.UNKNOWN]
    assume(unknown)
    sexes = {member: data.draw(st.sampled_from((Sex.FEMALE, Sex.MALE))) for member in unknown}
    members = tuple(replace(member, sex=sexes.get(member.id, member.sex)) for member in question.members)
    compare([question], [replace(question, members=members)], sexes)


def together(data: st.DataObject, loci: Sequence) -> list[Question]:
    """Two loci with the same members, and young that are counted alike."""
    first = data.draw(questions(loci[:1], several_sires=True))
    second = data.draw(questions(loci[1:2], several_sires=True))
    tallies = tuple(replace(tally, likelihood=data.draw(st.sampled_from(LIKE))) for tally in first.tallies)
    known = {member.id for member in first.members}
    seen = tuple(one for one in second.observations if one.member in known)
    return [first, Question(second.locus, first.members, {}, seen, tallies)]
