"""Sentences of a staircase: from the parents alone, then day by day."""

import datetime as dt
from fractions import Fraction

import pytest
from helpers.small_collections import HYPO, NOWHERE, TODAY, animal_of, answers_of, collection_of, species_of

from sitegen.content.litters import Litter
from sitegen.evidence.arrivals import BEGINNING
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.staircase import Stair
from sitegen.genetics.loci import WILD, Sex
from sitegen.words.speech import Voice, plain
from sitegen.words.staircase import stair_sentences, stairs_title

LITTER = Litter(id="2026", name="Sage and Flint 2026", species="corn-snake", place=NOWHERE, dam="sage", sires=())
COLLECTION = collection_of(
    animal_of("sage"), animal_of("flint"), animal_of("juniper", dam="sage", sires=("flint",), sex=Sex.FEMALE),
    litters=(LITTER,), species=species_of(HYPO),
)  # fmt: skip
VOICE = Voice(COLLECTION, answers_of(COLLECTION, {}), TODAY)
UNSEEN = Reason(Ground.SIBLINGS, (), "2026", detail=(("count", "7"),))
DAY = dt.date(2026, 7, 26)


def of(chance):
    chance = Fraction(chance)
    return {genotype: share for genotype, share in (((WILD, "hypo"), chance), ((WILD, WILD), 1 - chance)) if share}


def claim_of(kind, chance, animal="juniper"):
    return Claim(
        kind, animal, "corn-snake", "hypo", "hypo", "", Fraction(chance), -1, of(chance), Basis.OWN_RECORDS, ()
    )  # fmt: skip


def told(claim, *stairs):
    return [plain(sentence) for sentence in stair_sentences(claim, stairs, VOICE)]


def test_from_the_parents_then_day_by_day():
    claim = claim_of(ClaimKind.MAY_CARRY, "2/5")
    assert told(claim, Stair(None, of("1/2")), Stair(DAY, of("2/5"), (UNSEEN,))) == [
        "From her parents alone, by the records of that time: about 50 in 100.",
        "26 July 2026: about 40 in 100, because of seven young of her parents that we looked at (Sage and Flint 2026) "
        "none shows hypo.",
    ]
    assert stairs_title(claim, VOICE) == "How many of 100 such animals have it, step by step."


def test_a_founder_starts_from_its_own_records():
    test = Reason(Ground.DNA_TEST, ("flint",), detail=(("laboratory", "Fenlab"),))
    claim = claim_of(ClaimKind.RULED_OUT, 0, "flint")
    first, last = told(claim, Stair(None, of("1/2")), Stair(DAY, of(0), (test,)))
    assert first == "By its own records alone: about 50 in 100."
    assert last.startswith("26 July 2026: ruled out, because this one was DNA-tested")


@pytest.mark.parametrize(
    ("stair", "because"),
    [
        (Stair(DAY, of("2/5"), (UNSEEN,), further=True), "none shows hypo, and other relatives had told more by then."),
        (Stair(DAY, of("2/5"), further=True), "26 July 2026: about 40 in 100, because other relatives had told more"),
        (Stair(DAY, of("2/5")), "because of what is known by now at other genes."),
        (Stair(BEGINNING, of("2/5"), (UNSEEN,)), "By records without a date: about 40 in 100, because of seven"),
    ],
)
def test_what_moved_it(stair, because):
    assert because in told(claim_of(ClaimKind.MAY_CARRY, "2/5"), Stair(None, of("1/2")), stair)[1]


def test_only_what_is_certain_today_is_called_so():
    """What later records undid was taken for granted."""
    first, second, last = told(
        claim_of(ClaimKind.CARRIES, 1), Stair(None, of(0)), Stair(BEGINNING, of(1)), Stair(DAY, of(1))
    )
    assert first.endswith(": we reckoned without it.")
    assert ": we took it as certain, because" in second
    assert ": certain, because" in last


@pytest.mark.parametrize(
    ("kind", "counted"),
    [
        (ClaimKind.ONE_OR_TWO_COPIES, "have two copies"),
        (ClaimKind.TOO_YOUNG, "will show it"),
        (ClaimKind.CARRIES, "have it"),
    ],
)
def test_what_is_counted(kind, counted):
    assert f"such animals {counted}," in stairs_title(claim_of(kind, "1/2"), VOICE)
