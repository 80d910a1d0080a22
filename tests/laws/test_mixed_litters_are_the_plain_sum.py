"""Law: several loci of mixed litters say what the sum over all sires and genotypes says."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import prod

from helpers.in_e import limits
from helpers.pedigrees import DOMINANT, HALF, joint, likelihoods, locus, recessive
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.genetics.loci import Allele, Sex
from sitegen.genetics.network import Heredity, answer_all
from sitegen.genetics.questions import Member, Observation, Question, Tally

LOCI = (recessive("amel"), recessive("anery"), locus("dom", Allele("dom", "dom", DOMINANT)))
PASSED_ON = {0: {0: Fraction(1)}, 1: {0: HALF, 1: HALF}, 2: {1: Fraction(1)}}
often = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
SIRES = ("s0", "s1", "s2")


class Plain:
    """The sum over the sire of every young and, at each locus by itself, over the copies in every animal."""

    def __init__(self, asked: Sequence[Question]) -> None:
        self.asked = asked
        self.mixed = [member for member in asked[0].members if len(member.sires) > 1]
        self.counted = [tally for tally in asked[0].tallies for _ in range(tally.count)]
        self.cases = []
        for picked in product(*(young.sires for young in (*self.mixed, *self.counted))):
            sires = [sire for sire, _ in picked]
            found = [list(self._locus(question, sires)) for question in asked]
            weight = prod((chance for _, chance in picked), start=Fraction(1))
            self.cases.append((sires, weight, found, [sum((w for _, w in each), Fraction(0)) for each in found]))
        self.total = sum((weight * prod(sums) for _, weight, _, sums in self.cases), Fraction(0))

    def _locus(self, question: Question, sires: list[str]) -> Iterator[tuple[dict[str, int], Fraction]]:
        genotypes = question.locus.genotypes()
        own_sire = dict(zip([member.id for member in self.mixed], sires, strict=False))
        ways: list[tuple[dict[str, int], Fraction]] = [({}, Fraction(1))]
        for member in question.members:
            seen = [each.likelihood for each in question.observations if each.member == member.id]
            longer = []
            for known, weight in ways:
                sire = own_sire.get(member.id) or (member.sires[0][0] if member.sires else "")
                if member.dam:
                    odds = self._young(known[member.dam], known[sire])
                else:
                    stated = question.priors.get(member.id) or question.locus.background.get(
                        member.sex, {("+", "+"): Fraction(1)}
                    )
                    odds = {copies: stated.get(genotype, Fraction(0)) for copies, genotype in enumerate(genotypes)}
                for copies, chance in odds.items():
                    more = weight * chance * prod(each.get(genotypes[copies], Fraction(0)) for each in seen)
                    if more:
                        longer.append(({**known, member.id: copies}, more))
            ways = longer
        for known, weight in ways:
            for tally, sire in zip(question.tallies * 9, sires[len(self.mixed) :], strict=False):
                odds = self._young(known["dam"], known[sire])
                weight *= sum(
                    (c * tally.likelihood.get(genotypes[n], Fraction(0)) for n, c in odds.items()), Fraction(0)
                )
            if weight:
                yield known, weight

    @staticmethod
    def _young(dam: int, sire: int) -> dict[int, Fraction]:
        found: dict[int, Fraction] = {}
        for (one, chance), (other, odds) in product(PASSED_ON[dam].items(), PASSED_ON[sire].items()):
            found[one + other] = found.get(one + other, Fraction(0)) + chance * odds
        return found

    def joint(self, members: Sequence[str], number: int) -> dict[tuple[tuple[str, str], ...], Fraction]:
        genotypes = self.asked[number].locus.genotypes()
        sums: dict[tuple[tuple[str, str], ...], Fraction] = {}
        for _, weight, found, totals in self.cases:
            others = weight * prod((*totals[:number], *totals[number + 1 :]))
            for known, own in found[number] if others else ():
                key = tuple(genotypes[known[member]] for member in members)
                sums[key] = sums.get(key, Fraction(0)) + own * others
        return limits(sums)

    def sires(self, young: str) -> dict[str, Fraction]:
        place = [member.id for member in self.mixed].index(young)
        sums: dict[str, Fraction] = {}
        for sires, weight, _, totals in self.cases:
            sums[sires[place]] = sums.get(sires[place], Fraction(0)) + weight * prod(totals)
        return limits(sums)


@st.composite
def mixed(draw: st.DrawFn) -> list[Question]:
    """Two or three loci of a dam, two or three possible sires and a mixed litter; one of its young may have bred."""
    sires = SIRES[: draw(st.sampled_from((2, 2, 3)))]
    shares = draw(st.sampled_from(((1, 1, 1), (1, 2, 3))))[: len(sires)]
    odds = tuple((sire, Fraction(share, sum(shares))) for sire, share in zip(sires, shares, strict=True))
    members = [Member("dam", Sex.FEMALE), *(Member(sire, Sex.MALE) for sire in sires)]
    members += [Member(f"y{n}", Sex.UNKNOWN, "dam", odds, "L", True) for n in range(draw(st.integers(2, 4)))]
    if draw(st.booleans()):
        members.append(Member("below", Sex.UNKNOWN, "y0", (("s0", Fraction(1)),)))
    n_counted = draw(st.integers(0, 1))
    asked = []
    for at in LOCI[: draw(st.sampled_from((2, 2, 3)))]:
        founders = ("dam", *sires)
        priors = {name: dict.fromkeys(at.genotypes()[:2], HALF) for name in founders if draw(st.integers(0, 3))}
        possible = likelihoods(at)[:2]
        seen = tuple(
            Observation(
                member.id,
                draw(st.sampled_from((possible[1], possible[1], possible[1], possible[0]))),
                f"seen {member.id}",
            )
            for member in members[len(founders) :]
            if draw(st.integers(0, 4))
        )
        tally = Tally("dam", odds, n_counted, possible[1], "others", litter="L", each_its_own_sire=True)
        asked.append(Question(at, tuple(members), priors, seen, (tally,) if n_counted else ()))
    return asked


def held(answers: tuple[Heredity, ...], truth: Plain) -> None:
    """Every posterior, some joint ones, and every sire are held against the truth."""
    ids = [member.id for member in truth.asked[0].members]
    for number, one in enumerate(answers):
        for few in (*([each] for each in ids), ids[:3], ["dam", "y0"], ["y1", "s0"], ["y0", "y1"], ["y1", ids[-1]]):
            assert joint(one, few) == truth.joint(few, number), few
        for young in truth.mixed:
            assert one.sires(young.id) == truth.sires(young.id)


@often
@given(mixed())
def test_mixed_litters_are_answered_as_the_plain_sum_says(asked: list[Question]) -> None:
    truth = Plain(asked)
    answers = answer_all(asked)
    if truth.total:
        held(answers, truth)
