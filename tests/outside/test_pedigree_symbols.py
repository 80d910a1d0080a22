"""The drawn pedigree against the published standard of symbols.

Source: Bennett RL et al. (2008) *J Genet Couns* 17:424-433; Bennett RL, French KS, Resta RG, Austin J (2022) *J
Genet Couns*, doi 10.1002/jgc4.1621, as told on a genomics teaching page on the 2022 revision: square for a male,
circle for a female, diamond where the sex is not known; filled for what is shown, open for what is not, a question
mark for what is not known; divided regions for several traits, each keyed in the legend; carriers by a divided,
patterned region and not by a central dot; a diagonal for one that has died; a legend, always. The double line of
related mates is from memory.
"""

import re

import pytest

from sitegen.render.pedigree import REGIONS, SIZE, draw_pedigree, draw_pedigree_mark, hatching, region_path
from sitegen.site.pedigree_chart import Fill, Key, Mates, Outline, PedigreeChart, Symbol


def mark(symbol: Symbol) -> str:
    return str(draw_pedigree_mark(Key("", symbol)))


def drawn(kind: str, svg: str) -> list[str]:
    return re.findall(rf'<path class="pedigree-{kind}" d="([^"]*)"', svg)


def numbers(path: str) -> list[tuple[int, int]]:
    """The ends of straight pieces."""
    return [(int(x), int(y)) for x, y in re.findall(r"[ML](-?\d+) (-?\d+)", path)]


def test_a_male_is_a_square_a_female_a_circle_and_an_unknown_sex_a_diamond() -> None:
    square, circle, diamond = (drawn("outline", mark(Symbol(0, 0, shape, ())))[0] for shape in Outline)
    assert re.fullmatch(r"M-(\d+) -\1H\1V\1H-\1Z", square)
    assert circle.count("A") == 2
    assert len(set(re.findall(r"A(\d+) (\d+)", circle))) == 1
    corners = numbers(diamond)
    assert len(corners) == 4
    assert all(0 in corner for corner in corners)


@pytest.mark.parametrize("shape", Outline)
def test_what_is_shown_is_filled_and_what_is_not_is_open(shape: Outline) -> None:
    assert drawn("filled", mark(Symbol(0, 0, shape, (Fill.SHOWS,)))) == [region_path(shape, (0, 0))]
    open_mark = mark(Symbol(0, 0, shape, (Fill.OPEN,)))
    assert not drawn("filled", open_mark)
    assert not drawn("hatching", open_mark)


@pytest.mark.parametrize("shape", Outline)
@pytest.mark.parametrize("fill", [Fill.CARRIES, Fill.MAY_CARRY])
def test_a_carrier_has_a_patterned_region_and_no_dot(shape: Outline, fill: Fill) -> None:
    svg = mark(Symbol(0, 0, shape, (fill, Fill.OPEN)))
    assert drawn("hatching", svg)
    assert not drawn("filled", svg)
    assert "<circle" not in svg


def test_carrying_and_perhaps_carrying_have_patterns_that_differ_without_colour() -> None:
    sure = numbers(hatching(Outline.SQUARE, (0, 0), 44, crossed=True))
    perhaps = numbers(hatching(Outline.SQUARE, (0, 0), 56, crossed=False))
    assert len(sure) > 2 * len(perhaps)


@pytest.mark.parametrize("shape", Outline)
@pytest.mark.parametrize("region", dict.fromkeys(region for regions in REGIONS.values() for region in regions))
@pytest.mark.parametrize("crossed", [True, False])
def test_a_pattern_stays_in_its_region_and_reaches_its_outline(
    shape: Outline, region: tuple[int, int], crossed: bool
) -> None:
    size = SIZE[shape]
    ends = numbers(hatching(shape, region, 44, crossed=crossed))
    assert len(ends) >= 4
    for x, y in ends:
        inside = {
            Outline.SQUARE: max(abs(x), abs(y)) <= size,
            Outline.CIRCLE: x * x + y * y <= (size + 1) ** 2,
            Outline.DIAMOND: abs(x) + abs(y) <= size + 1,
        }[shape]
        assert inside, (x, y)
        assert x * region[0] >= -1
        assert y * region[1] >= -1


@pytest.mark.parametrize("n_genes", [2, 3, 4])
def test_several_traits_divide_the_symbol_and_each_has_its_own_region(n_genes: int) -> None:
    for rank in range(n_genes):
        fills = tuple(Fill.SHOWS if rank == other else Fill.OPEN for other in range(n_genes))
        svg = mark(Symbol(0, 0, Outline.CIRCLE, fills))
        assert drawn("filled", svg) == [region_path(Outline.CIRCLE, REGIONS[n_genes][rank])]
        assert drawn("division", svg)
    assert len(set(REGIONS[n_genes][:n_genes])) == n_genes


def test_a_status_that_is_not_known_is_a_question_mark_in_an_open_symbol() -> None:
    svg = mark(Symbol(0, 0, Outline.SQUARE, (Fill.UNKNOWN,)))
    assert ">?</text>" in svg
    assert not drawn("filled", svg)


def test_one_that_has_died_has_a_diagonal_through_its_symbol() -> None:
    (line,) = drawn("line", mark(Symbol(0, 0, Outline.CIRCLE, (Fill.OPEN,), died=True)))
    (x1, y1), (x2, y2) = numbers(line)
    assert (x1, y1) == (-x2, -y2)
    assert x1 * x1 + y1 * y1 > SIZE[Outline.CIRCLE] ** 2
    assert not drawn("line", mark(Symbol(0, 0, Outline.CIRCLE, (Fill.OPEN,))))


@pytest.mark.parametrize(("related", "lines"), [(True, 2), (False, 1)])
def test_mates_are_joined_by_one_line_and_by_two_when_they_are_related(related: bool, lines: int) -> None:
    symbols = (
        Symbol(100, 100, Outline.SQUARE, (), "I-1"), Symbol(900, 100, Outline.CIRCLE, (), "I-2"),
        Symbol(500, 800, Outline.DIAMOND, (), "II-1", asked=True),
    )  # fmt: skip
    mates = Mates(100, 900, 100, 500, 800, related)
    svg = str(draw_pedigree(PedigreeChart(1000, 1000, symbols, (mates,), (("I", 100), ("II", 800)), (), "T", "D")))
    between = drawn("line", svg)[0]
    assert len(re.findall(r"M100 \d+H900", between)) == lines
    assert drawn("line", svg)[1] == "M500 100V800"
    assert re.findall(r'class="pedigree-generation"[^>]*>(\w+)<', svg) == ["I", "II"]
    assert "<title>T</title><desc>D</desc>" in svg
