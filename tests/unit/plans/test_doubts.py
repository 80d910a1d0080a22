"""What is impossible or doubtful in plans: each kind when it is there, and silence when it is not."""

import datetime as dt
from fractions import Fraction

import pytest
from helpers.from_text import bound

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex
from sitegen.plans.doubts import doubts, doubts_of_all
from sitegen.plans.doubts_kinds import (
    AlwaysSeen,
    Doubt,
    Gone,
    Left,
    Lethal,
    LookAlike,
    NotCarried,
    NotReached,
    Overbooked,
    Rushed,
    TooRelated,
    TooShort,
    TooYoung,
    Unlisted,
    Unweighed,
)

TODAY = dt.date(2026, 10, 31)
SPECIES = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
litters_a_year: 1
litter_size: {low: 1, usual: 8, high: 20}
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: March, born: July}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive, not_the_same_as: [charcoal]}
  charcoal: {inheritance: recessive}
  pale: {inheritance: incomplete_dominant, two_copies: super pale, two_copies_lethal: true}
  reedmark: {inheritance: dominant, welfare: {text: Some strike beside their food., source: own records}}
  motley-stripe:
    alleles: {motley: {inheritance: recessive}, stripe: {inheritance: recessive}}
    compounds: {motley/stripe: striped motley}
