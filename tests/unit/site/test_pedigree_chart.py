"""Who stands where in a pedigree, what fills the symbols, and what the legend says."""

from dataclasses import replace
from fractions import Fraction

from helpers.small_site import animal, collection, small_material

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.site.material import Folio, folio
from sitegen.site.parts import text_of
from sitegen.site.pedigree_chart import COLUMN, LEFT, ROW, TOP, Fill, Outline, PedigreeChart, pedigree_chart, wrapped
from sitegen.site.pictured_pedigree import PicturedPedigree, pictured_pedigree


def back_cross() -> Collection:
    """Olive comes from Juniper and her own son Larch, whose sire is Flint."""
    records = collection()
    larch = animal("larch", "Larch", Sex.MALE, dam="juniper", sires=(("flint", Fraction(1)),))
    olive = animal("olive", "Olive", Sex.UNKNOWN, "amel", dam="juniper", sires=(("larch", Fraction(1)),))
    return replace(records, animals={**records.animals, "larch": larch, "olive": olive})


def page_of(records: Collection, *, related: tuple[str, ...] = ()) -> Folio:
    material = small_material(records)
    inbreeding = {**material.answers.inbreeding, **dict.fromkeys(related, Fraction(1, 4))}
    return folio(replace(material, answers=replace(material.answers, inbreeding=inbreeding)), "animals/x-paper.html")


def chart(animal_id: str, records: Collection | None = None, *, related: tuple[str, ...] = ()) -> PedigreeChart:
    records = records or collection()
    return pedigree_chart(records.animals[animal_id], page_of(records, related=related))


def legend(found: PedigreeChart) -> list[str]:
    return [key.text for key in found.keys]


def test_parents_stand_above_their_young_the_sire_on_the_left() -> None:
    sire, dam, young = chart("2026-x/01").symbols
    assert (sire.name, dam.name) == ("Flint", "Juniper")
    assert sire.x < young.x < dam.x
    assert young.x == LEFT + 2 * COLUMN
    assert (sire.y, dam.y, young.y) == (TOP, TOP, TOP + ROW)
    assert [symbol.asked for symbol in (sire, dam, young)] == [False, False, True]


def test_three_generations_are_numbered_from_the_oldest_and_from_the_left() -> None:
    found = chart("olive", back_cross(), related=("olive",))
    assert [(s.number, s.name) for s in found.symbols] == [
        ("I-1", "Flint"), ("I-2", "Juniper"), ("II-1", "Larch"), ("II-2", "Juniper"), ("III-1", "Olive"),
    ]  # fmt: skip
    assert [text for text, _y in found.generations] == ["I", "II", "III"]


def test_related_mates_have_two_lines_and_others_one() -> None:
    found = chart("olive", back_cross(), related=("olive",))
    assert [pair.related for pair in found.mates] == [False, True]
    assert "double line: the two are related" in legend(found)
    assert "double line: the two are related" not in legend(chart("2026-x/01"))


def test_an_animal_in_two_places_is_told_in_the_legend() -> None:
    assert "An animal in two places is drawn twice." in legend(chart("olive", back_cross()))
    assert "An animal in two places is drawn twice." not in legend(chart("2026-x/01"))


def test_every_shape_and_fill_and_gene_is_keyed() -> None:
    found = chart("2026-x/01")
    for needed in ("male", "female", "sex not known", "filled: shows it", "open: not known to have it"):
        assert needed in legend(found)
    genes = [text for text in legend(found) if text.partition(": ")[2] in ("amelanistic", "hypo", "wobble")]
    assert genes == ["left: amelanistic", "right: hypo"]
    drawn = {fill for symbol in found.symbols for fill in symbol.regions}
    keyed = {fill for key in found.keys if key.symbol for fill in key.symbol.regions}
    assert drawn <= keyed


def test_what_is_shown_carried_and_possible_fill_differently() -> None:
    sire, dam, young = chart("2026-x/01").symbols
    assert dam.regions == (Fill.SHOWS, Fill.MAY_CARRY)
    assert sire.regions == (Fill.OPEN, Fill.OPEN)
    assert young.regions == (Fill.SHOWS, Fill.MAY_CARRY)


def test_sexes_have_their_shapes_and_a_parent_that_is_not_recorded_keeps_its_own() -> None:
    records = back_cross()
    alone = animal("alone", "Alone", Sex.MALE, dam="juniper")
    found = chart("alone", replace(records, animals={**records.animals, "alone": alone}))
    unknown, dam, young = found.symbols
    assert (unknown.shape, dam.shape, young.shape) == (Outline.SQUARE, Outline.CIRCLE, Outline.SQUARE)
    assert unknown.regions == (Fill.UNKNOWN,)
    assert unknown.name == "not recorded"
    assert "question mark: not known" in legend(found)
    assert chart("olive", records).symbols[-1].shape is Outline.DIAMOND


