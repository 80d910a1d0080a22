"""Everything inference has to say of a collection: the way from the content folder to answers, in one place.

An answer for each animal and locus, which sire each litter had, what the pedigree alone tells (inbreeding, relatedness,
shares of ancestry), and what has no answer because records contradict each other or are too tangled.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import Content, read_content
from sitegen.evidence.asking import Asked, ask, members_with_sires, sires_of
from sitegen.evidence.conflicts import Clash, agree, clash_of, finding_of, of_family
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import LocusGroup, is_founder, name_of
from sitegen.evidence.possible import ask_opened, possible_of
from sitegen.evidence.surprises import (
    Surprise,
    finding_of_surprise,
    findings_of_strain,
    litters_moved,
    strained_of,
    surprises_of,
)
from sitegen.exact import written
from sitegen.findings import Finding, Kind, Level, has_errors, in_order
from sitegen.genetics.kinship import Kinship, ancestry_shares
from sitegen.genetics.loci import Genotype, Locus, genotype_text
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.pedigree import parents_first
from sitegen.genetics.questions import AnimalId, Impossible, Member, Posterior, TooTangled, parents_of
from sitegen.genetics.relations import IfSire, Kin, by_sire, kin_of_parents

Shares = tuple[IfSire[Mapping[str, Fraction]], ...]
"""Origin to its share of an animal's ancestry, given each sire on whom that hangs."""


Related = tuple[IfSire[Kin], ...]
"""How two parents are related, given each sire on whom that hangs."""


def relations_of(
    members_of: Mapping[str, tuple[Member, ...]], inbreeding: Mapping[AnimalId, Fraction]
) -> Mapping[AnimalId, Related]:
    """How the parents of each animal are related that has two; possible sires have their chances by all evidence."""
    found: dict[AnimalId, Related] = {}
    for members in members_of.values():
        by_id = {member.id: member for member in members}
        for member in members:
            if member.dam is not None and member.sires:
                related_by = related(by_id, member.id) if inbreeding[member.id] else (IfSire(Kin(Fraction(0))),)
                found[member.id] = related_by
    return found


def related(members: Mapping[AnimalId, Member], young: AnimalId) -> Related:
    """How the parents of an animal are related, given each sire on whom it hangs."""
    found = by_sire(members, young, partial(kin_of_parents, young))
    return found or (IfSire(Kin(Kinship(tuple(members.values())).inbreeding(young), None)),)


def shares_of(
    members_of: Mapping[str, tuple[Member, ...]], origins: Mapping[AnimalId, str]
) -> Mapping[AnimalId, Shares]:
    """Shares of ancestry of the animals that descend from a founder of which, or of whose line, the origin is known."""
    named = {animal: origin for animal, origin in origins.items() if origin and origin.lower() != "unknown"}
    found: dict[AnimalId, Shares] = {}
    for members in members_of.values() if named else ():
        by_id = {member.id: member for member in members}
        in_doubt: set[AnimalId] = set()
        for member in parents_first(members):
            if len(member.sires) > 1 or in_doubt.intersection(parents_of(member)):
                in_doubt.add(member.id)
        for animal, own in ancestry_shares(members, named).items():
            if animal in origins or not any(own.keys()):
                continue
            doubt = animal in in_doubt
            found[animal] = (
                by_sire(by_id, animal, partial(_own_shares, animal, named)) or () if doubt else (IfSire(own),)
            )
    return found


def _own_shares(
    animal: AnimalId, named: Mapping[AnimalId, str], members: Mapping[AnimalId, Member]
) -> Mapping[str, Fraction]:
    return ancestry_shares(tuple(members.values()), named)[animal]


def inbreeding_of(members: Mapping[str, tuple[Member, ...]]) -> Mapping[AnimalId, Fraction]:
    """Wright's coefficient of every animal."""
    found: dict[AnimalId, Fraction] = {}
    for own in members.values():
        kinship = Kinship(own)
        found |= {member.id: kinship.inbreeding(member.id) for member in own}
    return found


_F = TypeVar("_F", Impossible, TooTangled)


