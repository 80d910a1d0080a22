"""How well each litter fits its parents: how often such parents would have young as uneven as these.

Nothing has to contradict anything for a litter to be next to impossible: twenty visual sons of twenty, of a dam that
can only be a carrier. The measure is the exact two-sided binomial tail of each look against all others, mixed over what
the parents may be given all evidence; listed and counted young count alike.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.litters import Litter
from sitegen.evidence.asking import Asked
from sitegen.evidence.gathered import Ground, LocusEvidence, Odds
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.counts import as_uneven, per_young
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.network import Heredity
from sitegen.genetics.observations import looks_of, when_not_seen, when_seen
from sitegen.genetics.questions import Impossible, Member, Tally, TooTangled
from sitegen.genetics.transmission import Transmission

TOLD_BELOW = Fraction(1, 10_000)

_NONE = Fraction(0)
Pairs = Mapping[tuple[StateNumber, StateNumber], Fraction]


@dataclass(frozen=True, slots=True)
class Uneven:
    """One look among the young of one litter that were judged at a locus.

    Attributes:
        look: Its id; empty for young that show nothing of the locus.
        sex: Of the young that are counted, where the sexes are counted apart.
        count, n_young: So many of so many look so.
        usual: So many would on average.
        tail: How often such parents have young as uneven as these.
    """

    litter: Litter
    locus: Locus
    look: str
    sex: Sex
    count: int
    n_young: int
    usual: Fraction
    tail: Fraction


def uneven_litters(asked: Asked) -> tuple[Finding, ...]:
    """A notice for each litter and locus that fits its parents badly, unless its record says ``confirmed``."""
    worst = [uneven for litter in asked.evidence.collection.litters.values() for uneven in _worst(asked, litter)]
    return tuple(_finding(each) for each in worst if each.tail < TOLD_BELOW and not each.litter.confirmed)


def _worst(asked: Asked, litter: Litter) -> Iterator[Uneven]:
    """The look that fits worst, for each locus at which young were judged."""
    for unit, heredity in asked.of_species(litter.species):
        transmission = asked.transmissions[asked.by_locus[unit.species, unit.loci[0]]]
        pairs: Pairs | None = None
        for place, locus in enumerate(heredity.mode.loci):
            seen = _judged(asked.evidence.loci[unit.species, locus.id], litter, heredity)
            if seen and pairs is None:
                pairs = _pairs(heredity, litter)
            found: list[Uneven] = []
            for sex, counts in seen.items() if pairs else ():
                found += _fits(litter, transmission, pairs or {}, place, sex, counts)
            if found:
                yield min(found, key=lambda each: each.tail)


def _judged(at: LocusEvidence, litter: Litter, heredity: Heredity) -> dict[Sex, Counter[str]]:
    """How many young of each look; by sex where that is part of heredity. Young judged in part are left out."""
    locus = at.question.locus
    classes: list[tuple[str, Odds]] = [(look.id, when_seen(locus, [look.id])) for look in locus.looks]
    classes.append(("", when_not_seen(locus)))

    def look_of(likelihood: Odds) -> str | None:
        return next((look for look, likely in classes if likely == likelihood), None)

    found: dict[Sex, Counter[str]] = {}
    for young in litter.young:
        said = at.said[young]
        judged = [
            look_of(seen.likelihood)
            for seen, source in zip(said.observations, said.sources, strict=True)
            if source.ground in (Ground.SHOWS_ITSELF, Ground.SHOWS_NOT)
        ]
        looks = [look for look in judged if look is not None]
        if looks:
            sex = heredity.sex_of(young) if heredity.mode.has_sex else Sex.UNKNOWN
            found.setdefault(sex, Counter())[max(looks)] += 1  # a look that was seen later counts
    for tally in at.question.tallies:
        look = look_of(tally.likelihood) if tally.litter == litter.id else None
        if look is not None:
            sex = tally.sex if heredity.mode.has_sex else Sex.UNKNOWN
            found.setdefault(sex, Counter())[look] += tally.count
    return found


def _pairs(heredity: Heredity, litter: Litter) -> Pairs:
    """Joint posterior of dam and sire; empty where one is nobody's record, or each young may have a sire of its own."""
    part, network = heredity.solved.parts[heredity.number], heredity.solved.network
    young: list[Member | Tally] = [part.members[part.pedigree.position[each]] for each in litter.young[:1]]
    bred = [*young, *(each.tally for each in part.unlisted if each.tally.litter == litter.id)][0]
    choice, _ = network.choices.get(("litter", litter.id), (None, ()))
    if not bred.dam or not bred.sires or (len(bred.sires) > 1 and choice is None):
        return {}
    found: dict[tuple[StateNumber, StateNumber], Fraction] = {}
    for rank, (sire, _) in enumerate(bred.sires):
        weights = heredity.weights_with([bred.dam, sire], () if choice is None else (choice,))
        if isinstance(weights, Impossible | TooTangled):
            return {}
        total = sum(weights.values())
        for ((dam_state, sire_state), chosen), weight in weights.items():
            if weight and chosen in ((), (rank,)):
                pair = dam_state, sire_state
                found[pair] = found.get(pair, _NONE) + Fraction(weight, total)
    return found


def _fits(
    litter: Litter, transmission: Transmission, pairs: Pairs, place: int, sex: Sex, counts: Counter[str]
) -> Iterator[Uneven]:
    """Each look of the locus against all others, among young that were judged."""
    mode, n_young = transmission.mode, counts.total()
    locus = mode.loci[place]
    mixture: dict[str, dict[Fraction, Fraction]] = {look: {} for look in (*(look.id for look in locus.looks), "")}
    for pair, chance in pairs.items():
        shares = dict.fromkeys(mixture, _NONE)
        for state, share in transmission.young(*pair).items():
            if sex in (Sex.UNKNOWN, mode.states[state].sex):
                for look, part in looks_of(locus, mode.genotypes[state][place]).items():
                    shares[look] += share * part
        whole = sum(shares.values())
        for look, share in shares.items() if whole else ():
            mixed = mixture[look]
            mixed[share / whole] = mixed.get(share / whole, _NONE) + chance
    for look, mixed in mixture.items():
        tail = sum((chance * as_uneven(share, n_young, counts[look]) for share, chance in mixed.items()), _NONE)
        usual = n_young * per_young(mixed)
        yield Uneven(litter, locus, look, sex, counts[look], n_young, usual, tail)


def _finding(uneven: Uneven) -> Finding:
    locus, n_young = uneven.locus, uneven.n_young
    who = {Sex.FEMALE: "daughters", Sex.MALE: "sons"}.get(uneven.sex, "young")
    looks = locus.look(uneven.look).name if uneven.look else f"nothing of {locus.id}"
    return Finding(
        Level.NOTICE,
        Kind.LITTER_UNEVEN,
        uneven.litter.place,
        f"{uneven.count} of {n_young} {who} that were judged in {uneven.litter.id} show {looks}; such parents have "
        f"young as uneven as this in fewer than 1 of 10,000 litters",
        expected=f"about {float(uneven.usual):.3g} of {n_young}",
        remedy=f"look again at the parents, at how {locus.id} is inherited, whether the young were old enough to be "
        "judged, and whether all were written down; if all is right it was luck: write confirmed: true",
    )
