"""The site itself and its free pages."""

import pytest
from helpers.from_text import bound, told

from sitegen.content.site import Contact, Pictures, ReadyRules, WeighEvery
from sitegen.content.values import WrittenAge
from sitegen.findings import Kind


def test_a_site_without_site_yaml_has_its_defaults() -> None:
    site = bound("=== pages/about.md\nWords\n").site
    assert (site.language, site.units, site.currency, site.address) == ("en", "metric", "", "")
    assert site.pictures == Pictures()


def test_everything_is_read() -> None:
    site = bound(
        "=== site.yaml\nname: No\naddress: https://quillmoor.example\nlanguage: en-GB\ncurrency: GBP\n"
        "units: imperial\ntheme: ledger\ncontact: {email: a@b.example, place: Saltby}\ncautions: [Wash hands]\n"
        "drawings: All are drawn.\npictures: {widths: [960, 480], avif_speed: 8}\nabout: |\n  One\n\n  Two\n"
    ).site
    assert (site.name, site.address, site.units, site.theme) == (
        "No",
        "https://quillmoor.example/",
        "imperial",
        "ledger",
    )
    assert site.contact == Contact(email="a@b.example", place="Saltby")
    assert site.pictures == Pictures(widths=(480, 960), avif_speed=8)
    assert (site.cautions, site.drawings, site.about) == (
        ("Wash hands",),
        "All are drawn.",
        "One\n\nTwo",
    )


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("address: quillmoor.example", Kind.VALUE_WRONG),
        ("address: ftp://quillmoor.example", Kind.VALUE_WRONG),
        ("address: 'https://[quill'", Kind.VALUE_WRONG),
        ("language: klingon", Kind.VALUE_WRONG),
        ("currency: EURI", Kind.PRICE_WRONG),
        ("currency: XQX", Kind.PRICE_WRONG),
        ("pictures: {avif_speed: 11}", Kind.VALUE_WRONG),
        ("pictures: {widths: [9]}", Kind.VALUE_WRONG),
        ("contact: a@b.example", Kind.VALUE_WRONG),
        ("ready_when: {meals: five}", Kind.VALUE_WRONG),
        ("ready_when: {weight: 15}", Kind.VALUE_WRONG),
        ("ready_when: {age: eight weeks}", Kind.VALUE_WRONG),
        ("ready_when: {food: 5}", Kind.KEY_UNKNOWN),
        ("ready_when: 5 meals", Kind.VALUE_WRONG),
        ("weigh_every: monthly", Kind.VALUE_WRONG),
        ("weigh_every: {young: weekly}", Kind.VALUE_WRONG),
        ("weigh_every: {old: 9 weeks}", Kind.KEY_UNKNOWN),
        ("weigh_every: [9 weeks]", Kind.VALUE_WRONG),
    ],
)
def test_a_fault_is_one_finding(line: str, kind: Kind) -> None:
    assert [finding.kind for finding in told(f"=== site.yaml\n{line}\n")] == [kind]


def test_rules_for_leaving_are_read_in_the_units_they_are_written_in() -> None:
    rules = bound("=== site.yaml\nready_when: {meals: 5, weight: 0.5 oz, age: 8 weeks}\n").site.ready_when
    assert rules == ReadyRules(5, 14, WrittenAge(days=56))
    assert bound("=== site.yaml\nready_when: {age: 3 months}\n").site.ready_when == ReadyRules(age=WrittenAge(months=3))
    assert bound("=== site.yaml\nname: No\n").site.ready_when == ReadyRules()


def test_pages_have_title_order_and_id_from_heading_and_name() -> None:
    pages = bound(
        "=== pages/20-care.md\n# Care of snakes\n\nWords\n=== pages/about-us.md\nOnly words\n"
        "=== pages/3 terms.md\n## Small\n"
    ).pages
    assert [(page.id, page.title, page.order) for page in pages.values()] == [
        ("about-us", "About us", 1000),
        ("care", "Care of snakes", 20),
        ("terms", "Terms", 3),
    ]
    assert pages["care"].text == "Words\n"


def test_a_currency_that_cannot_be_read_is_told_once_and_not_with_every_price() -> None:
    text = "=== species/s.yaml\nloci: {}\n=== animals/a/animal.yaml\nspecies: s\noffer: {price: 65}\n"
    for site in ("currency: EURI", "currency: [EUR]\n", "currency: [EUR\n"):
        assert len(told(f"=== site.yaml\n{site}\n{text}")) == 1


CROSSING = """
=== species/s.yaml
sexes: ZW
loci: {}
breeding_season: {paired: December, born: July}
=== animals/d/animal.yaml
species: s
=== animals/e/animal.yaml
species: s
=== projects/p/project.yaml
species: s
goal: {shows: []}
"""
STAGES = "stages: {first: {season: 2027, dam: d, sire: e}}\n"


@pytest.mark.parametrize(
    ("site", "changed", "kinds"),
    [
        ("name: X", CROSSING + STAGES, [Kind.FORMAT_OLD]),
        ("name: X\nformat: 1", CROSSING + STAGES, [Kind.FORMAT_OLD]),
        ("name: X\nformat: 2", CROSSING + STAGES, []),
        ("name: X\nformat: 3", CROSSING + STAGES, [Kind.VALUE_WRONG]),
        ("name: X\nformat: two", CROSSING + STAGES, [Kind.VALUE_WRONG]),
        ("name: [", CROSSING + STAGES, [Kind.YAML_BROKEN]),
        ("name: X", CROSSING, []),
        ("name: X", CROSSING + "horizon: 2030\n", [Kind.FORMAT_OLD]),
        ("name: X", CROSSING.replace("July", "December") + STAGES, []),
        ("name: X", CROSSING.replace("breeding_season: {paired: December, born: July}", "name: s") + STAGES, []),
    ],
)
def test_only_seasons_that_may_mean_another_year_need_the_format_line(
    site: str, changed: str, kinds: list[Kind]
) -> None:
    assert [finding.kind for finding in told(f"=== site.yaml\n{site}\n{changed}")] == kinds


def test_months_that_only_litters_tell_ask_for_the_format_line_too() -> None:
    bare = CROSSING.replace("breeding_season: {paired: December, born: July}", "name: s")
    litter = "=== litters/x/litter.yaml\ndam: d\nsire: e\npaired: 2024-12\nborn: {}\n"
    site = "=== site.yaml\nname: X\n"
    assert [f.kind for f in told(site + bare + STAGES + litter.format("2025-06"))] == [Kind.FORMAT_OLD]
    assert told(site + bare + STAGES + litter.format("2024-12")) == []


def test_how_often_animals_are_weighed() -> None:
    def every(line: str) -> WeighEvery:
        return bound(f"=== site.yaml\nname: No\n{line}\n").site.weigh_every

    assert (WeighEvery().young.days, WeighEvery().adult.days) == (30, 90)
    assert every("") == every("weigh_every:") == every("weigh_every: {}") == WeighEvery()
    assert every("weigh_every: 2 weeks") == WeighEvery(WrittenAge(days=14), WrittenAge(days=14))
    assert every("weigh_every: {adult: 2 months}") == WeighEvery(WeighEvery().young, WrittenAge(months=2))
