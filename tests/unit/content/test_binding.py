"""Whole content folders."""

from helpers.from_text import CORN, LITTER, PAIR, bound, content_of, kinds

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.findings import Kind, Level


def test_animals_stand_sorted_by_id() -> None:
    ids = list(bound(CORN + PAIR + LITTER).animals)
    assert ids == sorted(ids)


def test_private_notes_are_bound_nowhere() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\nprivate: {buyer: [zq-secret, {x: zq-secret}]}\n"
    assert "zq-secret" not in repr(bound(CORN + text))


def test_an_unreadable_record_hides_no_fault_of_another_and_makes_no_second_one() -> None:
    text = (
        "=== animals/juniper/animal.yaml\nspecies: [corn\n"
        "=== litters/l/litter.yaml\ndam: juniper\nyoung: {1: }\n"
        "=== animals/tansy/animal.yaml\nspecies: corn-snake\nfrom_litter: l/1\ndam: juniper\n"
        "=== animals/sorrel/animal.yaml\nspecies: corn-snake\ndam: l/1\nshows: [amle]\n"
    )
    assert kinds(text) == [(Kind.YAML_BROKEN, Level.ERROR), (Kind.GENE_UNKNOWN, Level.ERROR)]


def test_a_record_that_could_not_be_read_from_the_disk_is_known_all_the_same() -> None:
    content = content_of(CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\ndam: juniper\n")
    known = Content(content.texts, content.photos, ("animals/juniper/animal.yaml",))
    assert bind_content(known)[1] == ()


def test_nothing_at_all_is_an_empty_collection() -> None:
    collection, findings = bind_content(Content({}))
    assert findings == ()
    assert collection is not None
    assert collection.animals == {}
