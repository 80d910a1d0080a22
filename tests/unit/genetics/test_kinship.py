"""Kinship and shares of ancestry: unknown parents, several possible sires, size."""

from fractions import Fraction

from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.questions import Member

HALF = Fraction(1, 2)


def bred(young: str, dam: str | None, *sires: str, litter: str = "", mixed: bool = False) -> Member:
    chances = tuple((sire, Fraction(1, len(sires))) for sire in sires)
    return Member(young, dam=dam, sires=chances, litter=litter, each_its_own_sire=mixed)


def test_animals_without_parents_are_unrelated_and_not_inbred() -> None:
    kin = Kinship([Member("a"), Member("b")])
    assert kin.pair("a", "b") == 0
    assert kin.inbreeding("a") == 0
    assert kin.pair("a", "a") == HALF


def test_one_recorded_parent_gives_half_of_its_kinship() -> None:
    kin = Kinship([Member("dam"), bred("a", "dam"), bred("b", "dam")])
    assert kin.pair("a", "dam") == HALF * HALF
    assert kin.pair("a", "b") == HALF * HALF * HALF
    assert kin.inbreeding("a") == 0


def test_order_of_members_does_not_matter() -> None:
    members = [bred("inbred", "a", "b"), bred("a", "d", "s"), bred("b", "d", "s"), Member("d"), Member("s")]
    assert Kinship(members).inbreeding("inbred") == Fraction(1, 4)


def test_littermates_of_one_unknown_sire_are_full_siblings_whoever_he_is() -> None:
    founders = [Member("d"), Member("s"), Member("t")]
    young = [bred("a", "d", "s", "t", litter="x"), bred("b", "d", "s", "t", litter="x")]
    assert Kinship(founders + young).pair("a", "b") == Fraction(1, 4)


def test_littermates_of_one_unknown_sire_are_closer_where_he_may_be_of_the_dams_own_litter() -> None:
    founders = [Member("p"), Member("q"), Member("s")]
    parents = [bred("d", "p", "q"), bred("t", "p", "q")]
    young = [bred("a", "d", "s", "t", litter="x"), bred("b", "d", "s", "t", litter="x")]
    by_stranger, by_brother = Fraction(1, 4), Fraction(1, 4) * (HALF + HALF + 2 * Fraction(1, 4))
    assert Kinship(founders + parents + young).pair("a", "b") == HALF * by_stranger + HALF * by_brother


def test_littermates_that_may_each_have_another_sire_are_less_related() -> None:
    founders = [Member("d"), Member("s"), Member("t")]
    young = [bred("a", "d", "s", "t", litter="x", mixed=True), bred("b", "d", "s", "t", litter="x", mixed=True)]
    same, different = Fraction(1, 4), Fraction(1, 8)
    assert Kinship(founders + young).pair("a", "b") == HALF * same + HALF * different


def test_young_of_littermates_carry_the_shared_sire_on() -> None:
    founders = [Member("d"), Member("s"), Member("t")]
    young = [bred("a", "d", "s", "t", litter="x"), bred("b", "d", "s", "t", litter="x"), bred("c", "a", "b")]
    assert Kinship(founders + young).inbreeding("c") == Fraction(1, 4)
    assert Kinship(founders + young).pair("c", "b") == HALF * Fraction(1, 4) + HALF * HALF


def test_possible_sires_are_weighted() -> None:
    members = [Member("d"), Member("s"), bred("t", "d", "s")]
    members.append(Member("x", dam="d", sires=(("s", Fraction(1, 3)), ("t", Fraction(2, 3)))))
    assert Kinship(members).inbreeding("x") == Fraction(2, 3) * Fraction(1, 4)


def test_a_line_of_a_thousand_generations_needs_no_recursion() -> None:
    members = [Member("0"), Member("s")] + [bred(str(n), str(n - 1), "s") for n in range(1, 1001)]
    assert Kinship(members).pair("1000", "s") == HALF - Fraction(1, 2**1001)


def test_shares_of_ancestry_sum_to_one_and_halve() -> None:
    members = [Member("d"), Member("s"), bred("a", "d", "s"), bred("b", "a", "s"), bred("c", "a")]
    shares = ancestry_shares(members, {"d": "coast", "a": "not used"})
    assert shares["a"] == {"coast": HALF, "": HALF}
    assert shares["b"] == {"coast": HALF * HALF, "": 1 - HALF * HALF}
    assert shares["c"] == {"coast": HALF * HALF, "": 1 - HALF * HALF}


def test_shares_of_ancestry_weigh_possible_sires() -> None:
    members = [Member("d"), Member("s"), Member("t"), bred("a", "d", "s", "t")]
    shares = ancestry_shares(members, {"d": "coast", "s": "coast", "t": "hills"})
    assert shares["a"] == {"coast": HALF + HALF * HALF, "hills": HALF * HALF}
