"""What decides an answer: for one animal at one locus, the evidence that could not be left out, decisive first.

Only the animal's own evidence and that of its nearest relatives is named; a relative has reasons of its own, and
whoever wants the whole chain asks for those. Certainty is given its proof: a parent that passes the allele on in any
case, a young that has it from nowhere else, a test; where none of these explains it, a smallest set of records that
cannot be true together with the contrary.
"""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.evidence.asking import Asked
from sitegen.evidence.conflicts import Removable, clashing
from sitegen.evidence.gathered import Ground, Reason, Source
from sitegen.evidence.nearby import Nearby, nearby
from sitegen.evidence.steps import from_parents_alone
from sitegen.findings import Place
from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.observations import all_genotypes, background
from sitegen.genetics.questions import AnimalId, Observation, Tally

_SAID = (Ground.STATED, Ground.BACKGROUND, Ground.NOTHING_STATED)
"""What rests on somebody's word, or on nobody's."""
_SEEN = (Ground.SHOWS_ITSELF, Ground.DNA_TEST)
"""What was found in the animal itself, the stronger first."""
_NAMED = 3
"""Relatives that are named one by one; more are told as a number."""


def reasons(asked: Asked, animal: AnimalId, locus: str) -> tuple[Reason, ...]:
    """The decisive evidence behind the answer, decisive first; empty where there is no answer.

    Raises:
        KeyError: There is no such animal, or its species has no such locus.
    """
    near = nearby(asked, animal, locus)
    if not near.states(animal):
        return ()
    return _once(_reasons(near, animal))


def _reasons(near: Nearby, animal: AnimalId) -> list[Reason]:
    genotypes = frozenset(near.genotypes(near.states(animal)))
    found = _shown(near, animal)
    if found and len(genotypes) == 1 and _look_tells_all(near, animal):
        return found
    tests = _tests(near, animal)
    found += tests
    if tests and len(genotypes) == 1:
        return found
    if not _alleles(near, genotypes):
        return [*found, *_without(near, animal)]
    if founder := near.known.founders.get(animal):
        return [*found, *_of_founder(near, animal, genotypes, founder.reason())]
    return [*found, *_of_descent(near, animal, genotypes)]


def _once(found: Sequence[Reason]) -> tuple[Reason, ...]:
    """Each reason once, and one for each parent: the first."""
    kept: list[Reason] = []
    for reason in found:
        parent = reason.ground in (Ground.DAM, Ground.SIRE)
        if not any(other.ground is reason.ground and (parent or other == reason) for other in kept):
            kept.append(reason)
    return tuple(kept)


def _alleles(near: Nearby, genotypes: Iterable[Genotype]) -> tuple[str, ...]:
    """The named alleles in any of the genotypes, in the order of the species file."""
    held = {allele for genotype in genotypes for allele in genotype}
    return tuple(allele.id for allele in near.locus.alleles if allele.id in held)


def _of_ground(near: Nearby, animal: AnimalId, ground: Ground) -> list[tuple[Source, Observation]]:
    """The animal's own records of that kind, each with what it says."""
    own = zip(near.sources(animal), near.own(animal), strict=True)
    return [(source, seen) for source, seen in own if source.ground is ground]


def _shown(near: Nearby, animal: AnimalId) -> list[Reason]:
    sources = [source for source in near.sources(animal) if source.ground is Ground.SHOWS_ITSELF]
    places = tuple(place for source in sources for place in source.places)
    return [replace(sources[0].reason(), places=places)] if sources else []


def _look_tells_all(near: Nearby, animal: AnimalId) -> bool:
    """True when only one genotype shows what the animal shows."""
    seen = [seen for _, seen in _of_ground(near, animal, Ground.SHOWS_ITSELF)]
    states = (s for s in near.of_sex(animal) if near.bears(seen, s))
    return len(set(near.genotypes(states))) == 1


def _tests(near: Nearby, animal: AnimalId) -> list[Reason]:
    founder = near.known.founders.get(animal)
    rests_on_test = founder is not None and founder.ground is Ground.DNA_TEST
    tests = _of_ground(near, animal, Ground.DNA_TEST)
    return [source.reason() for source, test in tests if rests_on_test or near.decides(animal, test)]


def _not_shown(near: Nearby, animal: AnimalId) -> list[Reason]:
    unseen = _of_ground(near, animal, Ground.SHOWS_NOT)
    return [source.reason() for source, seen in unseen if near.decides(animal, seen)]