"""


def animal(name: str, sex: str, born: str = "2020-07-01", shows: str = "", more: str = "") -> str:
    text = f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: {born}\nshows: [{shows}]\n"
    return text + (more + "\n" if more else "")


def project(goal: str, *stages: str, more: str = "", name: str = "p") -> str:
    lines = "".join(f"  {stage}\n" for stage in stages)
    head = f"=== projects/{name}/project.yaml\nspecies: corn-snake\n{more}"
    return f"{head}goal: {{{goal}}}\nstages:\n{lines}"


def asked_of(text: str) -> Asked:
    return ask(gather(bound(SPECIES + text)))


def found(text: str, name: str = "p", today: dt.date = TODAY) -> list[Doubt]:
    asked = asked_of(text)
    return list(doubts(asked, asked.evidence.collection.projects[name], today))


AMELS = animal("juniper", "female", shows="amel") + animal("flint", "male", shows="amel")


def test_a_sound_plan_has_none() -> None:
    stages = (
        "first: {season: 2027, dam: juniper, sire: flint, keep: {sons: {shows: [amel], sex: male}}}",
        "second: {season: 2030, dam: juniper, sire: first.sons}",
    )
    assert found(AMELS + project("shows: [amel]", *stages)) == []


@pytest.mark.parametrize(
    ("born", "first"),
    [("2024-09-01", None), ("2024-09-02", 2028), ("2026-07-10", 2029), ("2024-09", 2028), ("unknown", None)],
)
def test_a_dam_needs_her_age_on_the_first_day_of_the_month_of_pairing(born: str, first: int | None) -> None:
    """30 months before 1 March 2027 is 1 September 2024; of a partial date the last day counts."""
    text = animal("juniper", "female", born, "amel") + animal("flint", "male", shows="amel")
    told = found(text + project("shows: [amel]", "only: {season: 2027, dam: juniper, sire: flint}"))
    assert [(doubt.parent, doubt.sex, doubt.first) for doubt in told if isinstance(doubt, TooYoung)] == (
        [("juniper", Sex.FEMALE, first)] if first else []
    )
    assert len(told) == (1 if first else 0)


@pytest.mark.parametrize(("season", "first"), [(2028, 2029), (2029, None)])
def test_kept_young_need_their_age_too(season: int, first: int | None) -> None:
    """Sons of 2027 are born in July; 18 months later it is January 2029."""
    stages = (
        "first: {season: 2027, dam: juniper, sire: flint, keep: {sons: {shows: [amel]}}}",
        f"second: {{season: {season}, dam: juniper, sire: first.sons}}",
    )
    told = found(AMELS + project("shows: [amel]", *stages))
    assert [(doubt.parent, doubt.born, doubt.first) for doubt in told if isinstance(doubt, TooYoung)] == (
        [("first.sons", "2027", first)] if first else []
    )


@pytest.mark.parametrize(
    ("months", "season", "parents"),
    [
        ("{paired: March, born: July}", 2030, []),
        ("{paired: December, born: July}", 2030, ["first.d"]),  # 1 December 2029 is 29 months after July 2027
        ("{paired: December, born: July}", 2031, []),
        ("{paired: January, born: July}", 2030, []),
        ("{paired: October, born: April}", 2030, []),  # 30 months to the day
        ("{paired: September, born: April}", 2030, ["first.d"]),
    ],
)
def test_a_season_is_the_year_of_birth_whatever_the_months(months: str, season: int, parents: list[str]) -> None:
    """Daughters of 2027 are bred on the first day of the month of pairing, which may lie in the year before."""
    stages = (
        "first: {season: 2027, dam: juniper, sire: flint, tries: 1, keep: {goal: {shows: [amel]}}, else: {d: {}}}",
        f"second: {{season: {season}, dam: first.d, sire: flint}}",
    )
    site = "=== site.yaml\nname: Quillmoor Snakes\nformat: 2\n"
    text = site + SPECIES.replace("{paired: March, born: July}", months) + AMELS + project("shows: [amel]", *stages)
    asked = ask(gather(bound(text)))
    told = doubts(asked, asked.evidence.collection.projects["p"], dt.date(2026, 6, 1))
    assert [doubt.parent for doubt in told if isinstance(doubt, TooYoung)] == parents


def test_a_slipped_stage_is_no_fault_of_the_plan() -> None:
    """Planned for 2026 and not bred: in 2027 everybody is old enough."""
    text = animal("juniper", "female", "2024-08-01", "amel") + animal("flint", "male", shows="amel")
    assert found(text + project("shows: [amel]", "only: {season: 2026, dam: juniper, sire: flint}")) == []


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ("died: 2026-01-02", Left.DIED),
        ("offer: {state: sold, since: 2026-02-03}", Left.SOLD),
        ("offer: {state: on hold, since: 2026-02-03}", Left.OFFERED),
        ("offer: {state: not for sale}", None),
    ],
)
def test_parents_that_are_not_there(more: str, why: Left | None) -> None:
    text = animal("juniper", "female", shows="amel", more=more) + animal("flint", "male", shows="amel")
    told = found(text + project("shows: [amel]", "only: {season: 2027, dam: juniper, sire: flint}"))
    assert [(doubt.animal, doubt.why, doubt.only) for doubt in told if isinstance(doubt, Gone)] == (
        [("juniper", why, True)] if why else []
    )


LITTER = (
    "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\npaired: 2026-03-10\nborn: 2026-07-12\nothers: [{count: 9}]\n"
)


@pytest.mark.parametrize(
    ("rest", "season", "told"), [(1, 2027, True), (1, 2028, False), (2, 2028, True), (0, 2027, False)]
)
def test_a_dam_rests_after_a_litter(rest: int, season: int, told: bool) -> None:
    text = project("shows: [amel]", f"only: {{season: {season}, dam: juniper, sire: flint}}", more=f"rest: {rest}\n")
    rushed = [doubt for doubt in found(AMELS + LITTER + text) if isinstance(doubt, Rushed)]
    assert [(doubt.dam, doubt.earlier, doubt.before) for doubt in rushed] == ([("juniper", 2026, "l")] if told else [])


@pytest.mark.parametrize(
    ("what", "ever_resting", "told"), [("slugs", 0, True), ("not-gravid", 0, False), ("not-gravid", 1, True)]
)
def test_a_dam_rests_after_a_failure_as_she_was_gravid_or_not(what: str, ever_resting: int, told: bool) -> None:
    text = project("shows: [amel]", "only: {season: 2027, dam: juniper, sire: flint}", more="rest: 1\n")
    failed = f"=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nfailed: {{date: 2026-06-12, what: {what}}}\n"
    species = SPECIES.replace("litters_a_year", f"rest_after_failure: {ever_resting}\nlitters_a_year")
    asked = ask(gather(bound(species + AMELS + failed + text)))
    told_of = list(doubts(asked, asked.evidence.collection.projects["p"], TODAY))
    assert [(type(doubt), doubt.rest) for doubt in told_of if isinstance(doubt, Rushed)] == [(Rushed, 1)] * told


def test_a_dam_rests_after_a_stage_of_another_project() -> None:
    text = project("shows: [amel]", "only: {season: 2028, dam: juniper, sire: flint}", more="rest: 1\n")
    text += project("shows: [amel]", "a: {season: 2027, dam: juniper, sire: flint}", name="q")
    (rushed,) = found(AMELS + text)
    assert isinstance(rushed, Rushed)
    assert (rushed.season, rushed.earlier, rushed.before) == (2028, 2027, "q: a")


def test_a_dam_that_is_promised_twice_is_told_once() -> None:
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    text = AMELS + project("shows: [amel]", only) + project("shows: [amel]", only, name="q")
    told = doubts_of_all(asked_of(text), TODAY)
    assert [(type(doubt), doubt.where.project) for doubt in told] == [(Overbooked, "q")]
    (doubt,) = told
    assert isinstance(doubt, Overbooked)
    assert doubt.others == ("p: only",)


def test_a_sire_may_serve_two_dams() -> None:
    text = AMELS + animal("fennel", "female", shows="amel")
    stages = ("a: {season: 2027, dam: juniper, sire: flint}", "b: {season: 2027, dam: fennel, sire: flint}")
    assert found(text + project("shows: [amel]", *stages)) == []


def test_alternatives_bind_nobody() -> None:
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    other = f"alternatives:\n  b:\n    stages:\n      {only}\n"
    assert found(AMELS + project("shows: [amel]", only) + other) == []


def test_two_kept_daughters_can_have_a_litter_each() -> None:
    def text(count: int) -> str:
        keep = f"keep: {{d: {{shows: [amel], sex: female, count: {count}}}}}"
        return AMELS + project(
            "shows: [amel]",
            f"first: {{season: 2027, dam: juniper, sire: flint, {keep}}}",
            "a: {season: 2030, dam: first.d, sire: flint}",
            "b: {season: 2030, dam: first.d, sire: flint}",
        )

    assert [type(doubt) for doubt in found(text(1))] == [Overbooked]
    assert found(text(2)) == []


@pytest.mark.parametrize(("limit", "told"), [("1/4", None), ("1/5", Fraction(1, 4)), ("0", Fraction(1, 4))])
def test_young_of_brother_and_sister_have_a_quarter(limit: str, told: Fraction | None) -> None:
    """Wright's coefficient of the young of full siblings from unrelated parents: 1/4."""
    keep = "keep: {d: {shows: [amel], sex: female}, s: {shows: [amel], sex: male}}"
    stages = (
        f"first: {{season: 2027, dam: juniper, sire: flint, {keep}}}",
        "second: {season: 2030, dam: first.d, sire: first.s}",
    )
    doubts_found = found(AMELS + project("shows: [amel]", *stages, more=f"relatedness_limit: {limit}\n"))
    assert [doubt.inbreeding for doubt in doubts_found if isinstance(doubt, TooRelated)] == ([told] if told else [])
    for doubt in doubts_found:
        assert isinstance(doubt, TooRelated)
        assert (doubt.dam, doubt.sire) == ("first.d", "first.s")


