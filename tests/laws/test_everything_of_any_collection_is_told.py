"""Of collections with sex-linked loci and unjudged animals of both sexes every claim, reason and chain is told."""

import datetime as dt
from collections import Counter
from functools import partial

from helpers.random_histories import grown_collection, sexed_collection
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground
from sitegen.evidence.reasons import reasons
from sitegen.evidence.steps import chain
from sitegen.genetics.loci import Sex
from sitegen.words.claims import headline
from sitegen.words.reasons import explanation
from sitegen.words.speech import Voice, plain

seeds = st.integers(0, 1_000_000)
SEXED = ("band", "glow")


def told(collection: Collection) -> Counter[str]:
    """Everything is put into words; how many claims at which kind of locus."""
    asked = ask(gather(collection))
    answers, day = answers_of(asked), dt.date(2026, 10, 1)
    claims = claims_of(collection, answers, partial(reasons, asked), day)
    voice = Voice(collection, answers, day)
    found: Counter[str] = Counter()
    for own in claims.values():
        for claim in own:
            texts = [plain(headline(claim, voice)), *map(plain, explanation(claim, voice))]
            assert all(text.endswith(".") and "{" not in text for text in texts), texts
            found["sexed" if claim.locus in SEXED else "other"] += 1
            if claim.locus in SEXED and claim.unjudged and collection.animals[claim.animal].sex is not Sex.UNKNOWN:
                found[f"unjudged {collection.animals[claim.animal].sex}"] += 1
    _relatives_matter(asked, collection)
    return found


def _relatives_matter(asked: Asked, collection: Collection) -> None:
    """Chains at loci of both kinds end at the answer; littermates are named only where they could tell anything."""
    for animal in list(collection.animals)[:8]:
        for locus in asked.evidence.collection.species["snake"].genome.loci:
            answer = asked.of(animal, locus.id)
            steps = chain(asked, animal, locus.id)
            assert not steps or steps[-1].after == answer
            if locus.id in SEXED and isinstance(answer, dict) and len(answer) == 1:
                grounds = {reason.ground for reason in reasons(asked, animal, locus.id)}
                assert Ground.BACKGROUND not in grounds or collection.animals[animal].dam is None


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_claims_reasons_and_chains_have_words_whatever_the_records(seed: int) -> None:
    told(sexed_collection(seed))


@settings(max_examples=8, deadline=None)
@given(seeds)
def test_the_same_with_loci_of_every_kind(seed: int) -> None:
    told(grown_collection(seed))


def test_both_sexes_are_drawn_without_a_look_at_sex_linked_loci() -> None:
    """Or the law above proves little."""
    found: Counter[str] = sum((told(sexed_collection(seed)) for seed in range(30)), Counter())
    assert min(found["sexed"], found["unjudged female"], found["unjudged male"]) >= 10, found
