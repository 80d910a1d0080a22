"""What changed is a chain from what was said first to what is said today, and no sentence of it overclaims."""

import datetime as dt

from helpers.random_histories import grown_collection
from helpers.replayed import answers_on
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.evidence.answers import answers
from sitegen.evidence.arrivals import arrivals_of, families_of
from sitegen.evidence.changes import ChangeKind, changes_of
from sitegen.evidence.claims import claims_of
from sitegen.evidence.history import history
from sitegen.evidence.kinds import chance_of_allele
from sitegen.words.changes import change_sentence
from sitegen.words.speech import Voice, plain

seeds = st.integers(0, 1_000_000)
few = settings(max_examples=25, deadline=None)
OF_CHANCES = (ChangeKind.PROVED, ChangeKind.RULED_OUT, ChangeKind.MOVED)


def told(collection):
    """The changes of a collection, its answers and its history."""
    arrivals, known = arrivals_of(collection), answers(collection)
    turns = history(arrivals)
    claims = claims_of(collection, known, lambda animal, locus: (), dt.date(2026, 10, 1))
    return changes_of(arrivals, turns, claims), known, turns


@few
@given(seeds)
def test_changes_lead_from_what_was_said_first_to_what_is_said_today(seed):
    collection = grown_collection(seed)
    changes, known, turns = told(collection)
    arrivals = arrivals_of(collection)
    for animal in collection.animals:
        there, told_of = arrivals.animals[animal], arrivals.first_day_of(collection.animals[animal])
        for locus in collection.species["snake"].genome.loci:
            comes_late = any(allele.visible_from_months for allele in locus.alleles)
            start = told_of if comes_late else there  # a look of a grown animal is what was said first of it
            first = answers_on(turns, start)[animal]
            if locus.id not in first or locus.id not in known.posteriors[animal]:
                continue
            for allele in locus.alleles:
                chance = chance_of_allele(first[locus.id], allele.id)
                own = [c for c in changes.get(animal, ()) if c.allele == allele.id and c.kind in OF_CHANCES]
                for change in (c for c in own if chance_of_allele_moved(c)):
                    assert change.day > there
                    if change.day <= start:
                        continue
                    assert change.chance_before == chance
                    chance = change.chance_after
                seen = any(c.kind is ChangeKind.BECAME_VISIBLE for c in changes.get(animal, ()) if c.locus == locus.id)
                assert seen or chance == chance_of_allele(known.posteriors[animal][locus.id], allele.id)


def chance_of_allele_moved(change):
    """False where it was certain all along that the animal has the allele, and only the number of copies moved."""
    before = change.before.posterior if change.before else None
    return before is None or chance_of_allele(before, change.allele) != 1 or change.chance_before == 1


@few
@given(seeds)
def test_a_change_is_as_sure_as_its_words_and_every_reason_is_a_record_of_that_day(seed):
    collection = grown_collection(seed)
    changes, known, turns = told(collection)
    places = {(turn.day, place) for turn in turns for each in turn.arrived for place in each.source.places}
    voice = Voice(collection, known, dt.date(2026, 10, 1))
    for change in (each for own in changes.values() for each in own):
        text = plain(change_sentence(change, voice))
        then, since = text.split("From that day on")
        assert text.endswith(".")
        assert "{" not in text
        assert text.count("because") == 1
        assert ("for certain" in since) <= is_certain(change)
        assert ("does not carry" in since.split("because")[0]) <= (change.chance_after == 0)
        assert ("does not carry" in then) <= (change.chance_before == 0)
        for reason in change.because:
            assert {(change.day, place) for place in reason.places} <= places


def is_certain(change):
    return change.after is not None and chance_of_allele(change.after.posterior, change.allele) == 1


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 1_000_000))
def test_a_family_by_itself_changed_as_among_all(seed):
    collection = grown_collection(seed)
    arrivals = arrivals_of(collection)
    apart = {}
    for family in families_of(arrivals):
        assert apart.keys().isdisjoint(family.collection.animals)
        apart |= changes_of(family, history(family), {})
    assert apart == dict(changes_of(arrivals, history(arrivals), {}))