def test_a_gene_that_nobody_carries_is_told_with_those_that_may() -> None:
    text = AMELS + animal("basalt", "male", shows="anery") + animal("yarrow", "female", more="stated: {anery: 1/2}")
    text += animal("slate", "male", shows="anery", more="died: 2025-01-01")
    (doubt,) = found(text + project("shows: [amel, anery]", "only: {season: 2027, dam: juniper, sire: flint}"))
    assert isinstance(doubt, NotCarried)
    assert (doubt.wanted, doubt.allele, doubt.parents) == ("anery", "anery", ("juniper", "flint"))
    assert doubt.nearest == (("basalt", Fraction(1)), ("yarrow", Fraction(1, 2)))


def test_a_holdback_whose_gene_nobody_carries_is_told_where_it_stands() -> None:
    keep = "keep: {d: {shows: [amel], carries: [anery], sex: female}}"
    (doubt,) = found(AMELS + project("shows: [amel]", f"only: {{season: 2027, dam: juniper, sire: flint, {keep}}}"))
    assert isinstance(doubt, NotCarried)
    assert (doubt.where.stage, doubt.where.holdback, doubt.allele) == ("only", "d", "anery")


def test_a_filled_holdback_is_left_alone() -> None:
    litter = LITTER.replace("others: [{count: 9}]", 'young: {"01": {sex: female, shows: [amel]}}')
    keep = "litters: [l], keep: {d: {carries: [anery], animals: l/01}}"
    text = project("shows: [amel]", f"only: {{season: 2026, dam: juniper, sire: flint, {keep}}}")
    assert found(AMELS + litter + text) == []


def test_a_look_alike_is_told_as_such() -> None:
    text = animal("juniper", "female", shows="anery") + animal("slate", "male", shows="charcoal")
    (doubt,) = found(text + project("shows: [anery]", "only: {season: 2027, dam: juniper, sire: slate}"))
    assert isinstance(doubt, LookAlike)
    assert (doubt.allele, doubt.animal, doubt.other) == ("anery", "slate", "charcoal")


