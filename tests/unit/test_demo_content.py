"""The demonstration records: complete, consistent, and showing what they are there to show."""

import datetime as dt
import io
import itertools
import os
import re
import subprocess
import sys
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.events import EventKind
from sitegen.content.folder import read_content
from sitegen.content.litters import Litter
from sitegen.content.prices import OfferState
from sitegen.evidence.answers import Answers, answers
from sitegen.genetics.loci import Sex
from sitegen.plans.today import Asks, matters_of

CONTENT = Path(__file__).resolve().parents[2] / "content"
PHOTOS = sorted(CONTENT.rglob("*.jpg"))
PICTURES = Path(__file__).resolve().parents[1] / "pictures"
DRAW_ONE = """
import sys
from draw_photos import drawn, encoded
from plan import shots
shot = next(shot for shot in shots() if shot.file == "04 day one.jpg")
sys.stdout.buffer.write(encoded(shot, drawn(shot)))
"""
HALF = Fraction(1, 2)
HEARSAY = Fraction(2, 3)
HAD_ONE_NORMAL = Fraction(3, 4)


@pytest.fixture(scope="module")
def quillmoor() -> Collection:
    content, reading = read_content(CONTENT)
    collection, binding = bind_content(content)
    assert [f"{finding.place}: {finding.message}" for finding in (*reading, *binding)] == []
    assert collection is not None
    return collection


@pytest.fixture(scope="module")
def known(quillmoor: Collection) -> Answers:
    return answers(quillmoor)


def _born(quillmoor: Collection) -> list[Litter]:
    return [litter for litter in quillmoor.litters.values() if litter.born]


def test_there_are_two_species_seventeen_animals_six_litters_and_three_projects(quillmoor: Collection):
    assert list(quillmoor.species) == ["corn-snake", "kenyan-sand-boa"]
    assert len([animal for animal in quillmoor.animals.values() if not animal.is_young]) == 17
    assert len(_born(quillmoor)) == 6
    assert [(each.id, bool(each.failed)) for each in quillmoor.litters.values() if not each.born] == [
        ("2026-cumin-pyrite", False),
        ("2026-sorrel-slate", False),
        ("2026-yarrow-flint", True),
    ]
    assert sorted(project.state for project in quillmoor.projects.values()) == ["planned", "reached", "under way"]


def test_the_year_of_2026_has_a_failed_pairing_a_late_clutch_and_a_refusal_that_ended(quillmoor: Collection):
    def asked(day: dt.date) -> list[tuple[Asks, str]]:
        return [(each.what, each.id) for each in matters_of(quillmoor, day) if each.pressing]

    assert quillmoor.litters["2026-yarrow-flint"].failed
    assert asked(dt.date(2026, 11, 29))[:2] == [(Asks.OVERDUE, "2026-sorrel-slate"),
                                                (Asks.HOLDS, "2026-fennel-cinnabar/06")]  # fmt: skip
    assert (Asks.OVERDUE, "2026-sorrel-slate") not in asked(dt.date(2026, 10, 31)), "the last day of the records"
    assert (Asks.REFUSING, "fennel") in asked(dt.date(2026, 9, 26))
    assert (Asks.REFUSING, "fennel") not in asked(dt.date(2026, 10, 10))
    records = (*quillmoor.animals.values(), *quillmoor.litters.values())
    kinds = {event.what for record in records for event in record.events}
    assert kinds >= {EventKind.INTRODUCED, EventKind.COPULATION, EventKind.SEPARATED, EventKind.SHED, EventKind.VET}


def test_the_litters_span_four_years(quillmoor: Collection):
    assert {2023, 2024, 2025, 2026} == {litter.born.year for litter in _born(quillmoor) if litter.born}


def test_there_are_offers_in_every_state(quillmoor: Collection):
    states = Counter(animal.offer.state for animal in quillmoor.animals.values() if animal.offer)
    assert set(OfferState) == set(states)
    assert states[OfferState.AVAILABLE] >= 8


