from fractions import Fraction

from helpers.pedigrees import LINKED, ONE, PARTING, SEXED, certain, recessive

from sitegen.genetics.evidence_at import part_of, scaled_alike
from sitegen.genetics.loci import Linkage, Sex
from sitegen.genetics.network import answer
from sitegen.genetics.questions import LinkedQuestion, Member, Observation, Question, Tally
from sitegen.genetics.transmission import states_in

HALF = Fraction(1, 2)


def possible(question: Question, member: str) -> list:
    part = part_of(question)
    return [part.mode.genotypes[state][0] for state in states_in(part.possible[part.pedigree.position[member]])]


def test_evidence_about_one_member_multiplies() -> None:
    seen = (
        Observation("a", {("+", "+"): HALF, ("+", "amel"): HALF}, "one"),
        Observation("a", {("+", "amel"): HALF, ("amel", "amel"): HALF}, "other"),
    )
    odds = {("+", "+"): Fraction(1, 4), ("+", "amel"): Fraction(3, 4)}
    part = part_of(Question(recessive(), (Member("a"),), {"a": odds}, seen))
    assert part.weights[0] == (0, Fraction(3, 4) * HALF * HALF, 0)
    assert part.possible == [0b010]


def test_a_member_without_evidence_has_no_weights() -> None:
    members = (Member("dam", Sex.FEMALE), Member("y", dam="dam"))
    assert part_of(Question(recessive(), members, {}, ())).weights[1] is None


def test_states_are_taken_out_upwards_and_downwards() -> None:
    members = (
        Member("dam", Sex.FEMALE),
        Member("sire", Sex.MALE),
        Member("y", dam="dam", sires=(("sire", ONE),)),
        Member("z", dam="dam", sires=(("sire", ONE),)),
    )
    anything = {("+", "+"): HALF, ("+", "amel"): HALF}
    priors = {"dam": anything, "sire": anything}
    question = Question(recessive(), members, priors, (Observation("y", certain("amel", "amel"), "y"),))
    assert possible(question, "dam") == [("+", "amel")]
    assert possible(question, "z") == [("+", "+"), ("+", "amel"), ("amel", "amel")]


def test_a_sex_that_is_not_recorded_leaves_both() -> None:
    members = (Member("dam"), Member("y", dam="dam"))
    at = SEXED[0]
    question = Question(at, members, {}, (Observation("y", {("+", "Y"): ONE, ("+", "+"): ONE}, "y"),))
    assert possible(question, "dam") == [("+", "+"), ("+", "band")]
    assert possible(question, "y") == [("+", "+"), ("+", "Y")]


def test_known_phase_leaves_one_of_two_states() -> None:
    loci = LINKED[0]
    hets = tuple(Question(at, (Member("a"),), {"a": certain("+", at.id)}, ()) for at in loci)
    linkage = Linkage(("left", "right"), PARTING)
    assert part_of(LinkedQuestion(linkage, hets)).possible[0].bit_count() == 2
    part = part_of(LinkedQuestion(linkage, hets, {"a": ({"left": "left", "right": "right"},)}))
    (state,) = states_in(part.possible[0])
    assert {part.mode.states[state].first, part.mode.states[state].second} == {("", "+", "+"), ("", "left", "right")}


def test_a_tally_judged_at_one_of_two_linked_loci_is_one_tally() -> None:
    loci = LINKED[0]
    tally = Tally("dam", (), 2, certain("+", "left"), "others")
    members = (Member("dam", Sex.FEMALE),)
    asked = (Question(loci[0], members, {}, (), (tally,)), Question(loci[1], members, {}, ()))
    part = part_of(LinkedQuestion(Linkage(("left", "right"), PARTING), asked))
    assert len(part.unlisted) == 1


def test_a_tally_of_no_young_says_nothing() -> None:
    tally = Tally("dam", (), 0, certain("amel", "amel"), "others")
    part = part_of(Question(recessive(), (Member("dam", Sex.FEMALE),), {}, (), (tally,)))
    assert part.unlisted == ()
    assert not part.impossible


