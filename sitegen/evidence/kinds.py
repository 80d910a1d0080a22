"""The kinds of claim and what each holds; see ``sitegen.words.claims`` for the sentences."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.evidence.gathered import Reason
from sitegen.genetics.questions import AnimalId, Posterior


class ClaimKind(StrEnum):
    """What sort of statement a claim is, strongest first."""

    SHOWS = "shows"
    CARRIES = "carries"
    MAY_CARRY = "may carry"
    ONE_OR_TWO_COPIES = "one or two copies"
    TOO_YOUNG = "too young to tell"
    RULED_OUT = "ruled out"
    NOT_KNOWN = "not known"
    NO_CLAIM = "no claim"


class Basis(StrEnum):
    """What a claim rests on in the end."""

    OWN_RECORDS = "our own records"
    DNA_TEST = "DNA test"
    PROVEN_BY_YOUNG = "proven by young"
    PREVIOUS_KEEPER = "a previous keeper's word"


class Unjudged(StrEnum):
    """Why nobody has judged by eye whether an animal shows a locus."""

    TOO_YOUNG = "it is too young"
    WAS_TOO_YOUNG = "it was too young when it was judged"
    HIDDEN = "another look hides it"
    UNSURE = "it was not certain by eye"
    NOT_RECORDED = "nobody wrote down what it shows"


class Judging(StrEnum):
    """How far an animal of which no look is recorded was judged by eye."""

    NOT_DESCRIBED = "nobody wrote down what it shows"
    NOT_JUDGED = "nothing could be judged"
    TOO_YOUNG = "it was too young for everything"
    IN_PART = "some genes were judged"
    WHOLE = "every gene was judged"


@dataclass(frozen=True, slots=True)
class Claim:
    """One statement about one animal at one locus.

    Attributes:
        kind: What sort of statement.
        animal: Whom it is about.
        species, locus: Where.
        allele: The allele meant; empty where the look says it all.
        look: The look that is shown; empty when nothing is shown.
        chance: Of 1 = certain: of carrying (``may carry``), of having two copies (``one or two
            copies``), of showing it later (``too young to tell``); exactly 1 or 0 for the others.
        copies: Copies that are certain: 2, 1 or 0; -1 when not certain.
        posterior: The whole answer.
        basis: What it rests on.
        reasons: Decisive first.
        unjudged: Why the locus was not judged by eye; None when it was.
        hidden_by: The look that hides it, with ``unjudged`` hidden.
        hangs_on: The animals whose previous keeper's word the chance hangs on, nearest first.
        taken_as_one_copy: The animals whose copies are not known and are taken as one, where the
            chance hangs on that, nearest first.
    """

    kind: ClaimKind
    animal: AnimalId
    species: str
    locus: str
    allele: str
    look: str
    chance: Fraction
    copies: int
    posterior: Posterior
    basis: Basis
    reasons: tuple[Reason, ...]
    unjudged: Unjudged | None = None
    hidden_by: str = ""
    hangs_on: tuple[AnimalId, ...] = ()
    taken_as_one_copy: tuple[AnimalId, ...] = ()
