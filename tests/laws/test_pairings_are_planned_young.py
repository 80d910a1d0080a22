"""What a pairing gives equals what heredity says of young that are added to the pedigree and not yet seen."""

from fractions import Fraction
from itertools import product

from helpers.by_hand import allele, animal, collection, dominant, litter, locus, recessive, species
from helpers.pedigrees import joint, with_members
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.network import answer
from sitegen.genetics.questions import Impossible, Member, Question, TooTangled

WITH_H = {"+/+": Fraction(3, 4), "+/h": Fraction(1, 4)}
LOCI = st.sampled_from(
    [
        recessive("g"),
        dominant("g"),
        dominant("g", two_copies_lethal=True),
        recessive("g", penetrance=Fraction(4, 5)),
        locus("g", allele("g"), allele("h"), compounds={"g/h": "gh"}, background=WITH_H),
    ]
)
LOOKS: st.SearchStrategy[str | None] = st.sampled_from(["", "g", None])
STATED = st.sampled_from(["50%", "66%", "certain", ""])


@st.composite
def kept(draw: st.DrawFn) -> tuple[object, ...]:
    """A dam and a sire in doubt with a first litter; its two young are asked about as a pair."""
    at: Locus = draw(LOCI)
    parents = []
    for name, sex in (("d", Sex.FEMALE), ("s", Sex.MALE)):
        stated = draw(STATED)
        parents.append(animal(name, shows=draw(LOOKS), sex=sex, stated={"g": stated} if stated else None))
    young = {key: {"shows": draw(LOOKS), "sex": sex} for key, sex in (("f", Sex.FEMALE), ("m", Sex.MALE))}
    return species(at), *parents, litter("x", "d", "s", young, others={"": draw(st.integers(0, 2))})


@given(kept(), st.integers(1, 3))
@settings(max_examples=50, deadline=None)
def test_counts_of_planned_young(records: tuple[object, ...], n_young: int) -> None:
    known = ask(gather(collection(*records)))  # type: ignore[arg-type]
    assume(not isinstance(known.of("x/f", "g"), Impossible | TooTangled))
    question = known.evidence.loci["snake", "g"].question
    assert isinstance(question, Question)
    planned = [Member(f"planned {n}", dam="x/f", sires=(("x/m", Fraction(1)),)) for n in range(n_young)]
    young = joint(answer(with_members(question, planned)), [member.id for member in planned])
    assert not isinstance(young, Impossible | TooTangled)
    found = pairing(known, "x/f", "x/m", n_young=n_young, wanted=["g"])
    assert found.wanted is not None
    at = question.locus
    expected = [Fraction(0)] * (n_young + 1)
    for genotypes, chance in young.items():
        for shown in product((True, False), repeat=n_young):
            share = chance
            for own, seen in zip(genotypes, shown, strict=True):
                full = at.allele("g").penetrance if at.shown.get(own) == "g" else Fraction(0)
                share *= full if seen else 1 - full
            expected[sum(shown)] += share
    assert tuple(expected) == found.wanted.counts


@given(kept())
@settings(max_examples=30, deadline=None)
def test_pair_and_young_are_those_of_the_network(records: tuple[object, ...]) -> None:
    known = ask(gather(collection(*records)))  # type: ignore[arg-type]
    assume(not isinstance(known.of("x/f", "g"), Impossible | TooTangled))
    question = known.evidence.loci["snake", "g"].question
    found = pairing(known, "x/f", "x/m")
    planned = Member("y", dam="x/f", sires=(("x/m", Fraction(1)),))
    heredity = answer(with_members(question, [planned]))
    for at in found.loci:
        assert at.pair == joint(heredity, ["x/f", "x/m"])
        assert at.young[Sex.UNKNOWN] == heredity.of("y")
    assert sum(row.chance for row in found.looks) == 1
