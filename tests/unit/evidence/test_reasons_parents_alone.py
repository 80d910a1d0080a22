"""What the parents alone would give is told where relatives moved it, and nowhere else."""

from helpers.by_hand import animal, collection, litter, recessive, species

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground
from sitegen.evidence.reasons import reasons


def alone(n_young: int) -> set[str]:
    """Of a young of two proven carriers with a visual mate, by how many plain young it had."""
    kept = collection(
        species(recessive("amel")),
        animal("d", shows="", tests={"amel": "+/amel"}),
        animal("s", shows="", tests={"amel": "+/amel"}),
        animal("mate", shows="amel"),
        litter("x", "d", "s", {"1": {"shows": ""}}),
        litter("y", "x/1", "mate", {}, {"": n_young}),
    )
    found = reasons(ask(gather(kept)), "x/1", "amel")
    return {dict(each.detail).get("alone amel", "") for each in found if each.ground in (Ground.DAM, Ground.SIRE)}


def test_two_thirds_stand_beside_what_its_young_make_of_them() -> None:
    assert alone(3) == {"2/3"}


def test_where_nothing_moved_it_nothing_is_told() -> None:
    assert alone(0) == {""}
