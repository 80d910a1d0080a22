"""The years of a project as a picture and as a list."""

from helpers.random_roads import page, words_of


def test_the_road_is_a_picture_and_a_list() -> None:
    made = page()
    assert made.timeline is not None
    assert [(lane.label, [(m.year, m.kind) for m in lane.marks]) for lane in made.timeline.lanes] == [
        ("Stage 1", [(2026, "born"), (2027, "open")]),
        ("Stage 2", [(2028, "planned"), (2030, "open")]),
        ("Goal", [(2030, "open"), (2031, "median")]),
    ]
    assert (made.timeline.first, made.timeline.last) == (2025, 2034)
    assert [(e.year, words_of(e.words)) for e in made.events] == [
        ("2026", "Stage 1, Juniper with Flint: Juniper and Flint 2026, 6 living young."),
        ("from 2027", "Stage 1, Juniper with Flint."),
        ("from 2030", "Stage 2, a female from stage 1 with Flint."),
        ("2031", "Half of such plans have the goal by the end of this season."),
        ("2034", "The last season we look at: about 80 in 100 such plans have the goal by its end."),
    ]