@dataclass(frozen=True, slots=True)
class Knot:
    """Animals that are related in so many ways that an exact answer needs more memory than is allowed."""

    species: str
    loci: tuple[str, ...]
    animals: tuple[AnimalId, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """Everything inference has to say.

    Attributes:
        posteriors: Animal to locus to posterior; a locus that could not be answered for an animal's
            family is left out.
        inbreeding: Animal to Wright's coefficient.
        sires: Litter with several possible sires to the posterior of each; the same by young that may each
            have their own.
        contradictions, too_tangled: As findings, ready to be told.
        clashes, knots: The same as data, in the same order.
        notices: What is written and not used.
        localities, lines: Descendant to its expected share of each named locality or line, and under an
            empty name of what is not known, given each sire on whom it hangs; each sums to 1. Empty where it hangs on
            too many. Founders, and animals with no known share, are left out.
        relations: Animal to how its parents are related, given each sire on whom it hangs.
        possible: Animal to locus to the genotypes that no record rules out, however little was written of founders.
        possible_sires: The same of sires: litter, or young that may have its own, to those that it may have.
        surprises: The families that need what nobody wrote.
        strained: The animals and loci of which no odds are told, because what is taken for granted fits badly.
    """

    posteriors: Mapping[AnimalId, Mapping[str, Posterior]]
    inbreeding: Mapping[AnimalId, Fraction]
    sires: Mapping[str, Mapping[AnimalId, Fraction]]
    contradictions: tuple[Finding, ...]
    too_tangled: tuple[Finding, ...]
    clashes: tuple[Clash, ...] = ()
    knots: tuple[Knot, ...] = ()
    notices: tuple[Finding, ...] = ()
    localities: Mapping[AnimalId, Shares] = field(default_factory=dict)
    lines: Mapping[AnimalId, Shares] = field(default_factory=dict)
    relations: Mapping[AnimalId, Related] = field(default_factory=dict)
    possible: Mapping[AnimalId, Mapping[str, frozenset[Genotype]]] = field(default_factory=dict)
    possible_sires: Mapping[str, tuple[AnimalId, ...]] = field(default_factory=dict)
    surprises: tuple[Surprise, ...] = ()
    strained: tuple[tuple[AnimalId, str], ...] = ()


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
    clashes = tuple(_clashes(asked))
    knots = tuple(
        Knot(unit.species, unit.loci, tuple(animal for animal in each.members if animal in collection.animals))
        for unit, each in _failures(asked, TooTangled)
    )
    members = {species: members_with_sires(asked, species) for species in asked.evidence.members}
    founders = [animal for animal in collection.animals.values() if is_founder(animal)]
    inbreeding = inbreeding_of(members)
    opened = ask_opened(asked.evidence)
    surprises, strained = surprises_of(asked), strained_of(asked, opened)
    found = (
        *asked.evidence.notices,
        *(finding_of_surprise(each, collection) for each in surprises),
        *findings_of_strain(strained, collection),
        *litters_moved(asked),
    )
    return Answers(
        posteriors=_posteriors(asked),
        inbreeding={animal: inbreeding[animal] for animal in collection.animals},
        sires=sires,
        contradictions=tuple(finding_of(clash) for clash in clashes),
        too_tangled=tuple(_knot_finding(asked, knot) for knot in knots),
        clashes=clashes,
        knots=knots,
        notices=found,
        localities=shares_of(members, {animal.id: animal.locality for animal in founders}),
        lines=shares_of(members, {animal.id: animal.line for animal in founders}),
        relations=relations_of(members, inbreeding),
        possible=possible_of(opened),
        possible_sires={young: tuple(odds) for young, odds in sires_of(opened).items()},
        surprises=surprises,
        strained=strained,
    )


def _posteriors(asked: Asked) -> dict[AnimalId, dict[str, Posterior]]:
    species, animals = asked.evidence.collection.species, asked.evidence.collection.animals
    found = {
        animal.id: {locus.id: asked.posterior(animal.id, locus.id) for locus in species[animal.species].genome.loci}
        for animal in animals.values()
    }
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}


def _clashes(asked: Asked) -> Iterator[Clash]:
    """One for each locus or group and family; one for several that contradict each other only together."""
    together: dict[tuple[str, tuple[AnimalId, ...]], list[LocusGroup]] = {}
    for unit, failure in _failures(asked, Impossible):
        if agree([of_family(unit.question, set(failure.members))]):
            together.setdefault((unit.species, failure.members), []).append(unit)
        else:
            yield clash_of(asked.evidence, [unit], failure.members)
    for (_, family), units in together.items():
        yield clash_of(asked.evidence, units, family)