def test_every_offer_that_can_be_bought_has_a_price_in_pounds_and_a_date(quillmoor: Collection):
    for animal in quillmoor.animals.values():
        if animal.offer and animal.offer.state is not OfferState.NOT_FOR_SALE:
            assert animal.offer.price is not None, animal.id
            assert animal.offer.price.currency == "GBP", animal.id
            assert animal.offer.since is not None, animal.id


def test_eggs_are_as_many_as_the_young_and_what_did_not_live(quillmoor: Collection):
    clutches = [litter for litter in _born(quillmoor) if litter.eggs is not None]
    assert len(clutches) == 5
    for litter in clutches:
        living = len(litter.young) + sum(other.count for other in litter.others)
        assert litter.eggs == living + (litter.infertile or 0) + (litter.stillborn or 0), litter.id


def test_eggs_hatch_after_sixty_to_seventy_days(quillmoor: Collection):
    """Forest Park Zoo prints 60 to 65 days for corn snakes, and the wider range of other sources is 35 to 90."""
    for litter in _born(quillmoor):
        if litter.laid and litter.born:
            assert 60 <= (litter.born.earliest - litter.laid.earliest).days <= 70, litter.id


def test_parents_are_of_breeding_age_when_they_are_paired(quillmoor: Collection):
    checked = 0
    for litter in quillmoor.litters.values():
        species = quillmoor.species[litter.species]
        for parent in (litter.dam, *(sire for sire, _ in litter.sires)):
            animal = quillmoor.animals[parent or ""]
            assert animal.born is not None
            assert litter.paired is not None
            months = (litter.paired.earliest - animal.born.latest).days * 12 / 365.25
            assert months >= species.breeding_age_months[animal.sex], (litter.id, parent)
            checked += 1
    assert checked == 2 * 9 + 1


def test_dams_are_heavy_enough_when_they_are_paired(quillmoor: Collection):
    for litter in quillmoor.litters.values():
        dam = quillmoor.animals[litter.dam or ""]
        assert litter.paired is not None
        before = [weighing.grams for weighing in dam.weights if weighing.date <= litter.paired]
        assert before[-1] >= quillmoor.species[dam.species].breeding_weight_grams[Sex.FEMALE], litter.id


def test_every_gene_is_described_and_names_its_look_alikes(quillmoor: Collection):
    for species in quillmoor.species.values():
        for locus in species.genome.loci:
            for allele in locus.alleles:
                assert allele.about, allele.id
                for other in allele.not_the_same_as:
                    lookalike = next(a for each in species.genome.loci for a in each.alleles if a.id == other)
                    assert allele.id in lookalike.not_the_same_as, (allele.id, other)


def test_one_gene_cannot_be_judged_early_and_one_has_a_welfare_note(quillmoor: Collection):
    alleles = [a for s in quillmoor.species.values() for locus in s.genome.loci for a in locus.alleles]
    assert [allele.id for allele in alleles if allele.visible_from_months] == ["diffused"]
    harmed = [allele for allele in alleles if allele.welfare]
    assert [(allele.id, allele.welfare.source) for allele in harmed if allele.welfare] == [
        ("reedmark", "our own records, not published")
    ]


def test_no_young_with_a_welfare_note_can_be_bought(quillmoor: Collection):
    marked = [
        a for a in quillmoor.animals.values() if any(s.look == "reedmark" for g in a.genes for s in g.judged.seen)
    ]
    assert len(marked) == 4
    assert all(animal.offer and animal.offer.state is OfferState.NOT_FOR_SALE for animal in marked)


def test_the_three_roads_tell_three_stories(quillmoor: Collection):
    stories = {
        each.id: (each.state, len(each.alternatives), bool(each.decisions)) for each in quillmoor.projects.values()
    }
    assert stories == {
        "copper-lace": ("under way", 1, True),
        "river-mist": ("planned", 1, True),
        "snow-ladder": ("reached", 0, True),
    }


