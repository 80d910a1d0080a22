"""From answers to claims: what may be said of every animal, as data."""

import datetime as dt
from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.evidence.answers import Answers
from sitegen.evidence.basis import Grounding, own_tests
from sitegen.evidence.chains import Chains, ReasonsFor, words_of
from sitegen.evidence.chances import certain_copies, chance_of_allele, chance_of_copies, odds_of
from sitegen.evidence.judging import look_seen, why_unjudged
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Unjudged
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId

_ONE, _NONE = Fraction(1), Fraction(0)
_ORDER = {
    ClaimKind.SHOWS: 0,
    ClaimKind.ONE_OR_TWO_COPIES: 0,
    ClaimKind.CARRIES: 1,
    ClaimKind.MAY_CARRY: 2,
    ClaimKind.TOO_YOUNG: 3,
    ClaimKind.RULED_OUT: 4,
    ClaimKind.NO_CLAIM: 5,
    ClaimKind.NOT_KNOWN: 6,
}


def claims_of(
    collection: Collection, answers: Answers, reasons_for: ReasonsFor, as_of: dt.date
) -> Mapping[AnimalId, tuple[Claim, ...]]:
    """Everything that may be said of every animal, as of a day.

    Of each animal: what it shows, what it carries, what it may carry by falling chance, what it is too
    young for, what is ruled out although it was possible, and where nothing is claimed because the
    records could not be answered. A locus with nothing to say has no claim.

    Args:
        collection: The records.
        answers: What inference has to say of them.
        reasons_for: (animal, locus) to its decisive evidence; asked only where a claim is made.
        as_of: The day of the statement; it decides who is too young to be judged.
    """
    grounding = Grounding(Chains(collection, answers, reasons_for))
    return {animal.id: claims_of_animal(grounding, animal, as_of) for animal in collection.animals.values()}


def claims_of_animal(grounding: Grounding, animal: Animal, as_of: dt.date) -> tuple[Claim, ...]:
    """Everything that may be said of one animal, as of a day; see :func:`claims_of`."""
    return tuple(sorted(_claims(grounding, animal, as_of), key=lambda claim: (_ORDER[claim.kind], -claim.chance)))


def bare_claims_of_animal(chains: Chains, animal: Animal, as_of: dt.date) -> tuple[Claim, ...]:
    """The claims of one animal without what they rest on, in the order of its species' loci."""
    loci = chains.collection.species[animal.species].genome.loci
    return tuple(
        claim
        for locus in loci
        if chains.posterior(animal.id, locus.id)
        for claim in bare_claims(chains, animal, locus, as_of)
    )


def _claims(grounding: Grounding, animal: Animal, as_of: dt.date) -> Iterator[Claim]:
    """The claims of one animal in the order of its species' loci."""
    chains = grounding.chains
    for locus in chains.collection.species[animal.species].genome.loci:
        if chains.posterior(animal.id, locus.id):
            for bare in bare_claims(chains, animal, locus, as_of):
                yield grounding.grounded(bare, locus)
        else:
            yield Claim(
                kind=ClaimKind.NO_CLAIM, animal=animal.id, species=animal.species, locus=locus.id, allele="",
                look=look_seen(animal, locus), chance=_NONE, copies=-1, posterior={},
                basis=Basis.OWN_RECORDS, reasons=(),
            )  # fmt: skip


def bare_claims(chains: Chains, animal: Animal, locus: Locus, as_of: dt.date) -> Iterator[Claim]:
    """The claims at one locus that has an answer, not yet grounded: no reasons, and no basis of its own."""
    posterior = chains.posterior(animal.id, locus.id)
    look = look_seen(animal, locus)
    told: tuple[str, ...] = ()
    if look:
        shown = _shown(chains, animal, locus, look)
        if len(posterior) == 1:
            told = tuple(allele.id for allele in locus.alleles if allele.id in next(iter(posterior)))
        else:
            told = (shown.allele,) if shown.allele else ()
        yield shown
    for allele in locus.alleles:
        if allele.id in told:
            continue
        if odds_of(locus, posterior, allele.id).carrying:
            yield from _unseen(chains, animal, locus, allele.id, as_of, seen=bool(look))
        elif _was_possible(chains, animal, locus, allele.id):
            why = why_unjudged(chains.collection, animal, locus, allele.id, as_of)
            yield _bare(chains, animal, locus, ClaimKind.RULED_OUT, allele.id, chance=_NONE, copies=0, why=why)


