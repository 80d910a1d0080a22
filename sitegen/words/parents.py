"""What the parents are, as the reason of a claim about their young."""

from collections.abc import Mapping, Sequence
from enum import Enum
from fractions import Fraction

from sitegen.evidence.chances import chance_of_allele, chance_of_showing
from sitegen.evidence.kinds import Claim
from sitegen.evidence.known import Ground, Reason
from sitegen.genetics.loci import WILD
from sitegen.genetics.questions import AnimalId
from sitegen.words.numbers import in_100
from sitegen.words.runs import Sentence
from sitegen.words.speech import _, capitalised, listed, said
from sitegen.words.voice import Voice


class _State(Enum):
    """What a parent is at the locus of a claim."""

    SHOWS = 1
    CERTAIN = 2
    SAID_TO = 3
    MAY_HAVE = 4
    MAY_CARRY = 5
    NOT_KNOWN = 6


def parents_sentence(reasons: Sequence[Reason], claim: Claim, voice: Voice) -> Sentence:
    """What the parents of the animal are: together when they are alike, else one after the other.

    Args:
        reasons: Those that rest on the dam or a sire; each parent is told once.
        claim: The claim that they explain.
        voice: Who speaks.
    """
    dams = dict.fromkeys(a for reason in reasons if reason.ground is Ground.DAM for a in reason.animals)
    sires = dict.fromkeys(a for reason in reasons if reason.ground is Ground.SIRE for a in reason.animals)
    chances = sire_chances(claim.animal, voice)
    parents = [*dams, *(sire for sire in sires if chances.get(sire, 1))]
    if not parents:
        return said(_("It follows from its parents."))
    names = listed([voice.animal(parent) for parent in parents])
    if not claim.allele:
        return said(_("It has what it shows from {names}."), names=names)
    states = [_state(parent, claim, voice) for parent in parents]
    both = _both(states[0]) if dams and len(parents) == 2 and states[0] == states[1] else ""
    if both:
        return said(both, names=names)
    parts = [
        said(
            _role(parent, parent in dams, chances), name=voice.animal(parent), state=_words(state, parent, claim, voice)
        )
        for parent, state in zip(parents, states, strict=True)
    ]
    if chances:
        parts = [part if rank == 0 else said("; {part}", part=part) for rank, part in enumerate(parts)]
        return capitalised(said("{parts}.", parts=tuple(run for part in parts for run in part)))
    return capitalised(said("{parts}.", parts=listed(parts)))


def sire_chances(animal: AnimalId, voice: Voice) -> Mapping[AnimalId, Fraction]:
    """The possible sires of an animal with their chances given all evidence; empty where there is only one."""
    record = voice.collection.animals[animal]
    if len(record.sires) < 2:
        return {}
    key = record.litter if record.litter and not record.each_its_own_sire else animal
    return voice.answers.sires.get(key, dict(record.sires))


def _role(parent: AnimalId, is_dam: bool, chances: Mapping[AnimalId, Fraction]) -> str:
    """Dam, sire, or possible sire with its chance, as a template for name and state."""
    if is_dam:
        return _("its dam {name} {state}")
    if chances.get(parent, 1) == 1:
        return _("its sire {name} {state}")
    return _("{name}, its sire with a chance of {chance}, {state}").replace("{chance}", in_100(chances[parent]))


def _both(state: _State) -> str:
    """What is said of both parents at once; empty where each has a chance of its own."""
    match state:
        case _State.SHOWS:
            return _("Both parents show it: {names}.")
        case _State.CERTAIN:
            return _("Both parents carry it for certain: {names}.")
        case _State.SAID_TO:
            return _("Both parents are said to carry it: {names}.")
        case _:
            return ""


def _state(parent: AnimalId, claim: Claim, voice: Voice) -> _State:
    """What a parent is."""
    posterior = voice.posterior(parent, claim.locus)
    locus = voice.locus(claim)
    chance = chance_of_allele(posterior, claim.allele)
    if chance == 1:
        looks = {locus.shown.get(genotype) for genotype in posterior}
        record = voice.collection.animals[parent]
        if any(seen.look in looks for genes in record.genes for seen in genes.judged.seen):
            return _State.SHOWS
        return _State.SAID_TO if parent in claim.hangs_on else _State.CERTAIN
    if chance == 0:
        return _State.NOT_KNOWN
    visible = (WILD, claim.allele) in locus.shown
    return _State.MAY_HAVE if visible or chance_of_showing(locus, posterior, claim.allele) else _State.MAY_CARRY


def _words(state: _State, parent: AnimalId, claim: Claim, voice: Voice) -> str:
    """What a parent is, in words."""
    match state:
        case _State.SHOWS:
            return _("shows it")
        case _State.CERTAIN:
            return _("carries it for certain")
        case _State.SAID_TO:
            return _("is said to carry it")
        case _State.NOT_KNOWN:
            return _("is not known to carry it")
        case _State.MAY_HAVE:
            words = _("may have it ({chance})")
        case _State.MAY_CARRY:
            words = _("may carry it ({chance})")
    return words.format(chance=in_100(chance_of_allele(voice.posterior(parent, claim.locus), claim.allele)))
