import re
from fractions import Fraction

import pytest

from sitegen.words.method import method_parts
from sitegen.words.speech import Link, Target, plain

GENE = Link("hypo", Target.GENE, "corn-snake/hypo")


def text_of(chance: Fraction = Fraction(2, 3)) -> str:
    return "\n".join(plain(p) for part in method_parts(GENE, chance) for p in part.paragraphs)


def test_every_convention_that_changes_an_answer_is_stated():
    text = text_of()
    for needed in (
        "written down when they are born alive",
        "there are fewer young",
        "taken as one animal for all young of a litter",
        "not known to carry",
        "taken as one copy",
        "looked for and not seen",
        "is no test",
        "taken as not related",
    ):
        assert needed in text


def test_the_example_is_the_chance_that_was_given():
    assert "Say about 67 in 100 carry it and 33 do not. As a fraction that is 2/3." in text_of()
    assert "Say about 30 in 100 carry it and 70 do not." in text_of(Fraction(27, 91))
    assert Fraction(27, 91) == method_parts(GENE, Fraction(27, 91))[0].chance


def test_the_worked_numbers_are_right():
    text = text_of()
    at_least_one = 1 - Fraction(3, 4) ** 4
    assert f"about {round(at_least_one * 100)} in 100 such litters of 4 have one or more" in text
    after_two = Fraction(1, 2) * Fraction(1, 4) / (Fraction(1, 2) * Fraction(1, 4) + Fraction(1, 2))
    assert f"bring her chance down to about {round(after_two * 100)} in 100" in text


@pytest.mark.parametrize("chance", [Fraction(0), Fraction(1)])
def test_a_certain_gene_is_no_example(chance):
    with pytest.raises(ValueError, match="no example"):
        method_parts(GENE, chance)


def test_anchors_are_unique_and_fit_an_address():
    ids = [part.id for part in method_parts(GENE, Fraction(1, 2))]
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch(r"[a-z0-9-]+", part_id) for part_id in ids)
    assert all(part.title and part.paragraphs for part in method_parts(GENE, Fraction(1, 2)))