def _without(near: Nearby, animal: AnimalId) -> Sequence[Reason]:
    """Why an animal has no named allele at all."""
    if own := _not_shown(near, animal):
        return own
    if founder := near.known.founders.get(animal):
        return [founder.reason()]
    if _alleles(near, near.genotypes(near.reach(animal))):
        return _exclusion(near, animal, lambda genotype: bool(_alleles(near, [genotype])))
    return _parents(near, animal, ())


def _parents(near: Nearby, animal: AnimalId, alleles: Sequence[str]) -> list[Reason]:
    """The parents that may have one of these alleles; all recorded ones when none is named."""
    found = []
    for ground, named in _recorded(near, animal):
        having = tuple(parent for parent in named if not alleles or _may_have(near, parent, alleles))
        if having:
            found.append(_parent(near, ground, having))
    return found


def _recorded(near: Nearby, animal: AnimalId) -> tuple[tuple[Ground, tuple[AnimalId, ...]], ...]:
    """The dam, and the sires that are still possible; of one that is not recorded nobody."""
    dam = near.animal(animal).dam
    return (Ground.DAM, (dam,) if dam else ()), (Ground.SIRE, near.sires(animal))


def _parent(near: Nearby, ground: Ground, parents: tuple[AnimalId, ...]) -> Reason:
    return Reason(ground, parents, "", tuple(_decisive_place(near, parent) for parent in parents))


def _may_have(near: Nearby, animal: AnimalId, alleles: Sequence[str]) -> bool:
    genotypes = near.genotypes(near.states(animal))
    return any(allele in genotype for genotype in genotypes for allele in alleles)


def _must_have(near: Nearby, animal: AnimalId, allele: str) -> bool:
    states = near.states(animal)
    return bool(states) and all(allele in genotype for genotype in near.genotypes(states))


def _of_founder(near: Nearby, animal: AnimalId, genotypes: Collection[Genotype], start: Reason) -> Sequence[Reason]:
    """Of a founder: young that prove what is certain, else what its odds come from and what moved them."""
    found: list[Reason] = []
    odds = near.known.question.priors.get(animal) or background(near.locus, near.animal(animal).sex)
    for allele in _untold(near, animal, genotypes):
        proven = _by_young(near, animal, allele)
        if not proven and any(chance and allele not in genotype for genotype, chance in odds.items()):
            proven = _exclusion(near, animal, lambda genotype, allele=allele: allele not in genotype)  # type: ignore[misc]
        found += proven
    if found and len(genotypes) == 1:
        return found
    return [*found, start, *_not_shown(near, animal), *_young(near, animal)]


def _of_descent(near: Nearby, animal: AnimalId, genotypes: Collection[Genotype]) -> list[Reason]:
    """Of an animal with a recorded parent: proofs of what is certain, then what moves the rest."""
    alleles = _alleles(near, genotypes)
    untold = _untold(near, animal, genotypes)
    found: list[Reason] = [reason for allele in untold for reason in _proof(near, animal, allele)]
    if len(genotypes) == 1:
        return [*(found or _parents(near, animal, alleles)), *_not_shown(near, animal)]
    relatives = [*_siblings(near, animal), *_young(near, animal)]
    parents = _parents(near, animal, alleles)
    alone = _from_parents_alone(near, animal) if parents else ()
    found += [replace(parent, detail=alone) if alone else parent for parent in parents]
    unnamed = near.unrecorded_parents(animal)
    if any(_alleles(near, near.genotypes(near.states(parent))) for parent in unnamed):
        found.append(Reason(Ground.BACKGROUND, (), "", (near.animal(animal).place,)))  # a parent is not recorded
    return [*found, *_not_shown(near, animal), *relatives]


def _from_parents_alone(near: Nearby, animal: AnimalId) -> tuple[tuple[str, str], ...]:
    """What the chance of each allele would be from its parents alone, as detail, where something moved it."""
    alone, now = from_parents_alone(near, animal), near.asked.posterior(animal, near.locus.id)
    if not alone or not now or alone == now:
        return ()
    chances = (
        (allele.id, sum((chance for pair, chance in alone.items() if allele.id in pair), Fraction(0)))
        for allele in near.locus.alleles
    )
    return tuple((f"alone {allele}", str(chance)) for allele, chance in chances)


