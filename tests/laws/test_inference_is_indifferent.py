"""Laws: what must not change an answer does not, and more evidence moves it exactly as Bayes says."""

from dataclasses import replace
from fractions import Fraction

from helpers.pedigrees import AUTOSOMAL, SEXED, joint, likelihoods, questions
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sitegen.genetics.loci import Sex
from sitegen.genetics.network import answer
from sitegen.genetics.questions import Impossible, Member, Observation, Question, Tally

often = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
larger = questions(AUTOSOMAL + SEXED, most=12, several_sires=True)


def all_of(question: Question) -> dict:
    answers = answer(question)
    return {member.id: answers.of(member.id) for member in question.members}


@often
@given(larger)
def test_chances_are_between_0_and_1_and_sum_to_1(question: Question) -> None:
    for posterior in all_of(question).values():
        if not isinstance(posterior, Impossible):
            assert sum(posterior.values()) == 1
            assert all(0 < chance <= 1 for chance in posterior.values())


@often
@given(larger, st.randoms(use_true_random=False))
def test_record_order_changes_nothing(question: Question, dice: object) -> None:
    members, seen = list(question.members), list(question.observations)
    dice.shuffle(members)
    dice.shuffle(seen)
    mixed = all_of(replace(question, members=tuple(members), observations=tuple(seen)))
    before = all_of(question)
    assert before.keys() == mixed.keys()
    for member, posterior in before.items():
        if isinstance(posterior, Impossible):
            assert set(posterior.members) == set(mixed[member].members)
        else:
            assert posterior == mixed[member]


@often
@given(larger)
def test_names_change_nothing(question: Question) -> None:
    new = {member.id: f"other {number}" for number, member in enumerate(reversed(question.members))}

    def renamed(young: Member | Tally) -> dict:
        return {"dam": young.dam and new[young.dam], "sires": tuple((new[sire], odds) for sire, odds in young.sires)}

    other = replace(
        question,
        members=tuple(replace(member, id=new[member.id], **renamed(member)) for member in question.members),
        priors={new[name]: odds for name, odds in question.priors.items()},
        observations=tuple(replace(seen, member=new[seen.member]) for seen in question.observations),
        tallies=tuple(replace(tally, **renamed(tally)) for tally in question.tallies),
    )
    found = all_of(other)
    for name, posterior in all_of(question).items():
        if not isinstance(posterior, Impossible):
            assert posterior == found[new[name]]


@often
@given(larger)
def test_tallied_young_and_listed_young_tell_the_same(question: Question) -> None:
    listed = [
        (
            Member(f"{tally.key} {n}", tally.sex, tally.dam, tally.sires, tally.litter, tally.each_its_own_sire),
            Observation(f"{tally.key} {n}", tally.likelihood, f"{tally.key} {n}"),
        )
        for tally in question.tallies
        if tally.litter or len(tally.sires) < 2
        for n in range(tally.count)
    ]
    untold = tuple(tally for tally in question.tallies if not tally.litter and len(tally.sires) > 1)
    other = replace(
        question,
        members=(*question.members, *(member for member, _ in listed)),
        observations=(*question.observations, *(seen for _, seen in listed)),
        tallies=untold,
    )
    found = all_of(other)
    for name, posterior in all_of(question).items():
        assert isinstance(posterior, Impossible) == isinstance(found[name], Impossible)
        if not isinstance(posterior, Impossible):
            assert posterior == found[name]


@often
@given(larger, st.sampled_from((Sex.FEMALE, Sex.MALE, Sex.UNKNOWN)), st.integers(0, 1))
def test_an_animal_nobody_descends_from_changes_nothing(question: Question, sex: Sex, generations: int) -> None:
    sired = (("m0", Fraction(1)),)
    extra = [Member("extra", sex, "f0", sired)]
    if generations and sex is Sex.FEMALE:
        extra.append(Member("more", Sex.UNKNOWN, "extra", sired))
    elif generations and sex is Sex.MALE:
        extra.append(Member("more", Sex.UNKNOWN, "f0", (("extra", Fraction(1)),)))
    assume(not (question.locus.lethal and question.locus.sex_linked))  # there a sex by itself is evidence
    before, found = all_of(question), all_of(replace(question, members=(*question.members, *extra)))
    assume(not any(isinstance(posterior, Impossible) for posterior in before.values()))
    for name, posterior in before.items():
        assert posterior == found[name]


@often
@given(larger, st.data())
def test_more_evidence_moves_an_answer_as_bayes_says(question: Question, data: st.DataObject) -> None:
    answers = answer(question)
    names = [member.id for member in question.members]
    seen_of, other = data.draw(st.sampled_from(names)), data.draw(st.sampled_from(names))
    likelihood = data.draw(st.sampled_from(likelihoods(question.locus)))
    both = joint(answers, [seen_of, other])
    if isinstance(both, Impossible):
        return
    weights: dict = {}
    for (genotype, wanted), chance in both.items():
        weights[wanted] = weights.get(wanted, Fraction(0)) + chance * likelihood.get(genotype, 0)
    total = sum(weights.values())
    more = replace(question, observations=(*question.observations, Observation(seen_of, likelihood, "more")))
    if not total:
        assert isinstance(answer(more).of(seen_of), Impossible)
    else:
        assert answer(more).of(other) == {genotype: weight / total for genotype, weight in weights.items() if weight}
