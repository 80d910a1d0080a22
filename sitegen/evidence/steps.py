"""The chain of evidence behind one answer: what was added, record group by record group, and how the answer moved.

The order is that in which a keeper would tell it: where the animal comes from, what is known of itself, of
its littermates, of its young, then of everything else in the family, then what other loci tell of the sire.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.evidence.asking import Asked
from sitegen.evidence.conflicts import of_family
from sitegen.evidence.gathered import AnyQuestion, Ground, Reason, Source, name_of, questions_of
from sitegen.evidence.nearby import Nearby, nearby
from sitegen.genetics.loci import Genotype
from sitegen.genetics.network import Heredity, answer
from sitegen.genetics.questions import AnimalId, Impossible, LinkedQuestion, Posterior, TooTangled, parents_of


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the chain that ``why`` prints: what was added, what it says as a clause, and how the answer moved.

    ``before`` is empty for the first step.
    """

    reason: Reason
    before: Posterior
    after: Posterior
    says: str = ""


@dataclass(frozen=True, slots=True)
class _Group:
    """Records that are added together: keys of observations and tallies, and what is said of them."""

    reason: Reason
    says: str
    keys: frozenset[str]


def chain(asked: Asked, animal: AnimalId, locus: str) -> tuple[Step, ...]:
    """The steps from nothing to the answer; what moved nothing is left out, but for the first step.

    Empty where there is no answer. The last step's ``after`` is the answer.

    Raises:
        KeyError: There is no such animal, or its species has no such locus.
    """
    final = asked.posterior(animal, locus)
    if not final:
        return ()
    near = nearby(asked, animal, locus)
    alone = of_family(near.group.question, set(near.family(animal)))
    return tuple(_steps(near, alone, animal, final))


def _steps(near: Nearby, alone: AnyQuestion, animal: AnimalId, final: Posterior) -> Iterator[Step]:
    first, *groups = _groups(near, animal)
    keys = first.keys
    before = _posterior(near, alone, animal, keys)
    yield Step(first.reason, {}, before if before is not None else final, first.says)
    if before is None:
        return
    for group in groups:
        keys |= group.keys
        after = _posterior(near, alone, animal, keys)
        if after is not None and after != before:
            yield Step(group.reason, before, after, group.says)
            before = after
    if before != final:
        sires = near.sires(animal)
        places = tuple(near.animal(sire).place for sire in sires)
        yield Step(Reason(Ground.SIRE, sires, "", places), before, final, "what other genes tell of the sires")


def from_parents_alone(near: Nearby, animal: AnimalId) -> Posterior | None:
    """The answer from the animal itself and its ancestors at this locus, all other relatives left out."""
    record = near.animal(animal)
    if record.dam is None or len(record.sires) != 1 or len(near.mode.loci) > 1:
        found = _from(near, (animal,)).of(animal, near.locus.id)
        return None if isinstance(found, Impossible | TooTangled) else found
    parents = record.dam, record.sires[0][0]
    if parents not in near.alone:
        near.alone[parents] = _from(near, parents).pairs(*parents)
    pairs = near.alone[parents]
    if isinstance(pairs, Impossible | TooTangled):
        return None
    of_sex = frozenset(near.of_sex(animal))
    chances: dict[Genotype, Fraction] = {}
    for (dam, sire), chance in pairs.items():
        for state, share in near.transmission.young(dam, sire).items():
            if state in of_sex:
                (genotype,) = near.genotypes([state])
                weight = chance * share * near.weight(near.own(animal), state)
                chances[genotype] = chances.get(genotype, Fraction(0)) + weight
    total = sum(chances.values(), Fraction(0))
    return {genotype: chance / total for genotype, chance in chances.items() if chance} if total else None


def _from(near: Nearby, animals: Sequence[AnimalId]) -> Heredity:
    """What is answered from these animals and their ancestors alone."""
    line = set(animals).union(*(near.ancestors(animal) for animal in animals))
    alone = of_family(near.group.question, line)
    keys = frozenset(seen.key for seen in near.known.question.observations if seen.member in line)
    return _answered(near, alone, animals, keys)


def _posterior(near: Nearby, alone: AnyQuestion, animal: AnimalId, keys: frozenset[str]) -> Posterior | None:
    """The answer from some of the records; None when it cannot be had."""
    found = _answered(near, alone, (animal,), keys).of(animal, near.locus.id)
    return None if isinstance(found, Impossible | TooTangled) else found


def _answered(near: Nearby, alone: AnyQuestion, animals: Sequence[AnimalId], keys: frozenset[str]) -> Heredity:
    """What is answered about some animals from some of the records."""
    spoken = set(animals)
    for question in questions_of(alone):
        spoken.update(seen.member for seen in question.observations if seen.key in keys)
        spoken.update(parent for each in question.tallies if each.key in keys for parent in parents_of(each))
    needed = spoken.union(*(near.ancestors(one) for one in spoken))
    return answer(of_family(alone, needed, keys))


