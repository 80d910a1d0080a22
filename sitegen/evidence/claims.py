"""From answers to claims: what may be said of every animal, as data."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.evidence.answers import Answers
from sitegen.evidence.chains import Chains, ChainsAt, ReasonsFor, chains_of
from sitegen.evidence.conditions import condition_of
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Evidence, Ground, own_tests, words_of
from sitegen.evidence.judging import look_seen, why_unjudged
from sitegen.evidence.kinds import (
    Basis,
    Claim,
    ClaimKind,
    Unjudged,
    certain_copies,
    chance_of_allele,
    chance_of_copies,
    chance_of_showing,
    chance_that,
)
from sitegen.genetics.loci import Genotype, Locus
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.questions import AnimalId, Posterior, parents_of
from sitegen.lazily import Lazily

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
    """Everything that may be said of every animal, as of a day, made when it is asked for; :func:`claims_of_animal`.

    ``reasons_for`` is asked only where a claim is made; ``as_of`` decides who is too young to be judged.
    """
    return claims_from(gather(collection), answers, reasons_for, as_of)


def claims_from(
    evidence: Evidence, answers: Answers, reasons_for: ReasonsFor, as_of: dt.date
) -> Mapping[AnimalId, tuple[Claim, ...]]:
    """The same, from evidence that was gathered already."""
    chains, animals = chains_of(evidence, answers, reasons_for), evidence.collection.animals
    return Lazily(animals, lambda animal: claims_of_animal(chains, animals[animal], as_of))


def claims_of_animal(chains: ChainsAt, animal: Animal, as_of: dt.date) -> tuple[Claim, ...]:
    """Everything that may be said of one animal, as of a day.

    What it shows, what it carries, what it may carry by falling chance, what it is too young for, what is ruled out
    although it was possible, and where nothing is claimed because the records could not be answered. A locus with
    nothing to say has no claim.
    """
    own = (at for (species, _), at in chains.items() if species == animal.species)
    found = [claim for at in own for claim in _claims_at(at, animal, as_of)]
    return tuple(sorted(found, key=lambda claim: (_ORDER[claim.kind], -claim.chance)))


def _claims_at(chains: Chains, animal: Animal, as_of: dt.date) -> Iterator[Claim]:
    """The claims of one animal at one locus; that there is none where there is no answer."""
    collection, locus = chains.evidence.collection, chains.locus
    if animal.id not in chains.posteriors:
        bare = _Subject(collection, animal, locus, {}, as_of)
        yield bare.claim(ClaimKind.NO_CLAIM, look=look_seen(animal, locus), chance=_NONE)
        return
    for claim in bare_claims(collection, animal, locus, chains.posteriors, as_of):
        proven = _proven(chains, grounded(chains, claim))
        if proven is not None:
            yield proven


def bare_claims(
    collection: Collection, animal: Animal, locus: Locus, posteriors: Mapping[AnimalId, Posterior], as_of: dt.date
) -> Iterator[Claim]:
    """The claims at one locus that has an answer, not yet grounded: no reasons, and no basis of its own.

    ``posteriors`` are those of the animal and its parents at least.
    """
    subject = _Subject(collection, animal, locus, posteriors[animal.id], as_of)
    told: tuple[str, ...] = ()
    look = look_seen(animal, locus)
    if look:
        shown = subject.shown(look)
        held = tuple(allele.id for allele in locus.alleles if allele.id in next(iter(subject.posterior)))
        told = held if len(subject.posterior) == 1 else (shown.allele,)
        yield shown
    for allele in locus.alleles:
        if allele.id in told:
            continue
        if chance_of_allele(subject.posterior, allele.id):
            yield from subject.unseen(allele.id, judged=bool(look))
        elif _was_possible(animal, locus, allele.id, [posteriors.get(parent, {}) for parent in parents_of(animal)]):
            yield subject.claim(ClaimKind.RULED_OUT, allele.id, chance=_NONE, copies=0, why=subject.unjudged(allele.id))


@dataclass(frozen=True, slots=True)
class _Subject:
    """Of whom something is claimed, at which locus, by which answer."""

    collection: Collection
    animal: Animal
    locus: Locus
    posterior: Posterior
    as_of: dt.date

    def shown(self, look: str) -> Claim:
        """The claim for a look that was seen: one genotype, one copy or two, or only the look."""
        posterior = self.posterior
        if len(posterior) == 1:
            genotype = next(iter(posterior))
            named = tuple(dict.fromkeys(a.id for a in self.locus.alleles if a.id in genotype))
            allele = named[0] if len(named) == 1 else ""
            return self.claim(ClaimKind.SHOWS, allele, look=look, copies=genotype.count(named[0]) if named else 0)
        certain = tuple(a.id for a in self.locus.alleles if chance_of_allele(posterior, a.id) == 1)
        if not certain:
            return self.claim(ClaimKind.SHOWS, look=look)
        (allele,) = certain  # two that are certain would be the whole genotype
        copies = certain_copies(posterior, allele)
        if copies != -1:
            return self.claim(ClaimKind.SHOWS, allele, look=look, copies=copies)
        two = chance_of_copies(posterior, allele, 2)
        return self.claim(ClaimKind.ONE_OR_TWO_COPIES, allele, look=look, chance=two)

    def unseen(self, allele: str, *, judged: bool) -> Iterator[Claim]:
        """The claims for an allele that is possible and was not seen."""
        carrying = chance_of_allele(self.posterior, allele)
        showing = chance_of_showing(self.locus, self.posterior, allele)
        why = (None, "") if judged or not showing else self.unjudged(allele)
        young = why[0] in (Unjudged.TOO_YOUNG, Unjudged.WAS_TOO_YOUNG)
        hidden = chance_that(self.posterior, lambda pair: allele in pair and pair not in self.locus.shown)
        for kind, chance, holds in (
            (ClaimKind.CARRIES, _ONE, carrying == 1),
            (ClaimKind.TOO_YOUNG, showing, young and showing < 1),
            (ClaimKind.MAY_CARRY, carrying, carrying < 1 and (hidden or not young)),
        ):
            if holds:
                copies = certain_copies(self.posterior, allele)
                yield self.claim(kind, allele, chance=chance, copies=copies, why=why)

    def unjudged(self, allele: str) -> tuple[Unjudged | None, str]:
        """Why an allele was not judged by eye, and the look that hides it."""
        return why_unjudged(self.collection, self.animal, self.locus, allele, self.as_of)

    def claim(
        self, kind: ClaimKind, allele: str = "", *, look: str = "", chance: Fraction = _ONE, copies: int = -1,
        why: tuple[Unjudged | None, str] = (None, ""),
    ) -> Claim:  # fmt: skip
        """A claim that does not know yet what it rests on; ``why`` as in :meth:`unjudged`."""
        return Claim(
            kind=kind, animal=self.animal.id, species=self.animal.species, locus=self.locus.id, allele=allele,
            look=look, chance=chance, copies=copies, posterior=self.posterior,
            basis=Basis.OWN_RECORDS, reasons=(), unjudged=why[0], hidden_by=why[1],
        )  # fmt: skip


def _was_possible(animal: Animal, locus: Locus, allele: str, parents: Sequence[Posterior]) -> bool:
    """True when an allele that the animal does not have was stated, tested for, or could have come from a parent."""
    if own_tests(animal, locus.id):
        return True
    stated = [word.odds for word in words_of(animal, locus.id)]
    if any(allele in genotype and odds[genotype] for odds in stated for genotype in odds):
        return True
    if any(chance_of_allele(posterior, allele) for posterior in parents):
        return True
    whole = animal.dam is not None and bool(animal.sires)
    background = (g for odds in locus.background.values() for g, chance in odds.items() if chance)
    return not whole and not stated and any(allele in genotype for genotype in background)


def _proven(chains: Chains, claim: Claim) -> Claim | None:
    """The claim as far as records prove it, with the condition on which the rest hangs.

    None where it is ruled out only by what is taken for granted: then nothing is claimed.
    """
    allele, left = claim.allele, _left(chains, claim.animal)
    if claim.kind is ClaimKind.RULED_OUT:
        return None if any(allele in genotype for genotype in left) else claim
    whole = next(iter(claim.posterior)) if claim.kind is ClaimKind.SHOWS and len(claim.posterior) == 1 else None
    copies, proven = claim.copies, certain_copies(left, allele) if allele else -1
    claim = replace(claim, copies=proven, either=_either(chains, claim), strained=claim.animal in chains.strained)
    if claim.kind is not ClaimKind.SHOWS:
        claim = replace(claim, surprise=chains.surprised.get(claim.animal))
    if whole is not None:
        if left == {whole}:
            return replace(claim, copies=copies)
        if claim.taken_as_one_copy == (claim.animal,):
            return claim
        return replace(claim, condition=condition_of(chains, claim, whole.__eq__, of_copies=True))
    if claim.kind is ClaimKind.CARRIES and any(allele not in genotype for genotype in left):
        condition = condition_of(chains, claim, lambda genotype: allele in genotype, of_copies=False)
        basis = claim.basis if claim.basis is Basis.PREVIOUS_KEEPER else Basis.TAKEN_FOR_GRANTED
        return replace(claim, basis=basis, condition=condition)
    if copies > 0 and proven == -1 and claim.kind in (ClaimKind.SHOWS, ClaimKind.CARRIES):
        same = condition_of(chains, claim, lambda genotype: genotype.count(allele) == copies, of_copies=True)
        return replace(claim, condition=same)
    return claim


def _left(chains: Chains, animal: AnimalId) -> frozenset[Genotype]:
    """What no record rules out; where that could not be asked, all that the animal's own records leave."""
    if animal in chains.possible:
        return chains.possible[animal]
    own = [seen.likelihood for seen in chains.known.said[animal].observations]
    fitting = (pair for pair in all_genotypes(chains.locus) if all(seen.get(pair) for seen in own))
    return frozenset(fitting).union(chains.posterior(animal))