def test_a_look_alike_that_is_in_nobodys_way_is_not_told() -> None:
    text = animal("juniper", "female", shows="anery, charcoal") + animal("basalt", "male", shows="anery")
    assert found(text + project("shows: [anery]", "only: {season: 2027, dam: juniper, sire: basalt}")) == []


def test_two_recessives_from_two_parents_need_a_second_generation() -> None:
    text = animal("juniper", "female", shows="amel") + animal("basalt", "male", shows="anery")
    first = "first: {season: 2027, dam: juniper, sire: basalt}"
    (doubt,) = found(text + project("shows: [amel, anery]", first))
    assert isinstance(doubt, TooShort)
    assert doubt.missing == {"amel": ("basalt",), "anery": ("juniper",)}
    keep = "keep: {d: {sex: female}, s: {sex: male}}}"
    second = "second: {season: 2030, dam: first.d, sire: first.s}"
    assert found(text + project("shows: [amel, anery]", first.removesuffix("}") + f", {keep}", second)) == []


def test_what_kept_young_look_like_decides_what_they_can_give() -> None:
    """Motley young (two motley copies) and a stripe give striped motleys alone."""
    text = (
        animal("juniper", "female", shows="striped motley")
        + animal("flint", "male", more="stated: {motley-stripe: {+/motley: 1}}")
        + animal("slate", "male", shows="stripe")
    )

    def goal(look: str, kept: str) -> list[Doubt]:
        keep = f"keep: {{d: {{shows: [{kept}], sex: female}}}}"
        stages = (
            f"first: {{season: 2027, dam: juniper, sire: flint, {keep}}}",
            "second: {season: 2030, dam: first.d, sire: slate}",
        )
        return found(text + project(f"shows: [{look}]", *stages))

    assert [type(doubt) for doubt in goal("stripe", "motley")] == [TooShort]
    assert goal("stripe", "") == []
    assert goal("striped motley", "motley") == []


def test_a_two_copy_form_that_does_not_live_is_no_goal() -> None:
    text = animal("juniper", "female", shows="pale") + animal("flint", "male", shows="pale")
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    (doubt,) = found(text + project("shows: [super pale]", only))
    assert isinstance(doubt, Lethal)
    assert doubt.look == "super-pale"
    assert found(text + project("shows: [pale]", only)) == []


def test_a_harm_wants_a_note() -> None:
    text = animal("juniper", "female", shows="reedmark") + animal("flint", "male")
    only = "only: {season: 2027, dam: juniper, sire: flint, keep: {d: {shows: [reedmark]}}}"
    (doubt,) = found(text + project("shows: [reedmark]", only))
    assert isinstance(doubt, Unweighed)
    assert doubt.allele == "reedmark"
    assert found(text + project("shows: [reedmark]", only, more="welfare: We breed it no more.\n")) == []


def unlisted(text: str) -> list[tuple[str, str]]:
    return [(each.litter, each.where.stage) for each in found(text) if isinstance(each, Unlisted)]


@pytest.mark.parametrize(
    ("litter", "stage", "more", "told"),
    [
        ("born: 2026-07-12", "season: 2026", "", True),
        ("failed: {date: 2026-06-12, what: slugs}", "season: 2026", "", True),
        ("paired: 2026-03-10", "season: 2026", "", True),
        ("born: 2026-07-12", "season: 2026, litters: [l]", "", False),
        ("born: 2025-07-12", "season: 2026", "", False),  # before the stage
        ("born: 2026-07-12", "season: 2027", "", False),
        ("born: 2026-07-12", "season: 2027", "started: 2026-02-01\n", True),  # sooner than planned
        ("born: 2026-07-12", "season: 2026", "state: given up\n", False),
        ("born: 2026-07-12", "season: 2026, keep: {d: {animals: l/01}}, litters: [l]", "", False),
    ],
)
def test_a_litter_of_the_pair_that_no_stage_lists_is_told(litter: str, stage: str, more: str, told: bool) -> None:
    text = AMELS + f"=== litters/l/litter.yaml\ndam: juniper\nsire: flint\n{litter}\n"
    if "l/01" in stage:
        text += 'young: {"01": {sex: female}}\n'
    text += project("shows: [amel]", f"only: {{dam: juniper, sire: flint, {stage}}}", more=more)
    assert unlisted(text) == ([("l", "only")] if told else [])


