import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from itertools import product
from pathlib import Path
from time import perf_counter

import pytest
from helpers.pedigrees import (
    AUTOSOMAL,
    ONE,
    SEXED,
    certain,
    closed,
    joint,
    likelihood_of_look,
    looked_at,
    ordinary,
    pair,
    planned,
    quarter,
    questions,
    recessive,
    tied_by_a_third,
    with_members,
)
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.genetics.loci import Linkage, Locus, Sex
from sitegen.genetics.network import Case, agree, answer, answer_all, cases
from sitegen.genetics.questions import (
    Impossible,
    LinkedQuestion,
    Member,
    Observation,
    Question,
    Tally,
    TooTangled,
)

AMEL, HYPO = recessive(), recessive("hypo")
HALF = Fraction(1, 2)
NORMAL = {("+", "+"): ONE, ("+", "amel"): ONE}
VISUAL, HET, WILD = certain("amel", "amel"), certain("+", "amel"), certain("+", "+")
MAY_CARRY = {("+", "+"): HALF, ("+", "amel"): HALF}


def of_sires(*names: str) -> tuple[tuple[str, Fraction], ...]:
    return tuple((name, Fraction(1, len(names))) for name in names)


# Traps that bit others.


def test_two_littermates_with_equal_evidence_both_count() -> None:
    seen = [("y1", Sex.UNKNOWN, NORMAL), ("y2", Sex.UNKNOWN, NORMAL)]
    assert answer(pair(AMEL, MAY_CARRY, VISUAL, seen)).of("dam")[("+", "amel")] == Fraction(1, 5)


def test_one_observation_made_twice_counts_twice() -> None:
    half_seen = {("+", "+"): ONE, ("+", "amel"): HALF}
    asked = Question(AMEL, (Member("a"),), {"a": MAY_CARRY}, (Observation("a", half_seen, "look"),) * 2)
    assert answer(asked).of("a")[("+", "amel")] == (HALF * HALF**2) / (HALF + HALF * HALF**2)


def test_littermates_share_their_parents_doubt() -> None:
    asked = with_members(pair(AMEL, MAY_CARRY, VISUAL), [planned(0), planned(1)])
    both = joint(answer(asked), ["planned 0", "planned 1"])
    assert both[("amel", "amel"), ("amel", "amel")] == HALF * Fraction(1, 4)
    assert answer(asked).of("planned 0")[("amel", "amel")] == HALF * HALF


def test_a_young_proves_its_grandparent() -> None:
    members = (
        Member("grandsire", Sex.MALE),
        Member("plain", Sex.FEMALE),
        Member("dam", Sex.FEMALE, "plain", of_sires("grandsire")),
        Member("sire", Sex.MALE),
        Member("young", dam="dam", sires=of_sires("sire")),
    )
    priors = {"grandsire": MAY_CARRY, "plain": WILD, "sire": VISUAL}
    answers = answer(Question(AMEL, members, priors, (Observation("young", VISUAL, "y"),)))
    assert answers.of("grandsire") == answers.of("dam") == HET


def test_back_cross_of_father_and_daughter() -> None:
    # Daughter of a certain carrier and a plain dam carries with 1/2; so 1/2 of her young with him have 1/4.
    members = (
        Member("sire", Sex.MALE),
        Member("dam", Sex.FEMALE),
        Member("daughter", Sex.FEMALE, "dam", of_sires("sire")),
        Member("young", dam="daughter", sires=of_sires("sire")),
    )
    asked = Question(AMEL, members, {"sire": HET, "dam": WILD}, ())
    answers = answer(asked)
    assert answers.of("young")[("amel", "amel")] == HALF * Fraction(1, 4)
    seen = replace(asked, observations=(Observation("young", NORMAL, "y"),))
    assert answer(seen).of("daughter")[("+", "amel")] == (HALF * Fraction(3, 4)) / (HALF + HALF * Fraction(3, 4))


def test_the_smallest_chance_is_exact() -> None:
    asked = pair(AMEL, MAY_CARRY, VISUAL, tallies=[(750, NORMAL)])
    assert answer(asked).of("dam")[("+", "amel")] == Fraction(1, 2**750 + 1)