def _shown(chains: Chains, animal: Animal, locus: Locus, look: str) -> Claim:
    """The claim for a look that was seen: one genotype, one copy or two, or only the look."""
    posterior = chains.posterior(animal.id, locus.id)
    if len(posterior) == 1:
        genotype = next(iter(posterior))
        named = tuple(dict.fromkeys(a.id for a in locus.alleles if a.id in genotype))
        allele = named[0] if len(named) == 1 else ""
        copies = genotype.count(named[0]) if named else 0
        return _bare(chains, animal, locus, ClaimKind.SHOWS, allele, look=look, copies=copies)
    certain = tuple(a.id for a in locus.alleles if chance_of_allele(posterior, a.id) == 1)
    if not certain:
        return _bare(chains, animal, locus, ClaimKind.SHOWS, look=look)
    (allele,) = certain  # two that are certain would be the whole genotype
    copies = certain_copies(posterior, allele)
    if copies != -1:
        return _bare(chains, animal, locus, ClaimKind.SHOWS, allele, look=look, copies=copies)
    two = chance_of_copies(posterior, allele, 2)
    return _bare(chains, animal, locus, ClaimKind.ONE_OR_TWO_COPIES, allele, look=look, chance=two)


def _unseen(
    chains: Chains, animal: Animal, locus: Locus, allele: str, as_of: dt.date, *, seen: bool
) -> Iterator[Claim]:
    """The claims for an allele that is possible and was not seen."""
    posterior = chains.posterior(animal.id, locus.id)
    odds = odds_of(locus, posterior, allele)
    judged = seen or not odds.showing
    why = (None, "") if judged else why_unjudged(chains.collection, animal, locus, allele, as_of)
    young = why[0] in (Unjudged.TOO_YOUNG, Unjudged.WAS_TOO_YOUNG)
    for kind, chance, holds in (
        (ClaimKind.CARRIES, _ONE, odds.carrying == 1),
        (ClaimKind.TOO_YOUNG, odds.showing, young and odds.showing < 1),
        (ClaimKind.MAY_CARRY, odds.carrying, odds.carrying < 1 and (odds.unseen or not young)),
    ):
        if holds:
            yield _bare(chains, animal, locus, kind, allele, chance=chance, copies=odds.copies, why=why)


def _was_possible(chains: Chains, animal: Animal, locus: Locus, allele: str) -> bool:
    """True when an allele that the animal does not have was stated, tested for, or could have come from a parent."""
    if own_tests(animal, locus.id):
        return True
    stated = [word.odds for word in words_of(animal, locus.id)]
    if any(allele in genotype and odds[genotype] for odds in stated for genotype in odds):
        return True
    parents = chains.parents(animal.id)
    if any(odds_of(locus, chains.posterior(parent, locus.id), allele).carrying for parent in parents):
        return True
    whole = animal.dam is not None and bool(animal.sires)
    background = (g for odds in locus.background.values() for g, chance in odds.items() if chance)
    return not whole and not stated and any(allele in genotype for genotype in background)


def _bare(
    chains: Chains, animal: Animal, locus: Locus, kind: ClaimKind, allele: str = "", *, look: str = "",
    chance: Fraction = _ONE, copies: int = -1, why: tuple[Unjudged | None, str] = (None, ""),
) -> Claim:  # fmt: skip
    """A claim that does not know yet what it rests on; ``why``: not judged by eye, and the look that hides it."""
    unjudged, hidden_by = why
    return Claim(
        kind=kind, animal=animal.id, species=animal.species, locus=locus.id, allele=allele, look=look,
        chance=chance, copies=copies, posterior=chains.posterior(animal.id, locus.id),
        basis=Basis.OWN_RECORDS, reasons=(), unjudged=unjudged, hidden_by=hidden_by,
    )  # fmt: skip