def test_a_litter_that_may_be_of_another_sire_or_is_listed_elsewhere_is_not_told() -> None:
    born = "=== litters/l/litter.yaml\ndam: juniper\nsire: {}\nborn: 2026-07-12\n"
    only = "only: {season: 2026, dam: juniper, sire: flint}"
    other = AMELS + animal("basalt", "male")
    assert unlisted(other + born.format("[flint, basalt]") + project("shows: [amel]", only)) == []
    listed = project("shows: [amel]", only.replace("}", ", litters: [l]}"), name="q")
    assert unlisted(other + born.format("flint") + project("shows: [amel]", only) + listed) == []


REACHED = "only: {season: 2026, dam: juniper, sire: flint, litters: [l], keep: {d: {animals: l/01}}}"


@pytest.mark.parametrize(
    ("young", "goal", "chance"),
    [
        ('young: {"01": {shows: [amel]}}', "shows: [amel]", None),
        ('young: {"01": {shows: []}}', "shows: [amel]", Fraction(0)),
        ('young: {"01": {shows: []}}', "carries: [amel]", Fraction(2, 3)),
        ('young: {"01": {shows: []}}\nothers: [{count: 2, shows: [amel]}]', "shows: [amel]", None),
        ('young: {"01": {shows: []}, "02": {shows: [amel]}}', "shows: [amel]", None),
    ],
)
def test_reached_is_said_of_what_is_certain(young: str, goal: str, chance: Fraction | None) -> None:
    """A normal young of two carriers carries with 2/3."""
    parents = animal("juniper", "female", more="stated: {amel: certain}")
    parents += animal("flint", "male", more="stated: {amel: certain}")
    litter = LITTER.replace("others: [{count: 9}]", young)
    told = found(parents + litter + project(goal, REACHED, more="state: reached\n"))
    assert [doubt.chance for doubt in told if isinstance(doubt, NotReached)] == ([] if chance is None else [chance])


def test_a_project_that_was_given_up_is_left_alone() -> None:
    text = project("shows: [anery]", "only: {season: 2027, dam: juniper, sire: flint}", more="state: given up\n")
    assert found(AMELS + text) == []


def test_alternatives_are_looked_at_too() -> None:
    other = "alternatives:\n  b:\n    stages:\n      x: {season: 2027, dam: juniper, sire: basalt}\n"
    text = AMELS + animal("basalt", "male", "2026-07-01")
    (young, short) = sorted(
        found(text + project("shows: [amel]", "only: {season: 2027, dam: juniper, sire: flint}") + other),
        key=lambda doubt: type(doubt).__name__,
        reverse=True,
    )
    assert isinstance(young, TooYoung)
    assert isinstance(short, TooShort)
    assert {young.where.route, short.where.route} == {"b"}


def test_linked_genes_that_never_come_together_are_told_as_such() -> None:
    """Both in one young would need a crossing over, and these two loci never part."""
    species = SPECIES + "linked: [{loci: [amel, anery], recombination: 0}]\n"
    haplotypes = "haplotypes: [{amel: amel, anery: +}, {amel: +, anery: anery}]"
    text = animal("juniper", "female", shows="", more=f"stated: {{amel: certain, anery: certain}}\n{haplotypes}")
    text += animal("flint", "male", shows="", more=f"stated: {{amel: certain, anery: certain}}\n{haplotypes}")
    asked = ask(
        gather(bound(species + text + project("shows: [amel, anery]", "a: {season: 2027, dam: juniper, sire: flint}")))
    )
    (doubt,) = doubts(asked, asked.evidence.collection.projects["p"], TODAY)
    assert isinstance(doubt, TooShort)
    assert doubt.missing == {"amel": (), "anery": ()}


def test_what_nobody_carries_is_told_once_for_a_road() -> None:
    keep = "keep: {d: {shows: [anery], sex: female}, s: {shows: [anery], sex: male}}"
    text = project("shows: [anery]", f"only: {{season: 2027, dam: juniper, sire: flint, {keep}}}")
    assert [type(doubt) for doubt in found(AMELS + text)] == [NotCarried]


def test_records_that_contradict_each_other_rule_nothing_out() -> None:
    """An amelanistic pair with a normal young: no answer at that locus, so nothing is told of it."""
    litter = LITTER.replace("others: [{count: 9}]", 'young: {"01": {sex: female, shows: []}}')
    text = AMELS + litter + project("shows: [amel]", "only: {season: 2028, dam: juniper, sire: flint}")
    assert found(text) == []


