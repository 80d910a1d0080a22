"""Whatever the records, no sentence says more than the posterior, and each says it in the same plain way."""

import re
from collections import Counter
from fractions import Fraction

from helpers.random_claims import claim_sets, without_names
from helpers.words_of_the_product import grade
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.evidence.kinds import Basis, Claim, ClaimKind, chance_of_allele, chance_of_copies, chance_of_showing
from sitegen.genetics.loci import Sex
from sitegen.words.claims import headline, short_phrase, such_means
from sitegen.words.numbers import Edge, about_in_100, both_sides, in_100
from sitegen.words.reasons import explanation
from sitegen.words.speech import Voice, plain

WITH_A_CHANCE = (ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.TOO_YOUNG)
many = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def whole_text(claim: Claim, voice: Voice) -> str:
    """Everything that is said of a claim."""
    return " ".join(plain(sentence) for sentence in (headline(claim, voice), *explanation(claim, voice)))


def test_the_claims_are_many_and_of_every_kind():
    """Or these laws prove nothing."""
    seen: Counter[ClaimKind] = Counter()

    @settings(many, derandomize=True)
    @given(claim_sets(opened=True))
    def count(made):
        seen.update(claim.kind for claim in made[0])

    count()
    assert sum(seen.values()) >= 200
    assert set(seen) >= set(ClaimKind) - {ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM}


@many
@given(claim_sets(opened=True))
def test_there_is_one_denominator_and_no_one_in_so_many(made):
    for claim in made[0]:
        for text in (whole_text(claim, made[1]), plain(short_phrase(claim, made[1]))):
            assert {"100"} >= set(re.findall(r"\bin (\d+)", text)), text
            assert not re.search(r"(?<!than )\b(1|one) in \d", text.replace("about 1 in 100", "")), text


@many
@given(claim_sets(opened=True))
def test_none_and_all_are_said_only_when_exact(made):
    claims, voice = made
    for claim in claims:
        text = whole_text(claim, voice)
        certain = {chance_of_allele(claim.posterior, allele.id) for allele in voice.locus(claim).alleles} <= {0, 1}
        assert certain or not re.search(r"\b(0|100|none|all) in 100", plain(headline(claim, voice))), text
        assert not re.search(r"\b(never|always|impossible|guaranteed)\b", text), text


@many
@given(claim_sets(opened=True))
def test_both_sides_are_given_and_add_up(made):
    claims, voice = made
    for claim in claims:
        if claim.kind not in WITH_A_CHANCE:
            continue
        text = plain(headline(claim, voice))
        this, other = both_sides(claim.chance)
        if isinstance(this, Edge):
            assert f"{this.value} in 100" in text
            assert f", {other.value} " in text
        else:
            assert f"about {this} in 100 " in text, text
            assert f", {100 - this} " in text, text


@many
@given(claim_sets(opened=True))
def test_the_number_that_is_said_is_the_chance_of_the_posterior(made):
    claims, voice = made
    for claim in claims:
        exact = {
            ClaimKind.MAY_CARRY: chance_of_allele(claim.posterior, claim.allele) if claim.allele else None,
            ClaimKind.ONE_OR_TWO_COPIES: chance_of_copies(claim.posterior, claim.allele, 2) if claim.allele else None,
            ClaimKind.TOO_YOUNG: chance_of_showing(voice.locus(claim), claim.posterior, claim.allele)
            if claim.allele
            else None,
        }.get(claim.kind)
        if exact is None:
            continue
        assert exact == claim.chance
        number = re.search(r"about (\d+) in 100", plain(headline(claim, voice)))
        if number:
            assert abs(int(number[1]) - exact * 100) <= Fraction(1, 2)
        else:
            assert exact < Fraction(1, 100) or exact > Fraction(99, 100)
        fraction = re.search(r"\((\d+)/(\d+)[;)]", plain(headline(claim, voice)))
        assert not fraction or Fraction(int(fraction[1]), int(fraction[2])) == exact


@many
@given(claim_sets(opened=True))
def test_the_reference_class_is_named(made):
    claims, voice = made
    for claim in claims:
        if claim.kind in WITH_A_CHANCE:
            text = plain(headline(claim, voice))
            such = re.search(r"such (young|animals)", text)
            assert such, text
            assert plain(such_means(claims, voice)).startswith(f"“{such[0].capitalize()}” are {such[1]} like this one")