def test_a_female_rests_a_season_after_a_clutch_since_that_was_decided(quillmoor: Collection):
    decided = next(d.date.year for d in quillmoor.projects["snow-ladder"].decisions if "rests a season" in d.text)
    seasons: dict[str, list[int]] = {}
    for litter in quillmoor.litters.values():
        assert litter.paired is not None
        seasons.setdefault(litter.dam or "", []).append(litter.paired.year)
    for dam, years in seasons.items():
        gaps = [later - earlier for earlier, later in itertools.pairwise(sorted(years)) if later > decided]
        assert all(gap > quillmoor.species[quillmoor.animals[dam].species].rest for gap in gaps), dam


def test_no_decision_is_later_than_the_records(quillmoor: Collection):
    decisions = [decision.date for project in quillmoor.projects.values() for decision in project.decisions]
    notes = [update.date for project in quillmoor.projects.values() for update in project.updates]
    assert len(decisions) == 7
    assert max(decisions) <= max(notes)


def test_the_records_do_not_contradict_each_other(known: Answers):
    assert ((), ()) == (known.contradictions, known.too_tangled)


def test_a_normal_young_beside_an_amelanistic_one_carries_with_two_thirds(known: Answers):
    quarter = HALF * HALF
    expected = {("+", "+"): quarter / (1 - quarter), ("+", "amel"): HALF / (1 - quarter)}
    assert expected == known.posteriors["2024-fennel-flint/02"]["amel-ultra"]
    assert {("+", "amel"): 1} == known.posteriors["flint"]["amel-ultra"]


def test_ten_normal_young_all_but_rule_out_that_cinnabar_carries(known: Answers):
    """Prior 2/3 and ten normal young of a known carrier: published-style test-mating table, 59049/583337."""
    seen = HEARSAY * HAD_ONE_NORMAL**10
    expected = seen / (seen + (1 - HEARSAY))
    assert expected == Fraction(59049, 583337)
    assert expected == known.posteriors["cinnabar"]["amel-ultra"]["+", "amel"]


def test_a_clutch_mate_of_ten_normal_young_shares_the_doubt_about_its_sire(known: Answers):
    sire = Fraction(59049, 583337)
    expected = sire * Fraction(2, 3) + (1 - sire) * HALF
    assert expected == known.posteriors["2026-fennel-cinnabar/03"]["amel-ultra"]["+", "amel"]


def test_eight_normal_young_shift_the_doubt_between_two_sires(known: Answers):
    slate = HALF * (HALF + HALF * HALF**8)
    chalk = HALF * 1
    expected = {"slate": slate / (slate + chalk), "chalk": chalk / (slate + chalk)}
    assert expected == known.sires["2026-tansy-slate-or-chalk"]
    young = known.posteriors["2026-tansy-slate-or-chalk/01"]
    assert expected["slate"] == young["charcoal"]["+", "charcoal"]
    assert expected["slate"] * HALF == young["diffused"]["diffused", "diffused"]
    assert expected["chalk"] * HALF == young["anery"]["+", "anery"]


def test_a_young_proves_its_grandsire(known: Answers):
    assert {("+", "caramel"): 1} == known.posteriors["obsidian"]["caramel"]
    assert {("+", "caramel"): 1} == known.posteriors["basalt"]["caramel"]
    assert known.posteriors["yarrow"]["caramel"]["+", "caramel"] == HALF


def test_hypo_cannot_be_seen_on_an_amelanistic_young(known: Answers):
    expected = {("+", "+"): HALF * HALF, ("+", "hypo"): HALF, ("hypo", "hypo"): HALF * HALF}
    assert expected == known.posteriors["selenite"]["hypo"]
    assert known.posteriors["yarrow"]["hypo"]["+", "hypo"] == Fraction(2, 3)


def test_a_laboratory_rules_out_what_was_stated(known: Answers):
    assert {("+", "+"): 1} == known.posteriors["chalk"]["amel-ultra"]
    assert {("+", "+"): 1} == known.posteriors["flint"]["hypo"]


def test_a_son_back_to_his_dam_gives_a_quarter(known: Answers):
    assert known.inbreeding["selenite"] == HALF * HALF
    assert known.inbreeding["2026-fennel-cinnabar/01"] == HALF * HALF