def test_several_possible_sires_are_one_symbol_that_is_not_known() -> None:
    records = back_cross()
    half = Fraction(1, 2)
    doubtful = animal("doubt", "Doubt", Sex.FEMALE, dam="juniper", sires=(("flint", half), ("larch", half)))
    found = chart("doubt", replace(records, animals={**records.animals, "doubt": doubtful}))
    assert found.symbols[0].name == "Flint or Larch"
    assert found.symbols[0].regions == (Fill.UNKNOWN,)


def test_an_animal_without_parents_stands_alone_and_the_text_says_so() -> None:
    found = chart("juniper")
    assert [symbol.name for symbol in found.symbols] == ["Juniper"]
    assert found.mates == ()
    assert "The parents are not recorded." in found.description


def test_one_that_has_died_is_struck_through() -> None:
    records = collection()
    flint: Animal = replace(records.animals["flint"], died=PartialDate(2026, 8, 1))
    found = chart("2026-x/01", replace(records, animals={**records.animals, "flint": flint}))
    assert [symbol.died for symbol in found.symbols] == [True, False, False]
    assert "stroke: has died" in legend(found)
    assert "stroke: has died" not in legend(chart("2026-x/01"))


def test_the_description_tells_everything_that_is_drawn() -> None:
    told = chart("2026-x/01").description
    assert "II-1 No. 01 of Juniper and Flint 2026 (male): amelanistic: shows it; hypo: may have it unseen." in told
    assert "I-2 Juniper (female): amelanistic: shows it; hypo: may have it unseen." in told
    assert "I-1 Flint (male): amelanistic: not known to have it; hypo: not known to have it." in told


def test_long_names_are_cut_on_paper_only() -> None:
    assert wrapped("A name of very many words that goes on and on") == ("A name of very many", "words that goes on…")
    assert wrapped("Unbreakablelongnameofasnake") == ("Unbreakablelongnam…",)
    assert all(len(line) <= 19 for line in wrapped("one two three four five six seven eight nine ten eleven"))


def pictured(animal_id: str, records: Collection, *, related: tuple[str, ...] = ()) -> PicturedPedigree:
    found = pictured_pedigree(records.animals[animal_id], page_of(records, related=related))
    assert found is not None
    return found


def test_the_pictured_pedigree_has_the_same_places_outlines_and_double_lines() -> None:
    """Source: as for the drawn one, Bennett et al. 2008 and 2022: square, circle, diamond; sire on the left."""
    records = back_cross()
    found, drawn = pictured("olive", records, related=("olive",)), chart("olive", records, related=("olive",))
    sire, dam = found.animal.parents
    places = [*sire.parents, *dam.parents, sire, dam, found.animal]
    assert [(text_of(kin.who), kin.shape) for kin in places] == [(s.name, s.shape.value) for s in drawn.symbols]
    assert [kin.part for kin in places] == ["Sire’s sire", "Sire’s dam", "Sire", "Dam", ""]
    assert [("female" in text_of(kin.label), "male" in text_of(kin.label)) for kin in (sire, dam)] == [
        (False, True),
        (True, True),
    ]
    assert [kin.related for kin in (sire, found.animal)] == [False, True]
    assert "A double line joins mates that are related." in found.legend
    assert "double" not in pictured("2026-x/01", records).legend


def test_a_parent_that_is_not_recorded_and_one_of_several_stand_empty_and_one_that_died_is_struck() -> None:
    records = back_cross()
    half = {"flint": Fraction(1, 2), "larch": Fraction(1, 2)}
    olive = replace(records.animals["olive"], sires=tuple(half.items()))
    larch = replace(records.animals["larch"], dam=None, died=PartialDate(2026, 1, 1))
    records = replace(records, animals={**records.animals, "olive": olive, "larch": larch})
    several, _dam = pictured("olive", records).animal.parents
    assert (several.part, text_of(several.who), several.recorded, several.parents) == (
        "Possible sires", "Flint or Larch", False, ()
    )  # fmt: skip
    found = pictured("larch", records)
    assert [(text_of(kin.who), kin.recorded, bool(kin.label)) for kin in found.animal.parents] == [
        ("Flint", True, True), ("Not recorded", False, False)
    ]  # fmt: skip
    assert found.animal.died
    assert "A stroke: has died." in found.legend