def test_thousands_of_tallied_young_are_exact_and_quick() -> None:
    start = perf_counter()
    asked = pair(AMEL, MAY_CARRY, HET, tallies=[(1200, NORMAL)] * 3)
    assert answer(asked).of("dam")[("+", "amel")] == Fraction(3**3600, 3**3600 + 4**3600)
    assert perf_counter() - start < 20


def test_thousands_of_tallied_young_of_two_possible_sires_are_exact() -> None:
    members = (Member("dam", Sex.FEMALE), Member("one", Sex.MALE), Member("other", Sex.MALE))
    tally = Tally("dam", of_sires("one", "other"), 1000, NORMAL, "others", litter="L", each_its_own_sire=True)
    asked = Question(AMEL, members, {"dam": VISUAL, "one": MAY_CARRY, "other": WILD}, (), (tally,))
    like = Fraction(3, 4) ** 1000
    assert answer(asked).of("one")[("+", "amel")] == like / (1 + like)


@pytest.mark.parametrize("generations", [200, 1500])
def test_a_deep_pedigree_needs_no_recursion(generations: int) -> None:
    members = [Member("f0", Sex.FEMALE), Member("m0", Sex.MALE)]
    for n in range(1, generations):
        parents = (f"f{n - 1}", of_sires(f"m{n - 1}"))
        members += [Member(f"f{n}", Sex.FEMALE, *parents), Member(f"m{n}", Sex.MALE, *parents)]
    answers = answer(Question(AMEL, tuple(members), {"f0": HET, "m0": HET}, ()))
    last = answers.of(f"f{generations - 1}")
    assert sum(last.values()) == 1
    assert last[("+", "amel")] < Fraction(1, 10**6)
    if generations == 200:
        far = joint(answers, ["f0", "m100", "f199"])
        assert sum(far.values()) == 1