def test_the_private_strings_stand_under_private_and_in_notes_of_diaries_alone():
    planted = 0
    for path in sorted(CONTENT.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        inline = re.findall(r"private: \{buyer: (zq-private-[\w-]+)\}", text)
        blocks = re.findall(r"^private:\n((?:  .+\n)+)", text, flags=re.MULTILINE)
        notes = re.findall(r", what: \w+, note: zq-private-", text)
        found = len(inline) + len(notes) + sum(block.count("zq-private-") for block in blocks)
        assert text.count("zq-private-") == found, path
        planted += found
    assert planted >= 25


def test_the_photos_are_many_and_together_small():
    assert 75 <= len(PHOTOS) <= 95
    assert sum(path.stat().st_size for path in PHOTOS) < 8_000_000


def test_every_adult_has_two_photos_and_every_young_on_offer_has_one(quillmoor: Collection):
    for animal in quillmoor.animals.values():
        if not animal.is_young:
            assert len(animal.photos) >= 2, animal.id
        elif animal.kept or (animal.offer and animal.offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)):
            assert animal.photos, animal.id


def test_every_photo_has_a_date(quillmoor: Collection):
    photos = [photo for animal in quillmoor.animals.values() for photo in animal.photos]
    photos += [photo for litter in quillmoor.litters.values() for photo in litter.photos]
    undated = sorted(photo.path.rsplit("/", 1)[-1] for photo in photos if photo.date is None)
    assert undated == ["03 day one.jpg", "04 day one.jpg", "IMG_0412.jpg"]
    for path in PHOTOS:
        if path.name in undated:
            with Image.open(path) as image:
                assert image.getexif().get_ifd(0x8769)[0x9003].startswith("2026:"), path


def test_one_photo_tells_a_place_and_one_is_stored_turned():
    located, turned = [], []
    for path in PHOTOS:
        with Image.open(path) as image:
            data = image.getexif()
            located += [path.name] if data.get_ifd(0x8825) else []
            turned += [(path.name, image.width > image.height)] if data.get(0x0112, 1) != 1 else []
            if path.name == "IMG_0412.jpg":
                assert data[0x0112] == 6
    assert located == ["2025-06-12 shed.jpg"]
    assert turned == [("IMG_0412.jpg", True)]


def test_one_photo_is_as_large_as_a_camera_makes_them():
    sizes = []
    for path in PHOTOS:
        with Image.open(path) as image:
            sizes.append(max(image.size))
    assert max(sizes) == 4000


def test_every_page_that_shows_a_picture_can_say_that_it_is_a_drawing(quillmoor: Collection):
    assert "drawings" in quillmoor.site.drawings
    assert "no real animal" in quillmoor.site.drawings


def _drawn_again(hash_seed: str) -> bytes:
    """One photo, drawn in a process of its own."""
    surroundings = os.environ | {"PYTHONHASHSEED": hash_seed}
    done = subprocess.run(
        [sys.executable, "-c", DRAW_ONE], cwd=PICTURES, env=surroundings, capture_output=True, check=True, timeout=120
    )
    return done.stdout


def test_the_same_picture_is_drawn_each_time_and_is_the_one_beside_the_record():
    first, second = _drawn_again("1"), _drawn_again("2")
    assert first == second
    kept = CONTENT / "litters" / "2026-fennel-cinnabar" / "04 day one.jpg"
    with Image.open(io.BytesIO(first)) as new, Image.open(kept) as old:
        difference = ImageStat.Stat(ImageChops.difference(new.convert("RGB"), old.convert("RGB")))
    assert max(difference.mean) < 2


def test_nothing_of_who_waits_stands_in_the_site(quillmoor: Collection, demo: Path) -> None:
    written = [each for person in quillmoor.waiting for each in (person.name, person.contact, person.wants) if each]
    assert len(written) >= 5
    files = [path.read_bytes() for path in demo.rglob("*") if path.is_file()]
    assert len(files) > 500
    assert not [each for each in (*written, "waiting.yaml") for content in files if each.encode() in content]