def _untold(near: Nearby, animal: AnimalId, genotypes: Collection[Genotype]) -> tuple[str, ...]:
    """The alleles that the animal has for certain, and that its own look or test does not tell already."""
    records = zip(near.own(animal), near.sources(animal), strict=True)
    own = [seen for seen, source in records if source.ground is not Ground.SHOWS_NOT]
    told = near.genotypes(s for s in near.of_sex(animal) if near.bears(own, s))
    return tuple(
        allele
        for allele in _alleles(near, genotypes)
        if all(allele in genotype for genotype in genotypes) and not all(allele in genotype for genotype in told)
    )


def _proof(near: Nearby, animal: AnimalId, allele: str) -> list[Reason]:
    """Why an allele is certain: a parent that shows it and always passes it on, young, any such parent, or more."""
    parents: list[Reason] = []
    for ground, named in _recorded(near, animal):
        if named and all(_always_passes(near, parent, allele, animal) for parent in named):
            parents.append(_parent(near, ground, named))
    grounds = {each: {source.ground for source in near.sources(each)} for reason in parents for each in reason.animals}
    seen = [reason for reason in parents if not any(grounds[each].isdisjoint(_SEEN) for each in reason.animals)]
    if seen:
        return seen
    return (
        _by_young(near, animal, allele) or parents or _exclusion(near, animal, lambda genotype: allele not in genotype)
    )


def _decisive_place(near: Nearby, animal: AnimalId) -> Place:
    """Where it stands that an animal shows or was tested for something, else its record."""
    sources = (source for ground in _SEEN for source in near.sources(animal) if source.ground is ground)
    return next((source.places[0] for source in sources), near.animal(animal).place)


def _always_passes(near: Nearby, parent: AnimalId, allele: str, young: AnimalId) -> bool:
    """True when every young of that sex has the allele from this parent, whichever of its states it has."""
    system = near.locus.sex_system
    sex = near.animal(young).sex
    both = near.locus.copies(Sex.FEMALE) == near.locus.copies(Sex.MALE)
    two_copy_young = not both and sex is not Sex.UNKNOWN and sex is not system.one_copy_sex
    allowed = {(allele, allele)} | ({(allele, system.blank)} if two_copy_young else set())
    states = near.states(parent)
    return bool(states) and allowed.issuperset(near.genotypes(states))


def _by_young(near: Nearby, animal: AnimalId, allele: str) -> list[Reason]:
    """The young that prove that the animal has an allele: they have it, and not from the other parent.

    Where that hangs on a mate of which nothing is stated, the mate is named as well.
    """
    provers = [young for young in near.young(animal) if _proves(near, young, animal, allele)]
    sure = [young for young in provers if _has_two(near, young, allele)]
    tallies = [tally for tally in near.tallies(animal) if _tally_proves(near, tally, animal, allele)]
    found = _grouped(near, Ground.YOUNG, sure or ([] if tallies else provers), tallies)
    if provers and not sure and not tallies:
        mates = dict.fromkeys(mate for young in provers for mate in _other_parents(near, young, animal))
        for mate in mates:
            founder = near.known.founders.get(mate)
            if founder and founder.ground in _SAID and not _excluded_by_own(near, mate, allele):
                found.append(founder.reason())
    return found


def _tally_proves(near: Nearby, tally: Tally, parent: AnimalId, allele: str) -> bool:
    """True when young that are not listed show what takes two copies, one of them from this parent."""
    if tally.dam != parent and tuple(sire for sire, _ in tally.sires) != (parent,):
        return False
    states = [state for state in near.mode.of_sex(tally.sex) if near.bears([tally], state)]
    return bool(states) and all(genotype == (allele, allele) for genotype in near.genotypes(states))


def _excluded_by_own(near: Nearby, animal: AnimalId, allele: str) -> bool:
    """True when the animal's own looks and tests leave no place for the allele."""
    left = (state for state in near.mode.of_sex(Sex.UNKNOWN) if near.bears(near.own(animal), state))
    return all(allele not in genotype for genotype in near.genotypes(left))


def _has_two(near: Nearby, animal: AnimalId, allele: str) -> bool:
    states = near.states(animal)
    return bool(states) and all(genotype == (allele, allele) for genotype in near.genotypes(states))


