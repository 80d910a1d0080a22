"""Linked loci are asked together, with what is known of single chromosomes."""

from fractions import Fraction

from helpers.by_hand import animal, collection, recessive, species

from sitegen.content.collection import Collection
from sitegen.content.species import Species
from sitegen.evidence.answers import answers
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing
from sitegen.evidence.pairings_json import pairing_json
from sitegen.evidence.steps import chain
from sitegen.genetics.loci import Linkage, Sex

R = Fraction(1, 10)
HALF = Fraction(1, 2)
COUPLED = ({"left": "left", "right": "right"}, {"left": "+", "right": "+"})
REPULSION = ({"left": "left", "right": "+"}, {"left": "+", "right": "right"})


def linked() -> Species:
    both = Linkage(("left", "right"), {Sex.FEMALE: (R,), Sex.MALE: (R,)})
    return species(recessive("left"), recessive("right"), linkages=(both,))


def cross(haplotypes: tuple[dict[str, str], dict[str, str]], shows: str = "left") -> Collection:
    return collection(
        linked(),
        animal("d", shows="", haplotypes=haplotypes, sex=Sex.FEMALE),
        animal("s", shows="left right", sex=Sex.MALE),
        animal("a", shows=shows, unsure="right", dam="d", sire="s"),
    )


def test_a_look_at_one_locus_tells_of_the_other() -> None:
    for haplotypes, chance in ((COUPLED, 1 - R), (REPULSION, R)):
        found = answers(cross(haplotypes))
        assert not found.contradictions
        assert found.posteriors["a"]["right"] == {("+", "right"): 1 - chance, ("right", "right"): chance}


def test_the_chain_ends_with_what_is_known_at_linked_genes() -> None:
    steps = chain(ask(gather(cross(COUPLED))), "a", "right")
    assert steps[-1].says == "what is known at linked genes"
    assert (steps[0].after, steps[-1].after) == (
        {("+", "right"): HALF, ("right", "right"): HALF},
        {("+", "right"): R, ("right", "right"): 1 - R},
    )


def test_a_pairing_keeps_linked_loci_together() -> None:
    found = pairing(ask(gather(cross(COUPLED))), "d", "s", wanted=["left", "right"])
    assert found.wanted is not None
    assert found.wanted.per_young == (1 - R) / 2
    rows = {row.shows: row.chance for row in found.looks}
    assert rows == {(): (1 - R) / 2, ("left", "right"): (1 - R) / 2, ("left",): R / 2, ("right",): R / 2}
    assert set(pairing_json(found)["pair"]) == {"left", "right"}  # type: ignore[call-overload]


def test_known_chromosomes_can_be_part_of_a_contradiction() -> None:
    none = Linkage(("left", "right"), {Sex.FEMALE: (Fraction(0),), Sex.MALE: (Fraction(0),)})
    kept = collection(
        species(recessive("left"), recessive("right"), linkages=(none,)),
        animal("d", shows="", haplotypes=COUPLED, sex=Sex.FEMALE),
        animal("s", shows="left right", sex=Sex.MALE),
        animal("a", shows="left", dam="d", sire="s"),
    )
    found = answers(kept)
    says = [text for _, text in found.clashes[0].records]
    assert "the haplotypes of d are written down" in says
    assert "a shows left" in says
    assert "a does not show right" in says
    assert found.contradictions[0].place is not None