def test_common_denominators() -> None:
    assert scaled_alike([[HALF, Fraction(1, 3)], [Fraction(1, 6)]]) == [[3, 2], [1]]


def test_what_is_known_of_a_grandchild_reaches_its_grandparent_whatever_the_record_order() -> None:
    members = (
        Member("grand", Sex.FEMALE),
        Member("mate", Sex.MALE),
        Member("parent", Sex.FEMALE, "grand"),
        Member("child", dam="parent", sires=(("mate", ONE),)),
    )
    carrier = {("+", "+"): ONE / 2, ("+", "amel"): ONE / 2}
    seen = (Observation("child", certain("amel", "amel"), "child"),)
    for order in (members, members[::-1]):
        question = Question(recessive(), order, {"grand": carrier, "mate": carrier}, seen)
        for name in ("grand", "mate", "parent"):
            assert possible(question, name) == [("+", "amel")]


def test_a_founder_of_unknown_sex_has_the_odds_of_either_sex() -> None:
    for at in SEXED:
        part = part_of(Question(at, (Member("one"),), {}, ()))
        for weight, own, state in zip(part.weights[0], part.mode.genotypes, part.mode.states, strict=True):
            if part.mode.living[part.mode.states.index(state)]:
                odds = at.background[state.sex].get(own[0], 0)
                alike = sum(
                    g == own and s.sex is state.sex for g, s in zip(part.mode.genotypes, part.mode.states, strict=True)
                )
                assert weight == odds / alike


def test_what_counted_young_may_be_is_what_was_seen_of_them_in_their_sex() -> None:
    at = SEXED[0]
    seen = {("+", "+"): ONE, ("band", "band"): ONE, ("band", "Y"): ONE}
    for sex, states in ((Sex.FEMALE, [("+", "+"), ("band", "band")]), (Sex.MALE, [("band", "Y")])):
        tally = Tally("dam", (), 2, seen, "others", sex)
        part = part_of(Question(at, (Member("dam", Sex.FEMALE),), {}, (), (tally,)))
        (young,) = part.unlisted
        assert [part.mode.genotypes[state][0] for state in states_in(young.possible)] == states


def test_counted_young_of_one_name_at_one_locus_are_different_young() -> None:
    """Two groups of three that show nothing weigh like one group of six, whatever they are called."""
    may_carry = {("+", "+"): HALF, ("+", "amel"): HALF}
    members, priors = (Member("dam", Sex.FEMALE),), {"dam": certain("amel", "amel")}
    normal = {("+", "+"): ONE, ("+", "amel"): ONE}

    def sire_given(*tallies: Tally) -> object:
        sire = Member("sire", Sex.MALE)
        return answer(Question(recessive(), (*members, sire), {**priors, "sire": may_carry}, (), tallies)).of("sire")

    def young(count: int, key: str) -> Tally:
        return Tally("dam", (("sire", ONE),), count, normal, key)

    six = sire_given(young(6, "a"))
    assert six == {("+", "+"): Fraction(64, 65), ("+", "amel"): Fraction(1, 65)}
    assert sire_given(young(3, "a"), young(3, "b")) == six
    assert sire_given(young(3, "a"), young(3, "a")) == six


def test_a_family_that_cannot_be_does_not_keep_another_from_being_narrowed() -> None:
    """The grandchild shows it, so the young carries it, and only its dam can have passed it on."""
    members = (
        Member("first dam", Sex.FEMALE),
        Member("other dam", Sex.FEMALE),
        Member("other sire", Sex.MALE),
        Member("first young", dam="first dam"),
        Member("other young", dam="other dam", sires=(("other sire", ONE),)),
        Member("other grandchild", dam="other young"),
    )
    half = {("+", "+"): HALF, ("+", "amel"): HALF}
    wild = certain("+", "+")
    seen = tuple(Observation(name, certain("amel", "amel"), name) for name in ("first young", "other grandchild"))
    priors = {"first dam": wild, "other dam": half, "other sire": wild}
    question = Question(recessive(odds=half), members, priors, seen)
    assert part_of(question).impossible == {0}
    assert possible(question, "other dam") == possible(question, "other young") == [("+", "amel")]
