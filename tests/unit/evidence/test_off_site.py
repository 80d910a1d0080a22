"""What of the records the site is made from, where some are kept off it."""

from helpers.from_text import CORN, bound, kinds, told

from sitegen.content.collection import Collection
from sitegen.content.off_site import is_off_site
from sitegen.evidence.off_site import for_the_site, has_whole_road, photos_of
from sitegen.findings import Kind, Level

PAIR = """
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2016-07-14
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2016-08
"""
LITTER = """
=== litters/2020-a/litter.yaml
dam: juniper
sire: flint
born: 2020-07-18
young: {"01": {shows: []}, "02": {shows: []}, "03": {shows: [], on_site: true}}
"""
SORREL = """
=== animals/sorrel/animal.yaml
species: corn-snake
from_litter: 2020-a/02
"""
ROAD = """
=== projects/sun/project.yaml
species: corn-snake
goal: {shows: [amel]}
stages: {first: {season: 2030, dam: juniper, sire: flint, litters: [2020-a], keep: {goal: {shows: [amel]}}}}
"""


def off(text: str, *records: str) -> str:
    """The text with some records kept off the site."""
    for record in records:
        text = text.replace(f"{record}.yaml\n", f"{record}.yaml\non_site: false\n")
    return text


def shown(collection: Collection) -> list[str]:
    return sorted(key for key in (*collection.animals, *collection.litters) if not is_off_site(key))


def test_a_litter_that_is_off_takes_its_young_along_promoted_ones_too() -> None:
    text = off(CORN + PAIR + LITTER.replace(", on_site: true", "") + SORREL, "litters/2020-a/litter")
    assert shown(for_the_site(bound(text))) == ["flint", "juniper"]


def test_a_young_with_a_record_of_its_own_says_otherwise_and_has_its_page_there() -> None:
    records = CORN + PAIR + LITTER.replace(", on_site: true", "") + SORREL + "on_site: true\n"
    public = for_the_site(bound(off(records, "litters/2020-a/litter")))
    assert shown(public) == ["flint", "juniper", "sorrel"]
    sorrel = public.animals["sorrel"]
    assert (sorrel.dam, sorrel.number, is_off_site(sorrel.litter)) == ("juniper", "", True)


def test_a_young_without_one_has_no_address_that_does_not_name_its_litter() -> None:
    (finding,) = (
        each for each in told(off(CORN + PAIR + LITTER, "litters/2020-a/litter")) if each.level is Level.ERROR
    )
    assert (finding.kind, finding.place.line) == (Kind.OFF_SITE, 5)
    assert (Kind.OFF_SITE, Level.ERROR) not in kinds(PAIR + LITTER)


def test_a_photograph_is_kept_off_by_its_name_and_a_wrong_name_is_an_error() -> None:
    text = CORN + PAIR.replace("species:", "off_site: [2024-05-01.jpg]\nspecies:", 1)
    photos = {"animals__juniper": ("2024-05-01.JPG", "2024-05-02.jpg")}
    assert [photo.path for photo in photos_of(for_the_site(bound(text, **photos)))] == [
        "animals/juniper/2024-05-02.jpg"
    ]
    photos = {"animals__juniper": ("2024-05-02.jpg",)}
    (finding,) = (each for each in told(text, **photos) if each.kind is Kind.PHOTO_UNKNOWN)
    assert finding.level is Level.ERROR


def test_a_litter_says_it_of_the_photographs_of_its_young_and_they_of_their_own() -> None:
    text = CORN + PAIR + LITTER.replace("born: 2020", "off_site: [01 a.jpg]\nborn: 2020")
    text = text.replace('"02": {shows: []}', '"02": {shows: [], off_site: [02 a.jpg]}')
    photos = {"litters__2020-a": ("01 a.jpg", "01 b.jpg", "02 a.jpg", "02 b.jpg", "a.jpg")}
    left = [photo.path.partition("2020-a/")[2] for photo in photos_of(for_the_site(bound(text, **photos)))]
    assert left == ["01 b.jpg", "02 b.jpg", "a.jpg"]


def test_of_a_road_no_chance_is_told_where_days_that_are_not_told_decide_it() -> None:
    records = CORN + PAIR + LITTER + ROAD
    elsewhere = records.replace(" litters: [2020-a],", "")
    for text, whole in (
        (records, True),
        (off(records, "animals/flint/animal"), False),
        (off(elsewhere.replace(", on_site: true", ""), "litters/2020-a/litter"), False),  # juniper may be resting
        (off(elsewhere + SORREL, "animals/sorrel/animal"), True),
    ):
        collection = bound(text)
        public = for_the_site(collection)
        assert has_whole_road(public.projects["sun"], public, collection) is whole


def test_a_project_that_is_off_is_not_there() -> None:
    assert not for_the_site(bound(off(CORN + PAIR + LITTER + ROAD, "projects/sun/project"))).projects