@many
@given(claim_sets(opened=True))
def test_certainty_is_said_only_at_a_posterior_of_one(made):
    claims, voice = made
    for claim in claims:
        said = plain(headline(claim, voice))
        if "certain" in said or said.startswith(("Shows", "Carries", "Has", "Said")):
            assert claim.kind is not ClaimKind.MAY_CARRY
            if claim.kind is ClaimKind.CARRIES:
                assert chance_of_allele(claim.posterior, claim.allele) == 1
        unsure = claim.kind in (ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)
        assert not unsure or plain(explanation(claim, voice)[-1]) == "Not proven."
        assert "proven" not in whole_text(claim, voice).replace("Not proven.", "")


@many
@given(claim_sets(opened=True))
def test_shorthand_is_quoted_last_and_never_for_a_gene_that_shows_with_one_copy(made):
    claims, voice = made
    for claim in claims:
        text = plain(headline(claim, voice))
        bare = re.sub(r"“[^”]*”", "", text)
        assert not re.search(r"\bhet\b|%", bare), text
        if "“" in text:
            assert re.search(r"the trade’s “[^”]*het”\)\.$", text), text
            assert claim.allele in ("amel", "hypo", "motley", "stripe", "banded")
            percent = re.search(r"“(\d+)% het”", text)
            exact = {"33": Fraction(1, 3), "50": Fraction(1, 2), "66": Fraction(2, 3)}
            assert claim.chance == (exact[percent[1]] if percent else 1)


@many
@given(claim_sets(opened=True))
def test_a_chain_on_a_previous_keepers_word_says_so(made):
    claims, voice = made
    for claim in claims:
        text = whole_text(claim, voice)
        on_a_word = claim.basis is Basis.PREVIOUS_KEEPER
        assert bool(claim.hangs_on) == ("only a previous keeper’s word" in text), text
        assert not on_a_word or (claim.hangs_on and "certain" not in plain(headline(claim, voice))), text
        assert on_a_word or not claim.hangs_on or (claim.kind, claim.copies) == (ClaimKind.CARRIES, -1), text


@many
@given(claim_sets(opened=True))
def test_the_sex_that_is_known_is_said(made):
    claims, voice = made
    for claim in claims:
        told = " ".join(re.findall(r"\b(?:it|its|this one|she|her|he|his|him)\b", whole_text(claim, voice).lower()))
        match voice.collection.animals[claim.animal].sex:
            case Sex.FEMALE:
                assert not re.search(r"\b(its|this one|he|him)\b", told), whole_text(claim, voice)
            case Sex.MALE:
                assert not re.search(r"\b(its|this one|she|her)\b", told), whole_text(claim, voice)
            case Sex.UNKNOWN:
                assert not re.search(r"\b(she|her|he|his|him)\b", told), whole_text(claim, voice)


@many
@given(claim_sets(opened=True))
def test_a_chance_is_about_the_hidden_state_and_not_about_the_look(made):
    claims, voice = made
    for claim in claims:
        assert not re.search(r"\bis (about )?\d+( ?%| percent| in 100)", whole_text(claim, voice))


@many
@given(claim_sets(opened=True))
def test_what_is_said_can_be_read_at_school(made):
    """Names of genes and animals are not counted: they are not our words."""
    claims, voice = made
    for claim in claims:
        text = without_names(whole_text(claim, voice))
        assert grade(text) <= 9, (grade(text), text)


@many
@given(claim_sets(opened=True))
def test_a_sentence_is_whole(made):
    claims, voice = made
    for claim in claims:
        for sentence in (headline(claim, voice), *explanation(claim, voice)):
            text = plain(sentence)
            assert re.match(r"^[A-Z].*\.$", text), text
            assert not re.search(r"  |\{|\}|\(\)|\( |,,| ,|\.\.", text), text


@settings(max_examples=1000, deadline=None)
@given(st.fractions(0, 1))
def test_words_in_100_agree_with_a_thousand_exact_chances(chance):
    count = about_in_100(chance)
    text = in_100(chance)
    if isinstance(count, Edge):
        assert 0 < chance < Fraction(1, 100) if count is Edge.FEWER_THAN_1 else Fraction(99, 100) < chance < 1
        assert text == f"{count.value} in 100"
        return
    assert abs(count - chance * 100) <= Fraction(1, 2)
    assert (count in (0, 100)) == (chance in (0, 1))
    assert text == (f"{count} in 100" if chance in (0, 1) else f"about {count} in 100")
    this, other = both_sides(chance)
    assert (this, other) == (count, 100 - count)