def test_breeding_from_an_animal_that_shows_a_harm_wants_a_note_too() -> None:
    text = animal("juniper", "female", shows="reedmark, amel") + animal("flint", "male", shows="amel")
    only = "only: {season: 2027, dam: juniper, sire: flint}"
    (doubt,) = found(text + project("shows: [amel]", only))
    assert isinstance(doubt, Unweighed)
    assert (doubt.allele, doubt.animal, doubt.where.stage) == ("reedmark", "juniper", "only")
    assert found(text + project("shows: [amel]", only, more="welfare: Once, and never again.\n")) == []


FIRST = (
    "first: {{season: 2027, dam: juniper, sire: flint, tries: 2, keep: {{{keep}}}, else: {{plain: {{{otherwise}}}}}}}"
)
SECOND = "second: {season: 2030, dam: sage, sire: first.plain}"
HETS = animal("juniper", "female", more="stated: {amel: certain}") + animal("flint", "male", shows="amel")


def branches(*later: str, keep: str = "sons: {shows: [amel], sex: male}", otherwise: str = "carries: [amel]") -> str:
    sage = animal("sage", "female", shows="anery", more="stated: {amel: certain}")
    first = FIRST.format(keep=keep, otherwise=otherwise)
    return HETS + sage + project("shows: [amel], carries: [anery]", first, *(later or (SECOND,)), more="rest: 1\n")


def test_a_sound_plan_with_a_branch_has_none() -> None:
    assert found(branches(otherwise="only: true, carries: [amel], sex: male")) == []
    assert found(branches(otherwise="only: true, shows: [amel]")) == []


def test_two_branches_may_count_on_the_same_dam_since_one_comes_true() -> None:
    one = "one: {season: 2030, dam: sage, sire: first.sons}"
    assert found(branches(one, "other: {season: 2030, dam: sage, sire: first.plain}")) == []
    assert found(branches(one, "other: {season: 2031, dam: sage, sire: first.plain}")) == []
    (doubt,) = found(branches(one, "other: {season: 2030, dam: sage, sire: flint}"))
    assert isinstance(doubt, Overbooked)
    assert doubt.others == ("p: one",)
    (doubt,) = found(branches(one, "other: {season: 2031, dam: sage, sire: flint}"))
    assert isinstance(doubt, Rushed)


def test_what_is_kept_else_is_doubted_like_what_is_kept_first() -> None:
    (doubt,) = found(branches(otherwise="shows: [charcoal]"))
    assert isinstance(doubt, NotCarried)
    assert (doubt.where.holdback, doubt.allele) == ("plain", "charcoal")
    told = found(branches("second: {season: 2029, dam: first.plain, sire: flint}"))
    (doubt,) = (each for each in told if isinstance(each, TooYoung))
    assert (doubt.parent, doubt.first) == ("first.plain", 2030)
    (doubt,) = found(branches(otherwise="shows: [super pale]"))
    assert isinstance(doubt, Lethal)


def test_what_was_wanted_first_is_there_and_nothing_else_is_doubted() -> None:
    text = branches("second: {season: 2030, dam: sage, sire: first.sons}", otherwise="shows: [charcoal]")
    litter = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nborn: 2026-07-01\nyoung: {a: {shows: [amel]}}\n"
    filled = text.replace("sons: {", "sons: {animals: [l/a], ").replace("first: {", "first: {litters: [l], ")
    assert [type(doubt) for doubt in found(text)] == [NotCarried]
    assert found(filled + litter) == []


@pytest.mark.parametrize(
    ("otherwise", "looks"),
    [
        ("only: true, carries: [amel]", ("amel",)),
        ("only: true, shows: [amel]", ()),
        ("only: true, shows: [amel], carries: [reedmark]", ("reedmark",)),
        ("carries: [amel]", ()),
    ],
)
def test_young_that_can_never_be_told_by_eye(otherwise: str, looks: tuple[str, ...]) -> None:
    """Both parents show amelanism, and one a dominant that nobody has without showing it."""
    text = branches(otherwise=otherwise).replace("shows: []\nstated: {amel: certain}", "shows: [amel, reedmark]", 1)
    told = [doubt for doubt in found(text) if not isinstance(doubt, Unweighed)]
    assert [doubt.looks for doubt in told if isinstance(doubt, AlwaysSeen)] == ([looks] if looks else [])
    assert len(told) == bool(looks)
