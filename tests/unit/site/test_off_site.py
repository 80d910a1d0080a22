"""Parts of pages that would tell of what is kept off the site."""

import datetime as dt
from dataclasses import replace
from functools import partial

import pytest
from helpers.from_text import CORN, bound
from helpers.small_site import material

from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.joint import joint_json, joints_of
from sitegen.evidence.off_site import for_the_site
from sitegen.evidence.reasons import reasons
from sitegen.site.entries import animal_entry
from sitegen.site.material import Folio, folio
from sitegen.site.parts import text_of
from sitegen.site.plates import parent_plates
from sitegen.words.speech import Link, Text, plain

DAY = dt.date(2026, 11, 1)
RECORDS = """
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
shows: [amel]
=== animals/flint/animal.yaml
on_site: false
species: corn-snake
sex: male
shows: [anery]
stated: {amel: certain, hypo: certain}
=== animals/sorrel/animal.yaml
name: Sorrel
species: corn-snake
from_litter: 2025-a/01
on_site: true
=== litters/2025-a/litter.yaml
on_site: false
dam: juniper
sire: flint
born: 2025-07-01
young: {"01": {shows: []}, "02": {shows: []}, "03": {shows: []}}
=== litters/2026-b/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young: {"01": {shows: []}, "02": {shows: []}, "03": {shows: [], on_site: false}}
"""


@pytest.fixture(scope="module")
def at() -> Folio:
    public = for_the_site(bound(CORN + RECORDS))
    asked = ask(gather(public))
    answers = answers_of(asked)
    claims = claims_of(public, answers, partial(reasons, asked), DAY)
    together, littermates = joints_of(asked)
    made = material(public, answers, claims, {}, DAY, together=together, littermates=littermates, changes={})
    return folio(replace(made, collection=made.collection.listed), "collection.html")


def test_a_litter_that_is_off_is_no_origin(at: Folio) -> None:
    assert animal_entry(at.collection.animals["sorrel"], at).origin == ()


def test_of_a_parent_that_is_off_no_look_stands_beside_its_place(at: Folio) -> None:
    dam, sire = parent_plates(at.collection.animals["sorrel"], at)
    assert text_of(sire.caption) == "Sire: an animal not shown here"
    assert (sire.note, sire.href, sire.picture) == ("", "", None)
    assert dam.note


def test_names_that_are_off_come_last_and_together(at: Folio) -> None:
    first, second = (at.collection.animals["sorrel"].sires[0][0], at.collection.litters["2026-b"].young[2])
    assert plain(at.voice.animals([first, "juniper", second])) == "juniper and 2 animals not shown here"
    assert at.voice.of_kin([first]) == (Text("(an animal not shown here)"),)
    assert at.voice.of_kin(["juniper"]) == (Link("juniper", at.voice.animal("juniper").target, "juniper"),)


def test_a_litter_behind_a_reason_is_not_named(at: Folio) -> None:
    off = at.collection.animals["sorrel"].litter
    assert plain(at.voice.litter_behind(Reason(Ground.YOUNG, (), off))) == " (not shown here)"


def test_machines_are_told_of_no_littermates_whose_numbers_would_not_fit(at: Folio) -> None:
    found = joint_json(at.collection, (at.material.together, at.material.littermates))
    assert found["littermates"] == {}
    assert at.material.littermates["2026-b"], "pages tell how many of them may carry"


def test_what_is_off_is_found_and_never_listed_or_counted(at: Folio) -> None:
    off = at.collection.animals["sorrel"].litter
    assert off in at.collection.litters
    assert list(at.collection.litters) == ["2026-b"]
    assert len(at.collection.litters) == 1
    assert [young.id for young in at.young(at.collection.litters["2026-b"])] == ["2026-b/01", "2026-b/02"]
    assert [young.id for young in at.material.young_of["juniper"]] == ["sorrel"]