def test_answers_and_cost_do_not_depend_on_the_hash_seed() -> None:
    script = (
        "from helpers.pedigrees import closed, looked_at; from sitegen.genetics.network import answer\n"
        "q = looked_at(closed(70, 3)); a = answer(q)\n"
        "print([list(a.of(m.id).items()) for m in q.members]); print(answer(q, limit=100).failures)"
    )
    tests, root = Path(__file__).parents[2], Path(__file__).parents[3]
    said = {
        subprocess.run(
            [sys.executable, "-c", script],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": f"{tests}{os.pathsep}{root}"},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(said) == 1
    assert "TooTangled" in said.pop()


# Size.


def test_a_closed_group_bred_at_random_is_refused_by_name_and_in_seconds() -> None:
    asked = looked_at(closed(200))
    start = perf_counter()
    failures = answer(asked).failures
    assert perf_counter() - start < 20
    assert len(failures) == 1
    assert isinstance(failures[0], TooTangled)
    assert len(failures[0].members) > 12
    assert set(failures[0].members) <= {member.id for member in asked.members}
    assert failures[0].entries > 3_000_000
    assert isinstance(answer(asked).of(failures[0].members[0]), TooTangled)


def test_no_table_is_made_when_the_cost_is_beyond_the_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a table was made")

    monkeypatch.setattr("sitegen.genetics.solving.Table", never)
    monkeypatch.setattr("sitegen.genetics.transmission.Transmission.table", never)
    assert answer(looked_at(closed(60), share=1.0), limit=1).failures


def test_a_thousand_animals_of_an_ordinary_collection() -> None:
    asked = looked_at(ordinary(1000))
    start = perf_counter()
    answers = answer(asked)
    assert all(sum(answers.of(member.id).values()) == 1 for member in asked.members)
    assert perf_counter() - start < 20
    assert answers.failures == ()


def test_young_without_evidence_do_not_tangle_their_family() -> None:
    members = closed(45, 1, n_founders=6, generation=12)
    asked = looked_at(members, share=0.0)
    known = replace(asked, observations=(Observation("a0000", HET, "tested"),))
    whole, small = answer(known, limit=10**7), answer(known, limit=3000)
    assert whole.failures == ()
    assert small.of("a0000") == HET
    answered = 0
    for member in members:
        if not isinstance(found := small.of(member.id), TooTangled):
            assert found == whole.of(member.id)
            answered += 1
    assert answered > 20


# Outcomes.


def two_families(*, spoil: bool) -> Question:
    first = pair(AMEL, WILD, VISUAL, [("y1", Sex.UNKNOWN, VISUAL if spoil else NORMAL)])
    second = [Member("other", Sex.FEMALE), Member("child", dam="other", sires=()), Member("alone")]
    return replace(first, members=(*first.members, *second), priors=first.priors | {"other": HET})


def test_a_contradiction_spoils_its_own_family_only() -> None:
    answers = answer(two_families(spoil=True))
    family = Impossible(("dam", "sire", "y1"))
    assert answers.failures == (family,)
    assert answers.of("dam") == answers.of("y1") == joint(answers, ["y1", "other"]) == family
    assert answers.of("child") == {("+", "+"): HALF, ("+", "amel"): HALF}
    assert joint(answers, ["other", "alone"]) == {(("+", "amel"), ("+", "+")): 1}
    assert answer(two_families(spoil=False)).failures == ()


def test_a_contradiction_that_only_the_sum_shows() -> None:
    # Either sire alone could explain one of the two young, but the litter had one sire.
    members = (Member("dam", Sex.FEMALE), Member("one", Sex.MALE), Member("other", Sex.MALE))
    at = AUTOSOMAL[3]
    young = tuple(Member(f"y{n}", dam="dam", sires=of_sires("one", "other"), litter="L") for n in range(2))
    priors = {"dam": certain("+", "+"), "one": certain("motley", "motley"), "other": certain("stripe", "stripe")}
    seen = (Observation("y0", certain("+", "motley"), "y0"), Observation("y1", certain("+", "stripe"), "y1"))
    asked = Question(at, (*members, *young), priors, seen)
    assert isinstance(answer(asked).of("dam"), Impossible)
    assert isinstance(answer(asked).sires("L"), Impossible)
    own = replace(asked, members=(*members, *(replace(one, each_its_own_sire=True) for one in young)))
    assert answer(own).sires("y0") == {"one": 1}
    assert answer(own).sires("y1") == {"other": 1}


def test_whether_all_can_be_true_is_told_without_an_answer() -> None:
    assert agree([two_families(spoil=False)], Fraction(0)) is True
    assert agree([two_families(spoil=False), two_families(spoil=True)], Fraction(0)) is False
    assert isinstance(agree([looked_at(closed(200))], Fraction(0)), TooTangled)


def test_members_and_loci_that_are_not_there() -> None:
    answers = answer(two_families(spoil=False))
    with pytest.raises(KeyError):
        answers.of("nobody")
    with pytest.raises(KeyError):
        answers.of("dam", "no-locus")
    with pytest.raises(KeyError):
        answers.sires("no litter")


def test_the_same_member_may_be_asked_for_twice() -> None:
    answers = answer(pair(AMEL, MAY_CARRY, VISUAL))
    assert joint(answers, ["dam", "dam"]) == {
        (("+", "+"), ("+", "+")): HALF,
        (("+", "amel"), ("+", "amel")): HALF,
    }


# Sires.


def ambiguous(at_odds: dict, look: dict | None) -> Question:
    members = (
        Member("dam", Sex.FEMALE),
        Member("flint", Sex.MALE),
        Member("basalt", Sex.MALE),
        Member("y", dam="dam", sires=of_sires("flint", "basalt"), litter="L"),
        Member("z", dam="dam", sires=of_sires("flint", "basalt"), litter="L"),
    )
    seen = () if look is None else (Observation("y", look, "y"),)
    return Question(AMEL, members, at_odds, seen)


def test_a_visual_young_points_at_the_sire_that_may_carry() -> None:
    answers = answer(ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": WILD}, VISUAL))
    assert answers.sires("L") == {"flint": 1}
    assert answers.of("flint") == HET
    assert answers.of("z")[("amel", "amel")] == Fraction(1, 4)


def test_normal_young_weigh_the_sires() -> None:
    answers = answer(ambiguous({"dam": VISUAL, "flint": VISUAL, "basalt": HET}, None))
    assert answers.sires("L") == {"flint": HALF, "basalt": HALF}
    seen = answer(ambiguous({"dam": VISUAL, "flint": HET, "basalt": WILD}, NORMAL))
    assert seen.sires("L") == {"flint": Fraction(1, 3), "basalt": Fraction(2, 3)}
    assert seen.of("z")[("amel", "amel")] == Fraction(1, 3) * HALF


def test_what_one_locus_says_of_the_sire_counts_at_every_other() -> None:
    first = ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": WILD}, VISUAL)
    hypo = recessive("hypo")
    second = Question(hypo, first.members, {"flint": certain("hypo", "hypo")}, ())
    assert answer(second).of("z") == {("+", "+"): HALF, ("+", "hypo"): HALF}
    _, together = answer_all([first, second])
    assert together.of("z") == {("+", "hypo"): 1}
    assert together.sires("L") == {"flint": 1}


def test_loci_that_disagree_about_the_sire_contradict_each_other_only_together() -> None:
    first = ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": WILD}, VISUAL)
    hypo = recessive("hypo")
    seen = (Observation("z", certain("+", "hypo"), "z"),)
    cleared = {"dam": certain("+", "+"), "flint": certain("+", "+"), "basalt": certain("hypo", "hypo")}
    second = Question(hypo, first.members, cleared, seen)
    assert answer(first).failures == answer(second).failures == ()
    for answers in answer_all([first, second]):
        assert isinstance(answers.of("y"), Impossible)


def test_a_locus_that_contradicts_itself_does_not_spoil_the_others() -> None:
    first = ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": WILD}, VISUAL)
    hypo = recessive("hypo")
    cleared = {"dam": certain("+", "+")}
    second = Question(hypo, first.members, cleared, (Observation("z", certain("hypo", "hypo"), "z"),))
    kept, spoiled = answer_all([first, second])
    assert kept.of("flint") == HET
    assert kept.sires("L") == {"flint": 1}
    assert isinstance(spoiled.of("z"), Impossible)


# Conventions.


def test_a_parent_that_is_not_recorded_is_another_one_for_each_young() -> None:
    at = recessive(odds=quarter("amel"))
    members = (Member("dam", Sex.FEMALE), *(Member(f"y{n}", dam="dam") for n in range(3)))
    asked = Question(at, members, {"dam": VISUAL}, (Observation("y0", VISUAL, "y0"), Observation("y1", VISUAL, "y1")))
    answers = answer(asked)
    # a shared sire would be proven by the first visual young; separate ones tell nothing of each other
    assert answers.of("y2")[("amel", "amel")] == Fraction(1, 4) * HALF


def test_planned_young_of_linked_loci_know_the_phase() -> None:
    left, right = recessive("left"), recessive("right")
    asked = [with_members(pair(at, certain("+", at.id), certain(at.id, at.id)), [planned()]) for at in (left, right)]
    r = Fraction(1, 10)
    linkage = Linkage(("left", "right"), {Sex.FEMALE: (r,), Sex.MALE: (r,)})
    unknown = answer(LinkedQuestion(linkage, tuple(asked)))
    assert unknown.of("planned 0", "left") == {("+", "left"): HALF, ("left", "left"): HALF}
    phases = {"dam": ({"left": "left", "right": "right"},)}
    known = answer(LinkedQuestion(linkage, tuple(asked), phases))
    both = sum(
        chance
        for (state,), chance in known.states(["planned 0"]).items()
        if known.mode.genotypes[state] == (("left", "left"), ("right", "right"))
    )
    assert both == (1 - r) / 2


def test_a_contradiction_between_a_pair_of_young_is_named_and_another_locus_stays_answered() -> None:
    """One young needs unlike parents, the other like ones; each alone is possible."""
    at = AUTOSOMAL[3]
    either = {("motley", "motley"): HALF, ("stripe", "stripe"): HALF}
    like = {("motley", "motley"): ONE, ("stripe", "stripe"): ONE}
    asked = pair(
        at,
        either,
        either,
        [("one", Sex.UNKNOWN, certain("motley", "stripe")), ("other", Sex.UNKNOWN, like)],
    )
    sound = Question(recessive("hypo"), asked.members, {"dam": certain("+", "hypo")}, ())
    first, second = answer_all([asked, sound])
    assert first.of("dam") == Impossible(("dam", "sire", "one", "other"))
    assert first.failures == (first.of("dam"),)
    assert second.failures == ()
    assert second.of("one") == {("+", "+"): HALF, ("+", "hypo"): HALF}


def test_young_of_doubtful_sires_that_are_too_tangled_are_named() -> None:
    found = answer(ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": MAY_CARRY}, NORMAL), limit=1).of("y")
    assert isinstance(found, TooTangled)
    assert set(found.members) <= {"dam", "flint", "basalt", "y"}
    assert found.members


@pytest.mark.parametrize("at", SEXED, ids=lambda at: f"{at.id} {at.sex_system}")
@pytest.mark.parametrize("parent", ["dam", "sire"])
def test_counted_young_of_one_recorded_parent_say_what_listed_ones_say(at: Locus, parent: str) -> None:
    by = {"dam": "parent"} if parent == "dam" else {"sires": of_sires("parent")}
    own = Member("parent", Sex.FEMALE if parent == "dam" else Sex.MALE)
    for sex in (Sex.FEMALE, Sex.MALE):
        look = likelihood_of_look(at, None, sex)
        young = tuple(Member(f"y{n}", sex, by.get("dam"), by.get("sires", ())) for n in range(2))
        listed = Question(at, (own, *young), {}, tuple(Observation(one.id, look, one.id) for one in young))
        tally = Tally(by.get("dam"), by.get("sires", ()), 2, look, "others", sex)
        counted = Question(at, (own,), {}, (), (tally,))
        assert answer(counted).of("parent") == answer(listed).of("parent")


@pytest.mark.parametrize("at", SEXED, ids=lambda at: f"{at.id} {at.sex_system}")
@pytest.mark.parametrize("dam", ["dam", None])
def test_counted_young_that_may_each_have_another_sire_say_what_listed_ones_say(at: Locus, dam: str | None) -> None:
    sires = of_sires("one", "other")
    parents = (*([Member("dam", Sex.FEMALE)] if dam else []), Member("one", Sex.MALE), Member("other", Sex.MALE))
    for sex in (Sex.FEMALE, Sex.MALE):
        look = likelihood_of_look(at, None, sex)
        young = tuple(Member(f"y{n}", sex, dam, sires, "L", each_its_own_sire=True) for n in range(2))
        seen = tuple(Observation(one.id, look, one.id) for one in young)
        tally = Tally(dam, sires, 2, look, "others", sex, "L", each_its_own_sire=True)
        listed, counted = (
            answer(Question(at, (*parents, *young), {}, seen)),
            answer(Question(at, parents, {}, (), (tally,))),
        )
        assert [counted.of(one.id) for one in parents] == [listed.of(one.id) for one in parents]


def test_counted_young_of_doubtful_sires_have_one_sire_together_unless_it_is_said() -> None:
    parents = (Member("dam", Sex.FEMALE), Member("flint", Sex.MALE), Member("basalt", Sex.MALE))
    priors = {"dam": HET, "flint": HET, "basalt": WILD}
    sires = of_sires("flint", "basalt")

    def sires_of(*young: Member, tally: Tally | None = None) -> object:
        seen = tuple(Observation(one.id, NORMAL, one.id) for one in young)
        asked = Question(AMEL, (*parents, *young), priors, seen, (tally,) if tally else ())
        return answer(asked).sires("L")

    listed = sires_of(*(Member(f"y{n}", dam="dam", sires=sires, litter="L") for n in range(2)))
    assert sires_of(tally=Tally("dam", sires, 2, NORMAL, "others", litter="L")) == listed
    assert listed == {"flint": Fraction(9, 25), "basalt": Fraction(16, 25)}  # 3/4 and 1 for each of the two


def test_the_sire_of_a_litter_that_cannot_be_is_not_told() -> None:
    impossible = answer(ambiguous({"dam": WILD, "flint": WILD, "basalt": WILD}, VISUAL))
    assert isinstance(impossible.sires("L"), Impossible)
    assert isinstance(impossible.sires("y"), Impossible)
    with pytest.raises(KeyError):
        impossible.sires("M")
    one = pair(AMEL, WILD, WILD, [("y", Sex.UNKNOWN, VISUAL)])
    for name in ("litter", "y"):
        with pytest.raises(KeyError):
            answer(one).sires(name)


@pytest.mark.parametrize("at", SEXED, ids=lambda at: f"{at.id} {at.sex_system}")
def test_a_pair_of_unknown_sexes_is_taken_in_the_sexes_it_needs(at: Locus) -> None:
    unknown = answer(Question(at, (Member("one"), Member("other")), {}, ()))
    known = answer(Question(at, (Member("one", Sex.FEMALE), Member("other", Sex.MALE)), {}, ()))
    found = unknown.pairs("one", "other")
    assert found == known.pairs("one", "other")
    assert not isinstance(found, Impossible | TooTangled)
    assert sum(found.values()) == 1


def test_a_locus_that_only_its_sum_contradicts_does_not_spoil_another_of_the_same_litter() -> None:
    uneven = (("one", Fraction(1, 3)), ("other", Fraction(2, 3)))
    members = (
        Member("dam", Sex.FEMALE),
        Member("one", Sex.MALE),
        Member("other", Sex.MALE),
        *(Member(f"y{n}", dam="dam", sires=uneven, litter="L") for n in range(2)),
    )
    priors = {"dam": certain("+", "+"), "one": certain("motley", "motley"), "other": certain("stripe", "stripe")}
    seen = (Observation("y0", certain("+", "motley"), "y0"), Observation("y1", certain("+", "stripe"), "y1"))
    spoilt = Question(AUTOSOMAL[3], members, priors, seen)
    sound = Question(recessive("hypo"), members, {"one": certain("hypo", "hypo")}, ())
    for asked in ([spoilt, sound], [sound, spoilt]):
        answers = dict(zip([question.locus.id for question in asked], answer_all(asked), strict=True))
        assert isinstance(answers["series"].of("dam"), Impossible)
        assert answers["hypo"].of("y0") == {("+", "+"): Fraction(2, 3), ("+", "hypo"): Fraction(1, 3)}
        assert answers["hypo"].failures == ()


def test_sires_that_are_alike_stay_equally_likely() -> None:
    assert answer(ambiguous({"dam": HET, "flint": WILD, "basalt": WILD}, None)).sires("L") == {
        "flint": HALF,
        "basalt": HALF,
    }


def test_which_sire_it_was_is_not_told_where_that_is_too_tangled() -> None:
    found = answer(ambiguous({"dam": HET, "flint": MAY_CARRY, "basalt": MAY_CARRY}, NORMAL), limit=1).sires("L")
    assert isinstance(found, TooTangled)


def test_of_two_families_the_later_one_may_contradict_itself_by_its_sum_alone() -> None:
    at, either = AUTOSOMAL[3], {("motley", "motley"): HALF, ("stripe", "stripe"): HALF}
    like = {("motley", "motley"): ONE, ("stripe", "stripe"): ONE}
    young = [("one", Sex.UNKNOWN, certain("motley", "stripe")), ("more", Sex.UNKNOWN, like)]
    clash = pair(at, either, either, young)
    sound = (Member("other", Sex.FEMALE), Member("child", dam="other"))
    asked = replace(clash, members=(*sound, *clash.members), priors={**clash.priors, "other": certain("+", "motley")})
    answers = answer(asked)
    assert answers.failures == (Impossible(("dam", "sire", "one", "more")),)
    assert answers.of("dam") == answers.failures[0]
    child = answers.of("child")
    assert not isinstance(child, Impossible | TooTangled)
    assert sum(chance for genotype, chance in child.items() if "motley" in genotype) >= HALF


def one_sire_of_two(litter: str, dam: str, *young: str) -> tuple[Member, ...]:
    """A dam, two possible sires of their own, and the young."""
    sires = of_sires(f"{dam} one", f"{dam} other")
    return (
        Member(dam, Sex.FEMALE),
        *(Member(sire, Sex.MALE) for sire, _ in sires),
        *(Member(name, dam=dam, sires=sires, litter=litter) for name in young),
    )


def clashing(*more: Member) -> Question:
    """Of a litter of one sire one young is the one's and the other the other's, and further members."""
    members = (*one_sire_of_two("L", "dam", "y0", "y1"), *more)
    priors = {
        "dam": certain("+", "+"),
        "dam one": certain("motley", "motley"),
        "dam other": certain("stripe", "stripe"),
    }
    seen = (Observation("y0", certain("+", "motley"), "y0"), Observation("y1", certain("+", "stripe"), "y1"))
    return Question(AUTOSOMAL[3], members, priors, seen)


def test_a_litter_that_contradicts_itself_spoils_no_litter_of_another_family() -> None:
    answers = answer(clashing(*one_sire_of_two("M", "mother", "z")))
    assert isinstance(answers.of("y0"), Impossible)
    assert isinstance(answers.sires("L"), Impossible)
    assert answers.sires("M") == {"mother one": HALF, "mother other": HALF}
    assert not isinstance(answers.of("z"), Impossible)


def test_a_locus_at_which_one_of_two_litters_contradicts_itself_does_not_spoil_another_that_ties_the_litters() -> None:
    sires = of_sires("dam one", "dam other")
    asked = clashing(Member("mother", Sex.FEMALE), Member("z", dam="mother", sires=sires, litter="M"))
    asked = replace(asked, priors={**asked.priors, "mother": certain("+", "+")})
    may_carry = {("+", "+"): HALF, ("+", "hypo"): HALF}
    tying = Question(recessive("hypo"), asked.members, {"dam one": may_carry, "dam other": may_carry}, ())
    for together in ([asked, tying], [tying, asked]):
        answers = dict(zip([question.locus.id for question in together], answer_all(together), strict=True))
        assert isinstance(answers["series"].of("y0"), Impossible)
        assert answers["hypo"].failures == ()
        quarter_carry = {("+", "+"): Fraction(3, 4), ("+", "hypo"): Fraction(1, 4)}
        assert answers["hypo"].of("y0") == answers["hypo"].of("z") == quarter_carry


def test_what_is_too_tangled_at_one_locus_is_no_failure_of_another() -> None:
    tangled = looked_at(closed(60), share=1.0)
    sound = Question(recessive("hypo"), tangled.members, {}, ())
    for asked in ([sound, tangled], [tangled, sound]):
        answers = dict(zip([question.locus.id for question in asked], answer_all(asked, limit=100), strict=True))
        assert answers["hypo"].failures == ()
        assert answers["amel"].failures
        assert all(isinstance(failure, TooTangled) for failure in answers["amel"].failures)


# Several loci at once.

TWO_SIRES = (
    Member("dam", Sex.FEMALE),
    Member("flint", Sex.MALE),
    Member("basalt", Sex.MALE),
    Member("y", Sex.MALE, "dam", (("flint", HALF), ("basalt", HALF)), "L"),
)


def asked_together() -> list[Question]:
    """Flint shows amel, basalt shows hypo: the young carries one of the two, never both."""
    return [
        Question(AMEL, TWO_SIRES, {"flint": certain("amel", "amel")}, ()),
        Question(HYPO, TWO_SIRES, {"basalt": certain("hypo", "hypo")}, ()),
    ]


def test_a_young_of_one_of_two_sires_carries_one_of_two_genes_and_never_both() -> None:
    answers = answer_all(asked_together())
    found = cases(answers, ["y"])
    assert not isinstance(found, Impossible)
    assert [case.chance for case in found] == [HALF, HALF]
    both = sum(
        case.chance * case.states[0].get((1,), Fraction(0)) * case.states[1].get((1,), Fraction(0)) for case in found
    )
    assert both == 0
    assert answers[0].of("y")[("+", "amel")] * answers[1].of("y")[("+", "hypo")] == HALF * HALF


def test_loci_that_nothing_ties_are_one_case() -> None:
    asked = [Question(at, TWO_SIRES[:3], {"dam": {("+", "+"): HALF, ("+", at.id): HALF}}, ()) for at in (AMEL, HYPO)]
    (case,) = cases(answer_all(asked), ["dam", "flint"])
    assert case.chance == ONE
    assert case.states == ({(0, 0): HALF, (1, 0): HALF},) * 2


def test_a_sire_that_is_settled_makes_no_cases() -> None:
    first, second = asked_together()
    first = Question(first.locus, TWO_SIRES, first.priors, (Observation("y", certain("+", "amel"), "y"),))
    (case,) = cases(answer_all([first, second]), ["y"])
    assert case.states == ({(1,): 1}, {(0,): 1})


def test_answers_that_were_not_asked_together_are_refused() -> None:
    first, second = asked_together()
    with pytest.raises(ValueError, match="asked together"):
        cases([answer(first), answer(second)], ["y"])


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_cases_say_what_the_sum_over_all_genotypes_says(data: st.DataObject) -> None:
    first = data.draw(questions(AUTOSOMAL[:1], several_sires=True, tallies=False))
    second = data.draw(questions(AUTOSOMAL[2:3], several_sires=True, tallies=False))
    known = {member.id for member in first.members}
    seen = tuple(one for one in second.observations if one.member in known)
    asked = [first, Question(second.locus, first.members, {}, seen)]
    truth = Truth(asked)
    answers = answer_all(asked)
    member = first.members[-1].id
    found = cases(answers, [member])
    if not truth.total:
        return
    assert not isinstance(found, Impossible)
    assert sum(case.chance for case in found) == 1
    expected = truth.across([(0, member), (1, member)])
    joint: dict = {}
    for case in found:
        for one, other in product(case.states[0], case.states[1]):
            key = tuple(a.mode.genotypes[s[0]][0] for a, s in zip(answers, (one, other), strict=True))
            joint[key] = joint.get(key, Fraction(0)) + case.chance * case.states[0][one] * case.states[1][other]
    assert joint == expected


def test_a_choice_that_matters_at_one_locus_only_makes_no_cases() -> None:
    first, second = asked_together()
    plain = Question(second.locus, TWO_SIRES, {}, ())
    (case,) = cases(answer_all([first, plain]), ["y"])
    assert case == Case(ONE, ({(0,): HALF, (1,): HALF}, {(0,): ONE}))


def test_more_cases_than_the_bound_are_refused_by_name(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = answer_all(asked_together())
    monkeypatch.setattr("sitegen.genetics.network.MOST_CASES", 2)
    assert len(cases(answers, ["y"])) == 2
    monkeypatch.setattr("sitegen.genetics.network.MOST_CASES", 1)
    assert cases(answers, ["y"]) == TooTangled(("y",), 2)


def test_a_member_without_an_answer_has_no_cases() -> None:
    first, second = asked_together()
    seen = (Observation("y", certain("amel", "amel"), "y"),)
    cleared = {"dam": certain("+", "+")}
    found = cases(answer_all([Question(first.locus, TWO_SIRES, cleared, seen), second]), ["y"])
    assert isinstance(found, Impossible)


def test_what_is_too_tangled_has_no_cases() -> None:
    doubtful = {name: {("+", "+"): HALF, ("+", "amel"): HALF} for name in ("dam", "flint", "basalt")}
    seen = (Observation("y", {("+", "+"): ONE, ("+", "amel"): ONE}, "y"),)
    first = Question(AMEL, TWO_SIRES, doubtful, seen)
    second = Question(HYPO, TWO_SIRES, {"basalt": certain("hypo", "hypo")}, ())
    assert isinstance(cases(answer_all([first, second], limit=1), ["y"]), TooTangled)


def test_choices_of_sire_that_a_third_locus_ties_are_no_two_choices() -> None:
    asked, members = tied_by_a_third(), ["y0", "y1"]
    answers = answer_all(asked)[:2]
    found: dict[tuple[object, ...], Fraction] = {}
    for case in cases(answers, members):
        for first, second in product(*(states.items() for states in case.states)):
            key = tuple(
                tuple(one.mode.genotypes[state] for state in own)
                for one, (own, _) in zip(answers, (first, second), strict=True)
            )
            found[key] = found.get(key, Fraction(0)) + case.chance * first[1] * second[1]
    truth: dict[tuple[object, ...], Fraction] = {}
    for world, chance in Truth(asked).worlds(members).items():
        truth[world[:2]] = truth.get(world[:2], Fraction(0)) + chance
    assert found == truth


def test_a_sire_that_is_settled_does_not_count_against_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """A littermate that carries amel is Flint's, and so is the one that is asked about: at neither locus is it open."""
    littermates = (*TWO_SIRES, Member("z", Sex.MALE, "dam", TWO_SIRES[-1].sires, "L"))
    first, second = (Question(one.locus, littermates, one.priors, ()) for one in asked_together())
    first = Question(first.locus, littermates, first.priors, (Observation("y", certain("+", "amel"), "y"),))
    monkeypatch.setattr("sitegen.genetics.network.MOST_CASES", 1)
    (case,) = cases(answer_all([first, second]), ["z"])
    assert case.states == ({(1,): 1}, {(0,): 1})


def test_answers_of_which_one_has_a_sire_in_doubt_are_refused_unless_asked_together() -> None:
    first, _ = asked_together()
    settled = answer(Question(HYPO, TWO_SIRES[:3], {}, ()))
    for several in ([settled, answer(first)], [answer(first), settled]):
        with pytest.raises(ValueError, match="asked together"):
            cases(several, ["dam"])
    assert len(cases([settled, answer(Question(AMEL, TWO_SIRES[:3], {}, ()))], ["dam"])) == 1
