"""What the program says passes its own audit, and the same sentence made stronger by one step does not."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path

from helpers.random_claims import claim_sets
from hypothesis import HealthCheck, given, settings

from sitegen.content.binding import bind_content
from sitegen.content.collection import latest_date
from sitegen.content.folder import read_content
from sitegen.content.texts import FreeText, Of
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.words.audit.whole import audit
from sitegen.words.claims import headline, short_phrase
from sitegen.words.reasons import explanation
from sitegen.words.speech import Voice, plain

many = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
Claims = dict[str, tuple[Claim, ...]]


def read(claims: Claims, voice: Voice, text: str, animal: str) -> tuple[Finding, ...]:
    """What is found when a breeder writes this about an animal."""
    free = FreeText(Of.ANIMAL, animal, "about", text, Place("nowhere", 1, 1))
    return audit(replace(voice.collection, texts=(free,)), voice.answers, claims, {}, voice.as_of)


def told(findings: tuple[Finding, ...]) -> list[str]:
    return [f"{finding.message}; {finding.expected}" for finding in findings]


@many
@given(claim_sets())
def test_every_statement_of_a_claim_passes(made):
    claims, voice = made
    for claim in claims:
        for make in (headline, short_phrase):
            text = plain(make(claim, voice))
            assert (text, told(read({"sage": claims}, voice, text, "sage"))) == (text, [])


def stronger(claim: Claim, voice: Voice) -> Iterator[str]:
    """The headline with one more step of certainty than the evidence has, in every direction."""
    text = plain(headline(claim, voice))
    unseen = claim.kind in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY)
    name = voice.allele(claim).name if claim.allele else ""
    if claim.kind is ClaimKind.MAY_CARRY:
        yield re.sub(r"^May (carry|have)", "Carries", text)
        yield re.sub(r"^May (carry|have)", "Proven to carry", text)
        if claim.chance < Fraction(98, 100) and "about" in text:
            yield re.sub(r"about \d+ in 100", "about 99 in 100", text, count=1)
    if unseen or claim.kind is ClaimKind.TOO_YOUNG:
        yield f"Does not carry {name}."
        yield f"Ruled out for others; it carries no {name}."
    if unseen and claim.copies != 2:
        yield f"Has two copies of {name} for certain."
    if claim.kind is ClaimKind.CARRIES and claim.basis is Basis.PREVIOUS_KEEPER:
        yield re.sub(r"^Said to (carry|have)", "Proven to carry", text)
    if claim.kind is ClaimKind.RULED_OUT:
        yield f"May carry {name}."
        yield f"Carries {name}."
        yield f"Possible het {name}."
    if claim.kind is ClaimKind.ONE_OR_TWO_COPIES:
        yield re.sub(r"^Shows (.*?):", rf"Has two copies of {name}:", text)


STEPS: Counter[ClaimKind] = Counter()


@many
@given(claim_sets())
def test_a_statement_that_is_one_step_stronger_fails(made):
    claims, voice = made
    for claim in claims:
        for text in stronger(claim, voice):
            STEPS[claim.kind] += 1
            found = read({"sage": claims}, voice, text, "sage")
            assert Kind.OVERCLAIM in {finding.kind for finding in found}, text
            assert Level.ERROR in {finding.level for finding in found}, text


def test_steps_were_taken_from_every_kind_that_has_one():
    test_a_statement_that_is_one_step_stronger_fails()
    assert set(STEPS) >= {
        ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG, ClaimKind.RULED_OUT, ClaimKind.ONE_OR_TWO_COPIES
    }  # fmt: skip


def test_claims_and_all_their_reasons_in_the_demo_pass():
    content, _ = read_content(Path(__file__).parents[2] / "content")
    collection, _ = bind_content(content)
    assert collection is not None
    asked = ask(gather(collection))
    answers, as_of = answers_of(asked), latest_date(collection)
    claims = claims_of(collection, answers, partial(reasons, asked), as_of)
    voice = Voice(collection, answers, as_of)
    texts = [
        FreeText(Of.ANIMAL, claim.animal, "captions", plain(sentence), Place("nowhere", 1, 1))
        for each in claims.values()
        for claim in each
        for sentence in (headline(claim, voice), *explanation(claim, voice))
    ]
    assert len(texts) > 500
    assert told(audit(replace(collection, texts=tuple(texts)), answers, claims, {}, as_of)) == []


def test_what_moved_a_chance_from_the_trades_own_is_understood():
    """Design 3.2: the reason names the shorthand that it would have been."""
    from helpers.said_texts import about  # noqa: PLC0415

    for text in (
        "May carry hypo: about 33 in 100 such young do. From its parents alone it would be 66% het; nine littermates "
        "without it make it 52 in 100.",
        "From its parents alone it would be 66% het hypo; nine littermates without it make it about 33 in 100.",
        "From its parents alone it would have been 66% het hypo.",
        "By today’s records we would have said “66% het hypo”.",
        "Without the test it would be 100% het caramel.",
    ):
        assert told(about(text)) == []
    assert len(about("From its parents alone it is 66% het hypo.")) == 1