def _other_parents(near: Nearby, young: AnimalId, parent: AnimalId) -> tuple[AnimalId, ...]:
    record = near.animal(young)
    if record.dam == parent:
        return near.sires(young)
    return (record.dam,) if record.dam else ()


def _proves(near: Nearby, young: AnimalId, parent: AnimalId, allele: str) -> bool:
    record = near.animal(young)
    is_dam = record.dam == parent
    is_parent = is_dam or near.sires(young) == (parent,)
    if not is_parent or not _must_have(near, young, allele):
        return False
    if _has_two(near, young, allele):
        return True
    others = _other_parents(near, young, parent) or near.unrecorded_parents(young)
    return not any(_may_have(near, other, [allele]) for other in others)


def _siblings(near: Nearby, animal: AnimalId) -> list[Reason]:
    """Other young of its parents that tell apart what the parents may be."""
    pairs = near.pairs(animal)
    own = near.of_sex(animal)
    rows = [{state: near.transmission.young(*pair).get(state) for state in own} for pair in pairs]
    if len(pairs) < 2 or all(row == rows[0] for row in rows):
        return []
    parents = tuple(parent for _, named in _recorded(near, animal) for parent in named)
    listed, tallies = near.speaking(parents)
    line = {animal, *near.ancestors(animal), *near.descendants(animal)}
    return _grouped(near, Ground.SIBLINGS, [young for young in listed if young not in line], tallies)


def _young(near: Nearby, animal: AnimalId) -> list[Reason]:
    """Its young that tell apart what it may be."""
    if len(near.states(animal)) < 2:
        return []
    return _grouped(near, Ground.YOUNG, *near.speaking((animal,)))


def _grouped(near: Nearby, ground: Ground, listed: Sequence[AnimalId], tallies: Sequence[Tally]) -> list[Reason]:
    """One reason for each litter, with the number of young in it that count; few are named one by one."""
    by_litter: dict[str, tuple[list[AnimalId], list[Tally]]] = {}
    for each in listed:
        by_litter.setdefault(near.animal(each).litter, ([], []))[0].append(each)
    for tally in tallies:
        by_litter.setdefault(tally.litter, ([], []))[1].append(tally)
    found = []
    for litter, (own, unlisted) in by_litter.items():
        places = [_decisive_place(near, each) for each in own]
        places += [near.known.sources[tally.key].places[0] for tally in unlisted]
        count = len(own) + sum(tally.count for tally in unlisted)
        named = tuple(own) if len(own) <= _NAMED else ()
        found.append(Reason(ground, named, litter, tuple(dict.fromkeys(places)), (("count", str(count)),)))
    return found


def _exclusion(near: Nearby, animal: AnimalId, contrary: Callable[[Genotype], bool]) -> list[Reason]:
    """The records that exclude the contrary, none of which can be left out; what hangs on a word comes first.

    Nothing where they would take more memory than is allowed, or where only other loci exclude it.
    """
    likelihood = {genotype: Fraction(1) for genotype in all_genotypes(near.locus) if contrary(genotype)}
    seen = Observation(animal, likelihood, near.locus.id)
    pieces = clashing(near.asked.evidence, [near.group], near.family(animal), seen)
    reasons = [_reason(near, animal, piece) for piece in pieces]
    return sorted(dict.fromkeys(reasons), key=lambda reason: reason.ground not in _SAID)


def _reason(near: Nearby, animal: AnimalId, piece: Removable) -> Reason:
    """A piece of the proof, by what it is to the animal."""
    reason = piece.source.reason()
    about = piece.source.animal
    record = near.animal(animal)
    if reason.ground in _SAID or about == animal:
        return reason
    if not about:
        ours = any(tally.key == piece.key for tally in near.tallies(animal))
        return replace(reason, ground=Ground.YOUNG if ours else Ground.SIBLINGS)
    if about == record.dam:
        return replace(reason, ground=Ground.DAM)
    if about in near.sires(animal):
        return replace(reason, ground=Ground.SIRE)
    litter = near.animal(about).litter
    if about in near.descendants(animal):
        return Reason(Ground.YOUNG, (about,), litter, reason.places)
    parents = {record.dam, *near.sires(animal)} - {None}
    if parents & {near.animal(about).dam, *near.sires(about)}:
        return Reason(Ground.SIBLINGS, (about,), litter, reason.places)
    return reason
