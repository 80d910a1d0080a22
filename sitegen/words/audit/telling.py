"""What a breeder is told of words that say more or less than the evidence."""

from dataclasses import dataclass

from sitegen.evidence.kinds import ClaimKind
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.loci import Inheritance, Locus
from sitegen.words.audit.judging import Judgement, Verdict
from sitegen.words.claims import headline, short_phrase
from sitegen.words.numbers import in_100, trade_shorthand
from sitegen.words.runs import plain
from sitegen.words.voice import Voice, animal_name

_REVIEW = "if the words are right as they stand, give the reason under reviewed"


@dataclass(frozen=True, slots=True)
class Spot:
    """Words of a text: as they stand, and where."""

    words: str
    place: Place
    width: int


def finding_of(judgement: Judgement, spot: Spot, voice: Voice) -> Finding:
    """The finding for words that are not what the evidence says."""
    name = animal_name(voice.collection, judgement.animal)
    message, remedy = _wrong(judgement, spot.words, name, voice)
    more = judgement.verdict is Verdict.MORE
    return Finding(
        Level.ERROR if more else Level.NOTICE,
        Kind.UNDERCLAIM if judgement.verdict is Verdict.LESS else Kind.OVERCLAIM,
        spot.place,
        message,
        expected=f"what the evidence supports: {_supported(judgement, name, voice)}",
        nearest=_nearest(judgement, voice),
        remedy=f"{remedy}; {_REVIEW}",
        width=spot.width,
    )


def name_finding(judgement: Judgement, spot: Spot, voice: Voice) -> Finding:
    """The finding for an animal that is only called as a look is called, and does not show it."""
    name = animal_name(voice.collection, judgement.animal)
    return Finding(
        Level.NOTICE,
        Kind.OVERCLAIM,
        spot.place,
        f'"{spot.words}" is also what a look is called, and {name} is not recorded as showing it; '
        "a page with this title can be taken for a claim",
        expected="a name that is not a look's, or the look under shows if it is seen",
        remedy=f"give another name, or say on its page that it is only a name; {_REVIEW}",
        width=spot.width,
    )


def _wrong(judgement: Judgement, words: str, name: str, voice: Voice) -> tuple[str, str]:
    """What is wrong, and what to do about it."""
    near = _nearest(judgement, voice)
    if judgement.denied and judgement.verdict is Verdict.WORD:
        unknown = f"not known to carry {_gene(judgement, voice)}"
        message = f'"{words}" says more of {name} than is known: nothing hints at it, and nothing rules it out'
        return message, f'write "{unknown}", or record the evidence: a DNA test'
    if judgement.denied:
        found = _gene(judgement, voice)
        message = f'"{words}" is not what the evidence supports: {name} may carry {found}'
        if judgement.chance == 1:
            message = f'"{words}" is not what the evidence supports: {name} has {found}'
        test = ", or record the evidence: a DNA test" if judgement.chance < 1 else ""
        return message, f'write "{near}"{test}' if near else "take the words out"
    write = f'write "{near}"' if near else "take the words out"
    match judgement.verdict:
        case Verdict.LESS:
            return f'"{words}" says less of {name} than the evidence supports', f"{write}, or leave the number out"
        case Verdict.WORD:
            message = f'"{words}" leaves out that this is a previous keeper\'s word and nothing of our own proves it'
            return message, f"{write}, or record the evidence: a DNA test, or young that prove it"
    if judgement.look:
        remedy = f"{write}, or record the evidence: add it under shows if it is seen"
        return f'"{words}" says more of {name} than the evidence supports', remedy
    remedy = f"{write}, or record the evidence: a DNA test, young that prove it, or what was stated of a founder"
    return f'"{words}" says more of {name} than the evidence supports', remedy


def _locus(judgement: Judgement, voice: Voice) -> Locus | None:
    genome = voice.species(voice.collection.animals[judgement.animal].species).genome
    return genome.locus(judgement.locus) if judgement.locus else None


def _gene(judgement: Judgement, voice: Voice) -> str:
    """The name of the gene or look that is claimed."""
    locus = _locus(judgement, voice)
    if locus is None:
        return "any hidden gene"
    if judgement.look:
        return locus.look(judgement.look).name
    return locus.allele(judgement.allele).name


def _supported(judgement: Judgement, name: str, voice: Voice) -> str:
    """The sentence that the site itself makes of the evidence."""
    claim = judgement.claim
    told = plain(headline(claim, voice)) if claim else ""
    locus = _locus(judgement, voice)
    about_it = claim is not None and (judgement.look or claim.allele == judgement.allele)
    if told and (about_it or (claim is not None and claim.kind is ClaimKind.SHOWS)):
        return f"“{told}”"
    if judgement.look and locus is not None:
        return f"{name} is not recorded as showing {_gene(judgement, voice)}"
    if not judgement.chance:
        return f"{name} is not known to carry {_gene(judgement, voice)}"
    return f"{in_100(judgement.chance)} animals like {name} have {_gene(judgement, voice)}"


def _nearest(judgement: Judgement, voice: Voice) -> str:
    """The words that would be right, in the trade's shorthand where there is one."""
    claim, locus = judgement.claim, _locus(judgement, voice)
    if locus is None or judgement.look or not judgement.chance:
        return ""
    allele = locus.allele(judgement.allele)
    phrase = plain(short_phrase(claim, voice)) if claim and claim.allele in ("", allele.id) else ""
    hidden = claim is not None and claim.kind in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY)
    if judgement.verdict is Verdict.WORD or judgement.chance == 1:
        return phrase
    short = trade_shorthand(judgement.chance, allele) if hidden and not claim_unjudged(judgement) else ""
    if short and allele.inheritance is Inheritance.RECESSIVE:
        return f"{short} {allele.name}"
    return phrase


def claim_unjudged(judgement: Judgement) -> bool:
    """True when nobody could judge by eye whether the animal shows the gene; the trade's shorthand would hide that."""
    return judgement.claim is not None and judgement.claim.unjudged is not None


def promise_finding(spot: Spot) -> Finding:
    """The finding for a promise that names no gene."""
    return Finding(
        Level.NOTICE,
        Kind.PROMISE,
        spot.place,
        f'"{spot.words}" promises more than records can',
        expected="what was seen, tested or recorded; the pages say how sure each gene is",
        remedy=f"say what the evidence is instead of promising; {_REVIEW}",
        width=spot.width,
    )
