"""How a claim's chance came about, as a picture of steps with a sentence for each."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.evidence.kinds import Claim
from sitegen.evidence.staircase import Stair, chance_of, staircase
from sitegen.genetics.questions import parents_of
from sitegen.site.material import Folio
from sitegen.site.parts import Picture, Staircase, StairView
from sitegen.site.plates import animal_picture, lead_photo, litter_plate
from sitegen.words.changes import changes_note, is_worth_telling
from sitegen.words.numbers import Edge, about_in_100
from sitegen.words.staircase import stair_sentences, stairs_title

_MOST_PICTURES = 2
_EDGES = {Edge.FEWER_THAN_1: (1, "<1"), Edge.MORE_THAN_99: (99, ">99")}


def claim_stairs(claim: Claim, folio: Folio) -> Staircase | None:
    """The steps to a claim's chance; None where it has fewer than two, or no history is at hand."""
    replay, locus = folio.material.replays.get(claim.animal), folio.voice.locus(claim)
    steps = staircase(claim, locus, replay, is_worth_telling) if replay else ()
    if not steps:
        return None
    sentences = stair_sentences(claim, steps, folio.voice)
    views = tuple(
        StairView(
            folio.line(sentence), _pictures(stair, claim, folio), *_height(chance_of(claim, locus, stair.posterior))
        )
        for stair, sentence in zip(steps, sentences, strict=True)
    )
    return Staircase(stairs_title(claim, folio.voice), views, changes_note())


def _height(chance: Fraction) -> tuple[int, str]:
    """A chance in whole hundredths, and as it stands in the picture; never none or all unless it is."""
    count = about_in_100(chance)
    return _EDGES[count] if isinstance(count, Edge) else (count, str(count))


def _pictures(stair: Stair, claim: Claim, folio: Folio) -> tuple[Picture, ...]:
    """Those whose records were added, as far as there are pictures of them: the parents, or the first of the others."""
    found = dict.fromkeys(_who(stair, claim, folio))
    return tuple(found)[:_MOST_PICTURES]


def _who(stair: Stair, claim: Claim, folio: Folio) -> Iterator[Picture]:
    animals, litters = folio.collection.animals, folio.collection.litters
    names = [name for reason in stair.because for name in reason.animals]
    for name in names if stair.day else parents_of(animals[claim.animal]):
        if name != claim.animal and (photo := lead_photo(animals[name].photos, folio)):
            yield animal_picture(photo, animals[name], folio)
    for reason in stair.because:
        litter = litters.get(reason.litter)
        if (
            litter
            and (photo := lead_photo(litter.photos, folio))
            and (shown := litter_plate(photo, litter, folio).picture)
        ):
            yield shown
