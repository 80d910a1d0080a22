"""Animals that are too tangled get no number, and everything else is answered."""

import datetime as dt
from functools import partial

from helpers.by_hand import animal, collection, litter, recessive, species

from sitegen.evidence.answers import answers_of, why_all_json
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing
from sitegen.evidence.reasons import reasons
from sitegen.evidence.steps import chain
from sitegen.findings import Kind, Level
from sitegen.words.claims import headline
from sitegen.words.speech import Voice, plain

LIMIT = 20
"""So few table entries that a litter in doubt does not fit."""


def tangled() -> Asked:
    kept = collection(
        species(recessive("amel"), recessive("anery")),
        animal("d", shows="", stated={"amel": "50%"}),
        animal("s", shows="", stated={"amel": "50%"}),
        litter("x", "d", "s", {str(n): {"shows": ""} for n in range(3)}),
        animal("apart", shows="", stated={"amel": "50%"}),
    )
    return ask(gather(kept), LIMIT)


def test_a_knot_is_told_with_its_animals() -> None:
    found = answers_of(tangled())
    assert [knot.loci for knot in found.knots] == [("amel",)]
    assert found.too_tangled[0].kind is Kind.TOO_TANGLED
    assert found.too_tangled[0].level is Level.NOTICE  # one family does not keep the whole site back
    assert "amel" not in found.posteriors["d"]
    assert "amel" in found.posteriors["apart"]
    assert "anery" in found.posteriors["d"]
    assert set(found.knots[0].animals) <= {"d", "s", "x/0", "x/1", "x/2"}
    written = why_all_json(tangled().evidence.collection, found)
    assert written["too_tangled"] == [
        {"species": "snake", "loci": ["amel"], "animals": list(found.knots[0].animals)},
    ]


def test_the_reason_stands_where_the_claim_would() -> None:
    known = tangled()
    kept = known.evidence.collection
    answered = answers_of(known)
    day = dt.date(2026, 10, 1)
    claims = claims_of(kept, answered, partial(reasons, known), day)
    (claim,) = (each for each in claims["d"] if each.locus == "amel")
    told = plain(headline(claim, Voice(kept, answered, day)))
    assert told == "Nothing is claimed about amel: its family is related in too many ways to be worked out exactly."


def test_a_knot_has_neither_reasons_nor_a_chain() -> None:
    known = tangled()
    assert reasons(known, "d", "amel") == ()
    assert chain(known, "d", "amel") == ()
    assert reasons(known, "apart", "amel") != ()


def test_a_pairing_leaves_the_locus_out_and_says_so() -> None:
    found = pairing(tangled(), "d", "s")
    assert found.unanswered == ("amel",)
    assert found.loci == ()
