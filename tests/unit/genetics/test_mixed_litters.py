"""Several possible sires, each young with its own, tie several loci together."""

import random
import resource
import time
from fractions import Fraction
from itertools import product
from math import prod

import pytest
from helpers.by_pyagrum import pyagrum
from helpers.drawn_worlds import assert_frequencies
from helpers.pedigrees import DOMINANT, HALF
from helpers.pedigrees import locus as locus_of

from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import drawn
from sitegen.genetics.loci import Allele, Sex
from sitegen.genetics.network import answer_all, cases
from sitegen.genetics.observations import when_not_seen, when_seen
from sitegen.genetics.questions import Member, Observation, Question, TooTangled

SHOWN = {(0, 0): 0, (0, 1): 18, (1, 0): 18, (1, 1): 27}
"""Copies in dam and sire, none or one, to how many of 40 young show a dominant gene that 9 of 10 show who have it."""
SHOWS_IF = {copies: (Fraction(40 - shown, 40), Fraction(shown, 40)) for copies, shown in SHOWN.items()}


def litter(looks: list[tuple[int, ...]], n_sires: int) -> list[Question]:
    """A mixed litter of parents that have each gene with chance 1/2, nobody judged; what each young shows of each."""
    sires = [f"s{number}" for number in range(n_sires)]
    odds = tuple((sire, Fraction(rank + 1, n_sires * (n_sires + 1) // 2)) for rank, sire in enumerate(sires))
    members = [Member("dam", Sex.FEMALE), *(Member(sire, Sex.MALE) for sire in sires)]
    members += [Member(f"y{number}", Sex.UNKNOWN, "dam", odds, "L", True) for number in range(len(looks))]
    asked = []
    for rank in range(len(looks[0])):
        at = locus_of(f"g{rank}", Allele(f"g{rank}", f"g{rank}", DOMINANT, penetrance=Fraction(9, 10)))
        seen = tuple(
            Observation(f"y{n}", when_seen(at, [at.id]) if own[rank] else when_not_seen(at), f"y{n}")
            for n, own in enumerate(looks)
        )
        priors = {name: {("+", "+"): HALF, ("+", at.id): HALF} for name in ("dam", *sires)}
        asked.append(Question(at, tuple(members), priors, seen))
    return asked


def plain(
    looks: list[tuple[int, ...]], n_sires: int
) -> tuple[Fraction, dict[tuple[int, str], Fraction], list[Fraction]]:
    """The sum over all copies of all parents at all loci together: every young is then independent of the others.

    Returns the weight of all looks, (locus, parent) to the chance that it carries, and how likely the first sire is
    that of each young.
    """
    n_loci = len(looks[0])
    total = 0
    carrying = {(locus, parent): 0 for locus in range(n_loci) for parent in ("dam", *(f"s{n}" for n in range(n_sires)))}
    first = [0] * len(looks)
    every = list(product((0, 1), repeat=n_loci))
    alike = {own: looks.count(own) for own in looks}
    for dam in every:
        said = {}
        for own, sire in product(alike, every):  # in 40ths, so that all numbers are whole
            pairs = zip(own, dam, sire, strict=True)
            said[own, sire] = prod(SHOWN[d, s] if look else 40 - SHOWN[d, s] for look, d, s in pairs)
        for sires in product(every, repeat=n_sires):
            each = {own: [said[own, sire] for sire in sires] for own in alike}
            weight = prod(
                sum((n + 1) * c for n, c in enumerate(chances)) ** alike[own] for own, chances in each.items()
            )
            if not weight:
                continue
            total += weight
            for locus in range(n_loci):
                carrying[locus, "dam"] += weight * dam[locus]
                for number, sire in enumerate(sires):
                    carrying[locus, f"s{number}"] += weight * sire[locus]
            for number, own in enumerate(looks):
                every_sire = sum((n + 1) * chance for n, chance in enumerate(each[own]))  # a factor of the weight
                first[number] += weight // every_sire * each[own][0]
    return Fraction(total), {k: Fraction(v, total) for k, v in carrying.items()}, [Fraction(v, total) for v in first]


def random_looks(seed: int, n_young: int, n_loci: int) -> list[tuple[int, ...]]:
    dice = random.Random(seed)
    return [tuple(int(dice.random() < 0.25) for _ in range(n_loci)) for _ in range(n_young)]


def test_twelve_young_of_three_sires_at_four_loci():
    """The case that was refused; the truth is the sum over the 65,536 ways to have the parents carry."""
    looks = random_looks(2, 12, 4)
    start, before = time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    answers = answer_all(litter(looks, 3))
    assert time.process_time() - start < 30
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 250_000
    _, carrying, first = plain(looks, 3)
    for (rank, parent), chance in carrying.items():
        found = answers[rank].of(parent)
        assert sum((share for genotype, share in found.items() if f"g{rank}" in genotype), Fraction(0)) == chance
    for number, chance in enumerate(first):
        assert all(one.sires(f"y{number}").get("s0", 0) == chance for one in answers)


def test_what_the_parents_are_together_at_two_loci_is_drawn():
    answers = answer_all(litter(random_looks(2, 8, 2), 2))
    members = ["dam", "s0", "s1"]
    first, second = drawn(answers, members, 20_000, Dice(1), ())
    truth: dict[tuple[tuple[int, ...], tuple[int, ...]], Fraction] = {}
    for case in cases(answers, members):
        for (one, chance), (other, odds) in product(*(states.items() for states in case.states)):
            truth[one, other] = truth.get((one, other), Fraction(0)) + case.chance * chance * odds
    worlds = zip(map(tuple, first.T.tolist()), map(tuple, second.T.tolist()), strict=True)
    assert_frequencies(list(worlds), truth)


def test_what_is_beyond_the_bound_is_told_with_the_animals():
    looks = [tuple((n >> rank) & 1 for rank in range(5)) for n in range(32)]
    (failure, *_) = answer_all(litter(looks, 3))[0].failures
    assert isinstance(failure, TooTangled)
    assert {"dam", "s0", "s1", "s2"} <= set(failure.members)


def test_a_general_library_agrees():
    """Source: pyAgrum's exact inference over the same network, in floating point."""
    looks = [(0, 0, 1), (1, 0, 0), (0, 0, 0), (0, 0, 0), (1, 1, 0)]
    answers = answer_all(litter(looks, 2))
    net = pyagrum.BayesNet()
    for number in range(len(looks)):
        net.add(pyagrum.RangeVariable(f"sire of y{number}", "", 0, 1))
        net.cpt(f"sire of y{number}").fillWith([1 / 3, 2 / 3])
    for locus in range(3):
        for parent in ("dam", "s0", "s1"):
            net.add(pyagrum.RangeVariable(f"{parent} {locus}", "", 0, 1))
            net.cpt(f"{parent} {locus}").fillWith([0.5, 0.5])
        for number in range(len(looks)):
            name = f"y{number} {locus}"
            net.add(pyagrum.RangeVariable(name, "", 0, 1))
            for parent in (f"sire of y{number}", f"dam {locus}", f"s0 {locus}", f"s1 {locus}"):
                net.addArc(parent, name)
            for chosen, dam, *sires in product((0, 1), repeat=4):
                at = {
                    f"sire of y{number}": chosen,
                    f"dam {locus}": dam,
                    f"s0 {locus}": sires[0],
                    f"s1 {locus}": sires[1],
                }
                net.cpt(name)[at] = [float(chance) for chance in SHOWS_IF[dam, sires[chosen]]]
    inference = pyagrum.LazyPropagation(net)
    inference.setEvidence({f"y{n} {locus}": own[locus] for n, own in enumerate(looks) for locus in range(3)})
    inference.makeInference()
    for locus, parent in product(range(3), ("dam", "s0", "s1")):
        ours = answers[locus].of(parent).get(("+", f"g{locus}"), 0)
        assert inference.posterior(f"{parent} {locus}").tolist()[1] == pytest.approx(float(ours), abs=1e-9)
    for number in range(len(looks)):
        ours = answers[0].sires(f"y{number}")["s0"]
        assert inference.posterior(f"sire of y{number}").tolist()[0] == pytest.approx(float(ours), abs=1e-9)