def _failures(asked: Asked, kind: type[_F]) -> Iterator[tuple[LocusGroup, _F]]:
    """The families without an answer, and where, for one of the two reasons there are."""
    for unit, heredity in zip(asked.evidence.units, asked.heredity, strict=True):
        yield from ((unit, failure) for failure in heredity.failures if isinstance(failure, kind))


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


@dataclass(frozen=True, slots=True)
class Known:
    """Records that are sound, the evidence in them, its answers, and the texts as written."""

    collection: Collection
    asked: Asked
    answers: Answers
    texts: Mapping[str, str] = field(default_factory=dict)


def read_known(content: Path, today: dt.date | None = None) -> tuple[Known | None, tuple[Finding, ...]]:
    """The records, and what inference answers to them; nothing when a record is in error."""
    read, reading = read_content(content)
    collection, findings = bound_of(read, reading, today)
    return known_of(read, collection, findings) if collection is not None else (None, findings)


def read_bound(content: Path, today: dt.date | None = None) -> tuple[Collection | None, tuple[Finding, ...]]:
    """The records alone, without what inference answers; nothing when one is in error."""
    return bound_of(*read_content(content), today)


def bound_of(
    read: Content, reading: Sequence[Finding], today: dt.date | None = None
) -> tuple[Collection | None, tuple[Finding, ...]]:
    """The records of what was read, with what was found then; nothing when one of them is in error."""
    collection, binding = bind_content(read, today=today) if not has_errors(reading) or read.texts else (None, ())
    return None if has_errors(reading) else collection, in_order([*reading, *binding])


def known_of(read: Content, collection: Collection, findings: Sequence[Finding]) -> tuple[Known, tuple[Finding, ...]]:
    """What inference answers to records, with all findings, those so far included."""
    asked = ask(gather(collection))
    answers = answers_of(asked)
    found = [*findings, *answers.contradictions, *answers.too_tangled, *answers.notices]
    return Known(collection, asked, answers, read.texts), in_order(found)


Json = dict[str, object]


def posterior_json(locus: Locus, posterior: Posterior) -> dict[str, str]:
    """Genotype text to exact chance, in the order of the species file, without genotypes of chance 0."""
    return {genotype_text(genotype): written(posterior[genotype]) for genotype in genotypes_in_order(locus, posterior)}


def genotypes_in_order(locus: Locus, genotypes: Iterable[Genotype]) -> tuple[Genotype, ...]:
    """These genotypes in the order of the species file, those with two copies first."""
    wanted = set(genotypes)
    return tuple(genotype for genotype in all_genotypes(locus) if genotype in wanted)


def why_all_json(collection: Collection, answers: Answers) -> Json:
    """All answers of a collection: posteriors, sires, inbreeding, what is possible, contradictions, knots."""

    def by_locus(told: Callable[[Locus, Any], object], found: Mapping[AnimalId, Mapping[str, Any]]) -> Json:
        loci = {animal: collection.species[collection.animals[animal].species].genome.loci for animal in found}
        return {
            animal: {locus.id: told(locus, own[locus.id]) for locus in loci[animal] if locus.id in own}
            for animal, own in found.items()
        }

    def texts(locus: Locus, genotypes: frozenset[Genotype]) -> list[str]:
        return [genotype_text(genotype) for genotype in genotypes_in_order(locus, genotypes)]

    return {
        "animals": by_locus(posterior_json, answers.posteriors),
        "sires": {key: _chances(sires) for key, sires in answers.sires.items()},
        "inbreeding": _chances(answers.inbreeding),
        "possible": by_locus(texts, answers.possible),
        "possible_sires": {key: list(sires) for key, sires in answers.possible_sires.items()},
        "surprises": [
            {"species": each.species, "locus": each.locus, "animals": list(each.animals), "order": each.order}
            for each in answers.surprises
        ],
        "strained": [{"animal": animal, "locus": locus} for animal, locus in answers.strained],
        "contradictions": [
            {
                "species": clash.species,
                "loci": list(clash.loci),
                "records": [
                    {"file": place.file, "line": place.line, "column": place.column, "says": says}
                    for place, says in clash.records
                ],
            }
            for clash in answers.clashes
        ],
        "too_tangled": [
            {"species": knot.species, "loci": list(knot.loci), "animals": list(knot.animals)} for knot in answers.knots
        ],
    }


def _chances(chances: Mapping[str, Fraction]) -> dict[str, str]:
    return {key: written(chance) for key, chance in chances.items()}