def _either(chains: Chains, claim: Claim) -> tuple[AnimalId, AnimalId] | None:
    """The mate and the young, where the young has for certain what the animal or the mate must have passed on."""

    def has(animal: AnimalId, every: bool) -> bool:
        return (all if every else any)(claim.allele in genotype for genotype in _left(chains, animal))

    if claim.kind not in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY) or has(claim.animal, every=True):
        return None
    for young in chains.evidence.young.get(claim.animal, ()):
        record = chains.animal(young)
        mates = [each for each in parents_of(record) if each != claim.animal]
        if len(record.sires) < 2 and has(young, every=True) and not any(has(mate, every=True) for mate in mates):
            return next(iter(mates), ""), young
    return None


_CERTAIN = (ClaimKind.CARRIES, ClaimKind.RULED_OUT)


def grounded(chains: Chains, claim: Claim) -> Claim:
    """A bare claim with what it rests on."""
    basis, words = basis_of(chains, claim.animal, claim.allele, claim.kind)
    taken = () if claim.kind in _CERTAIN else one_copy_taken(chains, claim.animal, claim.allele)
    return replace(claim, basis=basis, reasons=chains.reasons(claim.animal), hangs_on=words, taken_as_one_copy=taken)


def basis_of(chains: Chains, animal: AnimalId, allele: str, kind: ClaimKind) -> tuple[Basis, tuple[AnimalId, ...]]:
    """What a claim rests on, and the animals whose previous keeper's word it hangs on.

    What is ruled out stays so whatever chance was stated of a parent. A certain carrier whose number of copies
    hangs on somebody's word has a basis of its own and yet such animals.
    """
    if kind is ClaimKind.SHOWS:
        return Basis.OWN_RECORDS, ()
    certain = kind in _CERTAIN
    tested = bool(own_tests(chains.animal(animal), chains.locus.id))
    first = chains.first_ground(animal)
    if certain and tested and first in (Ground.DNA_TEST, Ground.SHOWS_NOT, None):
        return Basis.DNA_TEST, ()
    if kind is ClaimKind.RULED_OUT:
        alone = first is Ground.STATED and animal in chains.spoken_of
        return (Basis.PREVIOUS_KEEPER, (animal,)) if alone else (Basis.OWN_RECORDS, ())
    words = keepers_words(chains, animal, allele, certain=certain)
    if words:
        return Basis.PREVIOUS_KEEPER, words
    if kind is ClaimKind.CARRIES and certain_copies(chains.posterior(animal), allele) == -1:
        words = keepers_words(chains, animal, allele, certain=False)
    if certain and first is Ground.YOUNG:
        return Basis.PROVEN_BY_YOUNG, words
    return (Basis.DNA_TEST if tested else Basis.OWN_RECORDS), words


def keepers_words(chains: Chains, animal: AnimalId, allele: str, *, certain: bool) -> tuple[AnimalId, ...]:
    """The animals whose stated odds the answer hangs on, through any number of generations, nearest first.

    ``certain`` asks what makes it certain that the animal has the allele or not, else what the odds hang on.
    """
    if not chains.spoken_of:
        return ()
    if certain:
        return tuple(each for each in chains.certain(animal, allele) if each in chains.spoken_of)
    itself = (animal,) if animal in chains.spoken_of else ()  # what was stated of it counts also where it is settled
    return chains.bearing_on(animal, (*itself, *chains.in_doubt()))


def one_copy_taken(chains: Chains, animal: AnimalId, allele: str) -> tuple[AnimalId, ...]:
    """The animals taken as having one copy of an allele that the answer for one animal hangs on, nearest first."""
    taken = chains.taken_as_one_copy.get(allele, ())
    if len(chains.posterior(animal)) == 1:
        return (animal,) if animal in taken else ()
    return chains.bearing_on(animal, taken, frozenset(taken))
