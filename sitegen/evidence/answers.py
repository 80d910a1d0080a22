"""An answer for each animal and locus, each animal's inbreeding, each litter's sire, and what has no answer."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.conflicts import agrees_alone, clash_of, finding_of
from sitegen.evidence.descent import relations_of, shares_of
from sitegen.evidence.gather import gather, is_founder
from sitegen.evidence.gathered import Unit
from sitegen.evidence.known import Answers, Clash, Knot
from sitegen.evidence.saying import name_of
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.questions import AnimalId, Impossible, Member, Posterior, TooTangled


def answers(collection: Collection) -> Answers:
    """Everything inference has to say of a collection."""
    return answers_of(ask(gather(collection)))


def answers_of(asked: Asked) -> Answers:
    """The same, from evidence that was gathered and asked already.

    A family whose records contradict each other at a locus, or that is too tangled there, has no posterior
    at it; everything else is answered.
    """
    collection = asked.evidence.collection
    sires = sires_of(asked)
    clashes, knots = tuple(_clashes(asked)), tuple(_knots(asked))
    members = {species: members_with_sires(asked, species) for species in asked.evidence.members}
    founders = [animal for animal in collection.animals.values() if is_founder(animal)]
    inbreeding = _inbreeding(members)
    return Answers(
        posteriors=_posteriors(asked),
        inbreeding={animal: inbreeding[animal] for animal in collection.animals},
        sires=sires,
        contradictions=tuple(finding_of(clash) for clash in clashes),
        too_tangled=tuple(_knot_finding(asked, knot) for knot in knots),
        clashes=clashes,
        knots=knots,
        notices=asked.evidence.notices,
        localities=shares_of(members, {animal.id: animal.locality for animal in founders}),
        lines=shares_of(members, {animal.id: animal.line for animal in founders}),
        relations=relations_of(members, inbreeding),
    )


def _posteriors(asked: Asked) -> dict[AnimalId, dict[str, Posterior]]:
    """Animal to locus to posterior, where there is one."""
    found: dict[AnimalId, dict[str, Posterior]] = {animal: {} for animal in asked.evidence.collection.animals}
    for species, record in asked.evidence.collection.species.items():
        for locus in record.genome.loci:
            heredity = asked.heredity[asked.by_locus[species, locus.id]]
            for member in asked.evidence.members[species]:
                posterior = heredity.of(member.id, locus.id)
                if not isinstance(posterior, Impossible | TooTangled):
                    found[member.id][locus.id] = posterior
    return found


def sires_of(asked: Asked) -> dict[str, Mapping[AnimalId, Fraction]]:
    """Litter, or young with a sire of its own, to the chance of each of its possible sires."""
    collection = asked.evidence.collection
    found: dict[str, Mapping[AnimalId, Fraction]] = {}
    for litter in collection.litters.values():
        if len(litter.sires) > 1 and not litter.each_its_own_sire:
            found |= _sire_of(asked, litter.id, litter.species, dict(litter.sires))
    for animal in collection.animals.values():
        if len(animal.sires) > 1 and (animal.each_its_own_sire or not animal.litter):
            found |= _sire_of(asked, animal.id, animal.species, dict(animal.sires))
    return found


def _sire_of(
    asked: Asked, key: str, species: str, stated: Mapping[AnimalId, Fraction]
) -> dict[str, Mapping[AnimalId, Fraction]]:
    """The answer under its key; what is written where no evidence speaks of it; nothing where none is sound."""
    failed = False
    for _, heredity in asked.of_species(species):
        try:
            found = heredity.sires(key)
        except KeyError:
            continue
        if not isinstance(found, Impossible | TooTangled):
            return {key: found}
        failed = True
    return {} if failed else {key: stated}


def members_with_sires(asked: Asked, species: str) -> tuple[Member, ...]:
    """The members of a species, each possible sire with its chance given all evidence; found once."""
    key = (members_with_sires, species)
    if key not in asked.memory:
        asked.memory[key] = _with_sires(asked.evidence.members[species], sires_of(asked))
    found = asked.memory[key]
    assert isinstance(found, tuple)
    return found


def _with_sires(members: tuple[Member, ...], sires: Mapping[str, Mapping[AnimalId, Fraction]]) -> tuple[Member, ...]:
    def known(member: Member) -> Member:
        found = sires.get(member.litter) if member.litter and not member.each_its_own_sire else sires.get(member.id)
        return replace(member, sires=tuple(found.items())) if found and len(member.sires) > 1 else member

    return tuple(map(known, members))


def _inbreeding(members: Mapping[str, tuple[Member, ...]]) -> Mapping[AnimalId, Fraction]:
    """Wright's coefficient of every animal."""
    found: dict[AnimalId, Fraction] = {}
    for own in members.values():
        kinship = Kinship(own)
        found |= {member.id: kinship.inbreeding(member.id) for member in own}
    return found


def _clashes(asked: Asked) -> Iterator[Clash]:
    """One for each locus or group and family; one for several that contradict each other only together."""
    together: dict[tuple[str, tuple[AnimalId, ...]], list[Unit]] = {}
    for unit, heredity in zip(asked.evidence.units, asked.heredity, strict=True):
        for failure in heredity.failures:
            if not isinstance(failure, Impossible):
                continue
            if agrees_alone(unit, failure.members):
                together.setdefault((unit.species, failure.members), []).append(unit)
            else:
                yield clash_of(asked.evidence, [unit], failure.members)
    for (_, family), units in together.items():
        yield clash_of(asked.evidence, units, family)


def _knots(asked: Asked) -> Iterator[Knot]:
    for unit, heredity in zip(asked.evidence.units, asked.heredity, strict=True):
        for failure in heredity.failures:
            if isinstance(failure, TooTangled):
                yield Knot(unit.species, unit.loci, failure.members)


def _knot_finding(asked: Asked, knot: Knot) -> Finding:
    animals = asked.evidence.collection.animals
    names = [name_of(animals[animal]) for animal in knot.animals if animal in animals]
    places = [animals[animal].place for animal in knot.animals if animal in animals]
    shown = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    return Finding(
        Level.NOTICE,
        Kind.TOO_TANGLED,
        places[0] if places else None,
        f"{' and '.join(knot.loci)} cannot be answered exactly: {len(names)} animals are related in too many ways "
        f"at once ({shown}); nothing is said of it for them",
        expected="a pedigree that can be worked out within the memory bound",
        remedy="a DNA test, or a look that settles the genotype of one of them, unties it; so does naming the sire of "
        "a young that has several possible ones, or leaving out the parents of animals whose descent does not matter "
        "here",
        others=tuple(dict.fromkeys(places[1:])),
    )
