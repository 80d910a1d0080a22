"""Every piece of evidence that is named as moving an uncertain answer does move it when it is left out."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from helpers.by_hand import animal, collection, litter, recessive, species
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Evidence, Ground
from sitegen.evidence.reasons import reasons
from sitegen.evidence.steps import chain
from sitegen.genetics.questions import Impossible, Observation, Posterior, Tally

STATED = st.sampled_from(["50%", "66%", "certain", ""])
LOOKS: st.SearchStrategy[str | None] = st.sampled_from(["", "", "amel", None])


@st.composite
def collections(draw: st.DrawFn) -> Collection:
    """Four founders and up to three litters, each from any two animals before it, some inbred."""
    records: list[object] = [species(recessive("amel"))]
    names = [f"founder{n}" for n in range(4)]
    for name in names:
        stated = draw(STATED)
        look = draw(LOOKS)
        given_odds = {"amel": stated} if stated and look != "amel" else None
        records.append(animal(name, shows=look, stated=given_odds))
    for number in range(draw(st.integers(1, 3))):
        dam, sire = draw(st.lists(st.sampled_from(names), min_size=2, max_size=2, unique=True))
        young = {str(n): {"shows": draw(LOOKS)} for n in range(draw(st.integers(1, 2)))}
        others = {"": draw(st.integers(0, 2))}
        records.append(litter(f"x{number}", dam, sire, young, others))
        names += [f"x{number}/{n}" for n in young]
    tested = draw(st.sampled_from(names))
    kept: Collection = collection(*records)  # type: ignore[arg-type]
    if draw(st.booleans()):
        result = draw(st.sampled_from(["+/+", "+/amel", "+/+ +/amel"]))
        probe = animal("probe", tests={"amel": result}).genes[0].tests
        record = kept.animals[tested]
        genes = (replace(record.genes[0], tests=probe),)
        kept = replace(kept, animals={**kept.animals, tested: replace(record, genes=genes)})
    return kept


def _without(evidence: Evidence, leaves_out: Callable[[Observation | Tally], bool], name: str) -> object:
    (unit,) = evidence.units
    question = evidence.loci["snake", "amel"].question
    reduced = replace(
        question,
        observations=tuple(seen for seen in question.observations if not leaves_out(seen)),
        tallies=tuple(tally for tally in question.tallies if not leaves_out(tally)),
    )
    return ask(replace(evidence, units=(replace(unit, question=reduced),))).of(name, "amel")


def _descendants(evidence: Evidence, name: str) -> set[str]:
    found: set[str] = set()
    waiting = [name]
    while waiting:
        for young in evidence.young.get(waiting.pop(), ()):
            if young not in found:
                found.add(young)
                waiting.append(young)
    return found


def _settled(posterior: Posterior) -> bool:
    return len(posterior) == 1


def _named(known: Asked, name: str) -> list[tuple[Ground, Callable[[Observation | Tally], bool]]]:
    """What each reason names, as a choice of the observations and tallies that it speaks of.

    Evidence that has become a founder's odds is left out: the answer rests on those.
    """
    sources = known.evidence.loci["snake", "amel"].sources
    founders = known.evidence.loci["snake", "amel"].founders
    found: list[tuple[Ground, Callable[[Observation | Tally], bool]]] = []
    for reason in reasons(known, name, "amel"):
        if name in founders and founders[name].ground is reason.ground:
            continue
        if reason.ground in (Ground.SHOWS_NOT, Ground.DNA_TEST) and reason.animals == (name,):

            def own(seen: Observation | Tally, ground: Ground = reason.ground) -> bool:
                return sources[seen.key].ground is ground and sources[seen.key].animal == name

            found.append((reason.ground, own))
    return found


@given(collections())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_own_evidence_that_is_named_moves_the_answer(kept: Collection) -> None:
    """What the young prove as well is left out: two proofs of one thing are both reasons."""
    known = ask(gather(kept))
    for name in kept.animals:
        answer = known.of(name, "amel")
        below = _descendants(known.evidence, name)

        def of_young(seen: Observation | Tally, below: set[str] = below, name: str = name) -> bool:
            parents = (seen.dam, *(sire for sire, _ in seen.sires)) if isinstance(seen, Tally) else ()
            return bool(below.union([name]).intersection(parents)) or getattr(seen, "member", "") in below

        plain = _without(known.evidence, of_young, name)
        for ground, leaves_out in [] if isinstance(answer, Impossible) else _named(known, name):
            reduced = _without(known.evidence, lambda seen, out=leaves_out: out(seen) or of_young(seen), name)
            assert reduced != plain, (name, ground)


@given(collections())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_own_evidence_that_moves_the_answer_is_named_unless_a_proof_needs_no_more(kept: Collection) -> None:
    known = ask(gather(kept))
    sources = known.evidence.loci["snake", "amel"].sources
    for name in kept.animals:
        answer = known.of(name, "amel")
        if isinstance(answer, Impossible) or _settled(answer):  # type: ignore[arg-type]
            continue
        named = {reason.ground for reason in reasons(known, name, "amel") if reason.animals == (name,)}
        for key, source in sources.items():
            if (
                source.animal == name
                and _without(known.evidence, lambda seen, key=key: seen.key == key, name) != answer
            ):
                assert source.ground in named


@given(collections())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_littermates_and_young_are_named_only_when_they_count(kept: Collection) -> None:
    known = ask(gather(kept))
    for name in kept.animals:
        answer = known.of(name, "amel")
        if isinstance(answer, Impossible) or _settled(answer):  # type: ignore[arg-type]
            continue
        grounds = {reason.ground for reason in reasons(known, name, "amel")}
        relatives = Ground.YOUNG in grounds or Ground.SIBLINGS in grounds
        if relatives:
            sources = known.evidence.loci["snake", "amel"].sources
            others = [key for key, source in sources.items() if source.animal != name]
            choices = [{key} for key in others] + [set(others)]
            assert any(
                _without(known.evidence, lambda seen, keys=keys: seen.key in keys, name) != answer for keys in choices
            ), "two pieces may balance each other, but not each be idle"


@given(collections())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_the_chain_starts_from_nothing_and_ends_at_the_answer(kept: Collection) -> None:
    known = ask(gather(kept))
    for name in kept.animals:
        answer = known.of(name, "amel")
        steps = chain(known, name, "amel")
        if isinstance(answer, Impossible):
            assert steps == ()
            continue
        assert steps[0].before == {}
        assert steps[-1].after == answer
        for step, further in pairwise(steps):
            assert step.after == further.before
            assert further.after != further.before
        assert all(sum(step.after.values()) == 1 for step in steps)