def _groups(near: Nearby, animal: AnimalId) -> list[_Group]:
    """All records of the locus, in the order in which they are added; the first says where it all starts."""
    sources = near.known.sources
    by_animal: dict[AnimalId, list[str]] = {}
    for seen in near.known.question.observations:
        by_animal.setdefault(seen.member, []).append(seen.key)
    tallies = {tally.key: tally for tally in near.known.question.tallies}
    ancestors = near.ancestors(animal)
    descendants = near.descendants(animal)
    siblings = {
        young
        for parent in near.parents(animal)
        for young in near.young(parent)
        if young != animal and young not in descendants and young not in ancestors
    }
    groups = [_start(near, animal, frozenset(key for one in ancestors for key in by_animal.get(one, ())))]
    groups += [_Group(sources[key].reason(), sources[key].says, frozenset([key])) for key in by_animal.get(animal, ())]
    used = {animal, *ancestors}
    bred = {each.id for each in near.asked.evidence.collection.bred_by(animal)}
    for ground, whose in ((Ground.SIBLINGS, siblings), (Ground.YOUNG, set(descendants))):
        parents = set(near.parents(animal)) if ground is Ground.SIBLINGS else {animal}
        for litter in _litters(near, whose, parents):
            if ground is Ground.SIBLINGS and litter in bred:
                continue
            everyone = near.asked.evidence.collection.animals
            members = [one for one in everyone if one in whose and (near.animal(one).litter or one) == litter]
            counted = [key for key, tally in tallies.items() if tally.litter == litter]
            keys = [key for one in members for key in by_animal.get(one, ())] + counted
            with_mates = _mates(near, litter, members) - used
            mates = [key for one in everyone if one in with_mates for key in by_animal.get(one, ())]
            groups.append(_of_litter(near, ground, litter, members, keys, mates))
            used.update(members)
            tallies = {key: tally for key, tally in tallies.items() if key not in counted}
    rest = frozenset([key for one, keys in by_animal.items() if one not in used for key in keys] + list(tallies))
    groups.append(_Group(Reason(Ground.SIBLINGS, ()), "everything else that is known in the family", rest))
    return groups + _linked(near)


def _linked(near: Nearby) -> list[_Group]:
    """All that is known at other genes, where the locus is linked to some."""
    if not isinstance(near.group.question, LinkedQuestion):
        return []
    loci = near.asked.evidence.loci.items()
    keys = frozenset(key for (species, _), known in loci if species == near.known.species for key in known.sources)
    return [_Group(Reason(Ground.SIBLINGS, ()), "what is known at linked genes", keys)]


def _start(near: Nearby, animal: AnimalId, keys: frozenset[str]) -> _Group:
    """Where the chain starts: a founder's odds, or the parents with all that is known of the ancestors."""
    if founder := near.known.founders.get(animal):
        return _Group(founder.reason(), founder.says, keys)
    parents = near.parents(animal)
    record = near.animal(animal)
    sires = " or ".join(name_of(near.animal(sire)) for sire, _ in record.sires)
    names = " and ".join(name for name in (name_of(near.animal(record.dam)) if record.dam else "", sires) if name)
    reason = Reason(
        Ground.DAM if record.dam else Ground.SIRE,
        parents,
        record.litter,
        tuple(near.animal(parent).place for parent in parents),
    )
    return _Group(reason, f"it comes from {names}, and what is known of its ancestors", keys)


def _litters(near: Nearby, animals: set[AnimalId], parents: set[AnimalId]) -> list[str]:
    """The litters of these animals, and those of these parents that only have young that are not listed."""
    records = near.asked.evidence.collection
    found = {near.animal(one).litter or one: None for one in records.animals if one in animals}
    counted = (each for each in records.litters.values() if each.others and not parents.isdisjoint(parents_of(each)))
    return list(found | {litter.id: None for litter in counted})


def _mates(near: Nearby, litter: str, members: Sequence[AnimalId]) -> set[AnimalId]:
    """The parents of a litter and their ancestors: without them its young say little."""
    record = near.asked.evidence.collection.litters.get(litter)
    parents = {parent for one in members for parent in near.parents(one)}.union(parents_of(record) if record else ())
    return parents.union(*(near.ancestors(parent) for parent in parents))


def _of_litter(
    near: Nearby, ground: Ground, litter: str, members: Sequence[AnimalId], keys: Sequence[str], mates: Sequence[str]
) -> _Group:
    sources: list[Source] = [near.known.sources[key] for key in keys]
    places = tuple(dict.fromkeys(source.places[0] for source in sources))
    says = "; ".join(_counted(near, litter, sources))
    record = litter if litter in near.asked.evidence.collection.litters else ""
    reason = Reason(ground, tuple(members[:3]), record, places, (("count", str(len(members))),))
    return _Group(reason, says or f"young of {litter}", frozenset(keys).union(mates))


_SEVERAL = (("does not show ", "do not show "), ("shows ", "show "), ("is ", "are "))


def _counted(near: Nearby, litter: str, sources: Sequence[Source]) -> Iterator[str]:
    """What is said of the young, alike ones together: ``7 young of 2026-fennel-cinnabar do not show hypo``."""
    clauses: dict[str, list[str]] = {}
    for source in sources:
        name = name_of(near.animal(source.animal)) if source.animal else ""
        clauses.setdefault(source.says.removeprefix(f"{name} ") if name else source.says, []).append(name)
    for clause, names in clauses.items():
        if len(names) == 1:
            yield f"{names[0]} {clause}".strip()
            continue
        plural = next(
            (several + clause.removeprefix(one) for one, several in _SEVERAL if clause.startswith(one)), clause
        )
        yield f"{len(names)} young of {litter} {plural}"
