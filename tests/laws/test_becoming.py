"""What is told of relatives before a young is kept is what the records say of them with it, no more and no less."""

import datetime as dt
from dataclasses import replace

from helpers.random_histories import grown_collection, sexed_collection
from hypothesis import Phase, assume, event, given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.content.genes import Genes, Judged
from sitegen.content.litters import Litter
from sitegen.evidence.answers import Known, answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.becoming import Becoming, becomings, claims_about, near_to
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import chance_of_allele, chance_of_copies
from sitegen.words.becoming import becoming_lines
from sitegen.words.speech import Voice

DAY = dt.date(2026, 11, 25)
few = settings(max_examples=60, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
drawn = st.tuples(st.integers(0, 1_000_000), st.sampled_from((grown_collection, sexed_collection)), st.integers(0, 50))


def known_of(collection: Collection) -> Known:
    asked = ask(gather(collection))
    return Known(collection, asked, answers_of(asked))


def states(seed: int, makes, which: int) -> tuple[Known, Known, Litter, str]:  # type: ignore[no-untyped-def]
    """The records before one of the young was described, and after."""
    after = makes(seed)
    young = [each for each in after.animals.values() if each.litter and each.number]
    assume(young)
    one = young[which % len(young)]
    nothing = replace(one, genes=(Genes(Judged((), (), one.place, written=False)),))
    before = replace(after, animals={**after.animals, one.id: nothing})
    return known_of(before), known_of(after), after.litters[one.litter], one.id


def told_of(before: Known, after: Known, litter: Litter) -> tuple[Becoming, ...]:
    near = near_to(litter, after.collection)
    return becomings(claims_about(before, near, DAY), claims_about(after, near, DAY))


@few
@given(drawn)
def test_whatever_moves_of_a_relative_is_told_and_nothing_else(case):
    before, after, litter, young = states(*case)
    found = told_of(before, after, litter)
    told = {(each.animal, claim.locus) for each in found if (claim := each.after or each.before)}
    event("told" if told else "nothing to tell")
    was, is_ = before.answers, after.answers
    for animal in (each for each in near_to(litter, after.collection) if each != young):
        for locus in after.collection.species[after.collection.animals[animal].species].genome.loci:
            old, new = (each.posteriors[animal].get(locus.id) for each in (was, is_))
            if old is None or new is None:
                assert (animal, locus.id) not in told  # one of the two states has no answer there
                continue
            moves = any(
                chance_of_allele(old, allele.id) != chance_of_allele(new, allele.id)
                or chance_of_copies(old, allele.id, 2) != chance_of_copies(new, allele.id, 2)
                for allele in locus.alleles
            )
            if moves:
                assert (animal, locus.id) in told
            if old == new and was.possible[animal].get(locus.id) == is_.possible[animal].get(locus.id):
                here = [each for each in found if each.animal == animal and locus.id in _loci(each)]
                assert all(_hangs(each) for each in here)


def _loci(each: Becoming) -> set[str]:
    return {claim.locus for claim in (each.before, each.after) if claim}


def _hangs(each: Becoming) -> bool:
    """A claim may change beside equal odds only by whose word or what taken for granted it hangs on, or by strain."""
    one, other = each.before, each.after
    if one is None or other is None:
        return True  # what is ruled out is told only where a parent might have passed it on
    return (one.basis, one.condition, one.strained) != (other.basis, other.condition, other.strained)


@few
@given(drawn)
def test_the_same_records_tell_nothing(case):
    _, after, litter, young = states(*case)
    again = known_of(after.collection)
    found = told_of(after, again, litter)
    assert found == ()
    voice = Voice(after.collection, after.answers, DAY)
    assert list(becoming_lines(found, litter, [young], voice, voice)) == []


@few
@given(drawn)
def test_for_certain_is_said_only_of_what_no_record_leaves_open(case):
    before, after, litter, young = states(*case)
    found = told_of(before, after, litter)
    voices = [Voice(each.collection, each.answers, DAY) for each in (before, after)]
    for each in found:
        for line in becoming_lines([each], litter, [young], *voices):
            now = line.partition("; until now")[0]
            if "for certain" in now:
                event("certain")
                claim = each.after
                assert claim is not None
                left = after.answers.possible[each.animal][claim.locus]
                assert all(claim.allele in genotype for genotype in left)
            if "does not carry" in now or "does not have" in now:
                event("ruled out")
                assert each.after is not None
                left = after.answers.possible[each.animal][each.after.locus]
                assert not any(each.after.allele in genotype for genotype in left)
