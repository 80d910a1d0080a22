"""A litter that was born, beside what was expected of it on the day before.

What was expected rests on the records as they stood on that day (:mod:`sitegen.evidence.arrivals`). Only young that
were judged for all the wanted looks count, and where a sex is wanted only those whose sex is known; the chances are
those of a mixture of binomials among as many.
"""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.projects import Stage
from sitegen.content.species import Species
from sitegen.evidence.arrivals import Arrivals, arrivals_of, evidence_on, family_on
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.judging import age_when_judged, saw_all
from sitegen.evidence.pairings import crosses_of
from sitegen.genetics.counts import Shares, counts, per_young
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId, parents_of
from sitegen.plans.roads.kinds import Counted, LitterResult
from sitegen.plans.roads.wants import Want, loci_of, shares_of

GOAL = "goal"
"""The name of the goal among what is counted."""

_MEMORY = "answers of the day before a litter was born"


def litter_results(
    asked: Asked, species: Species, stage: Stage, wants: Sequence[Want], goal: Want
) -> tuple[LitterResult, ...]:
    """The litters of a stage that were born, oldest first.

    Args:
        asked: Today's evidence and answers.
        species: The species.
        stage: The stage.
        wants: What each of its holdbacks asks for, in their order.
        goal: What the goal is.
    """
    litters = [asked.evidence.collection.litters[key] for key in stage.litters]
    found = []
    for litter in sorted(litters, key=lambda each: (str(each.born or ""), each.id)):
        kinds = [*((each.id, want) for each, want in zip(stage.holdbacks, wants, strict=True)), (GOAL, goal)]
        if litter.born and litter.dam and litter.sires:
            found.append(_result(asked, species, litter, kinds))
    return tuple(found)


def _result(asked: Asked, species: Species, litter: Litter, kinds: Sequence[tuple[str, Want]]) -> LitterResult:
    assert litter.born is not None
    day = litter.born.earliest - dt.timedelta(days=1)
    wanted = loci_of(species.genome, map(_eye, dict(kinds).values()))
    before = asked_on(asked, species.id, day, parents_of(litter), frozenset(wanted))
    counted = []
    for name, want in dict(kinds).items():
        judged = list(_judged(asked.evidence.collection, species.genome, litter, want))
        n_young = sum(count for count, _ in judged)
        came = sum(count for count, fits in judged if fits)
        shares = _shares(before, species, litter, want)
        chances = counts(shares, n_young)
        counted.append(Counted(
            kind=name, looks=want.seen, sex=want.sex.value if want.sex else "", n_young=n_young, came=came,
            expected=n_young * per_young(shares),
            as_few=sum(chances[: came + 1], Fraction(0)), as_many=sum(chances[came:], Fraction(0)),
        ))  # fmt: skip
    return LitterResult(litter.id, day, tuple(counted))


def asked_on(asked: Asked, species: str, day: dt.date, animals: tuple[AnimalId, ...], loci: frozenset[str]) -> Asked:
    """What heredity answered on a day about some animals at some loci of a species; kept for the next who asks.

    Only their families of that day are asked, since nobody else's records bear on them, and only these loci with
    those that are linked to them; all, where a litter of a family has several possible sires, which all loci tell of.
    """
    key = (_MEMORY, species, day, animals, loci)
    if key not in asked.memory:
        arrivals = _arrivals(asked)
        family = family_on(arrivals, day, animals, asked.evidence.young)
        then = evidence_on(arrivals, species, day, family)
        bred: list[Animal | Litter] = [*then.animals.values(), *then.litters.values()]
        in_doubt = any(len(each.sires) > 1 for each in bred)
        asked.memory[key] = ask(gather(then, None if in_doubt else loci))
    found = asked.memory[key]
    assert isinstance(found, Asked)
    return found


def _arrivals(asked: Asked) -> Arrivals:
    """When each record began to count; found once."""
    if Arrivals not in asked.memory:
        asked.memory[Arrivals] = arrivals_of(asked.evidence.collection)
    found = asked.memory[Arrivals]
    assert isinstance(found, Arrivals)
    return found


def _shares(before: Asked, species: Species, litter: Litter, want: Want) -> Shares:
    """Share of the litter's young that look as wanted, by the chance of the parents, as of the day before."""
    loci = loci_of(species.genome, [_eye(want)])
    found: dict[Fraction, Fraction] = {}
    assert litter.dam is not None
    for sire, chance in litter.sires:
        sides = crosses_of(before, litter.dam, sire, loci)
        for share, weight in shares_of(sides, want).items():
            found[share] = found.get(share, Fraction(0)) + chance * weight
    return found


def _eye(want: Want) -> Want:
    """Only what an eye can tell."""
    return replace(want, hidden=(), carries=())


def _judged(collection: Collection, genome: Genome, litter: Litter, want: Want) -> Iterator[tuple[int, bool]]:
    """Young that were judged for a want: how many are alike, and whether they are so."""
    for key in litter.young:
        animal = collection.animals[key]
        ages = ((genes.judged, age_when_judged(collection, animal, genes.judged)) for genes in animal.genes)
        found = [saw_all(genome, judged, age, want.seen, want.barred) for judged, age in ages]
        verdicts = [verdict for verdict in found if verdict is not None]
        if verdicts and (want.sex is None or animal.sex is not Sex.UNKNOWN):
            yield 1, any(verdicts) and want.sex in (None, animal.sex)
    for others in litter.others:
        verdict = saw_all(genome, others.judged, 0, want.seen, want.barred)
        if verdict is not None and (want.sex is None or others.sex is not Sex.UNKNOWN):
            yield others.count, verdict and want.sex in (None, others.sex)
