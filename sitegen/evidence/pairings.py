"""What a pairing can give: odds of the young, how they look, how many are as wanted, and what young would teach.

Every number comes from the joint posterior of the two parents given all evidence in the collection. Loci that
are inherited independently are kept apart, so that ten genes in play answer at once.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from sitegen.content.animals import Animal
from sitegen.content.gene_names import gene_names
from sitegen.content.report import At, Report
from sitegen.content.species import LitterSize
from sitegen.evidence.answers import Related, related
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.findings import Place, SitegenError, nearest
from sitegen.genetics.counts import Needed, at_least, at_least_in_litter, counts, litter_sizes, needed, per_young
from sitegen.genetics.crosses import Cross, wanted_shares
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.look_rows import LookRow, mixed_rows
from sitegen.genetics.network import cases
from sitegen.genetics.observations import is_wild
from sitegen.genetics.questions import AnimalId, Impossible, Member, TooTangled

LEVELS = (Fraction(50, 100), Fraction(90, 100), Fraction(95, 100), Fraction(99, 100))
MOST_YOUNG = 1000


@dataclass(frozen=True, slots=True)
class PairAtLocus:
    """The pair at one locus: its joint posterior (dam, sire), and what its young can be.

    Attributes:
        young: Genotype odds of a living young, under ``Sex.UNKNOWN`` or by sex.
        living_share: Expected share of conceptions that are born alive, as far as this locus (or its linked
            group) decides it.
    """

    locus: Locus
    pair: Mapping[tuple[Genotype, Genotype], Fraction]
    young: Mapping[Sex, Mapping[Genotype, Fraction]]
    living_share: Fraction


@dataclass(frozen=True, slots=True)
class Wanted:
    """Young of a wanted kind.

    Attributes:
        looks: Look ids, all in one young.
        sex: Wanted sex as well, or None.
        n_young: Number of young asked about, or None.
        counts: Chance of exactly 0, 1, ... of ``n_young``; empty when no number was asked about.
        at_least: Chance of at least ``k`` among ``n_young``; averaged over litter sizes without a number.
        in_litter: The same for a litter of the species' usual sizes.
        needed: How many young give a chance of 50, 90, 95, 99 in 100 of ``k``.
    """

    looks: tuple[str, ...]
    sex: Sex | None
    per_young: Fraction
    n_young: int | None
    counts: tuple[Fraction, ...]
    k: int
    at_least: Fraction
    in_litter: Fraction
    needed: tuple[Needed, ...]


@dataclass(frozen=True, slots=True)
class Lesson:
    """What young that show nothing of a locus would teach about a parent.

    ``before`` and ``after`` are the chances that ``parent`` carries ``allele``, ``after`` when ``n_young``
    young are looked at and show nothing of ``locus``.
    """

    parent: AnimalId
    locus: str
    allele: str
    n_young: int
    before: Fraction
    after: Fraction


@dataclass(frozen=True, slots=True)
class Pairing:
    """What a pairing can give.

    Attributes:
        loci: The loci in play, in the order of the species file: those where a parent may hold a named allele.
        looks: How young can look at these loci, the likeliest first.
        looks_left_out: Chance of young that look otherwise than any row, where there are too many rows.
        lessons: What young that show nothing would teach.
        unanswered: Loci without an answer for one of the two.
        kinship: Kinship of the two, the inbreeding coefficient of their young.
        related: How they are related, given each sire on whom it hangs.
    """

    dam: AnimalId
    sire: AnimalId
    species: str
    loci: tuple[PairAtLocus, ...]
    looks: tuple[LookRow, ...]
    looks_left_out: Fraction
    wanted: Wanted | None
    lessons: tuple[Lesson, ...]
    unanswered: tuple[str, ...]
    kinship: Fraction
    related: Related


def pairing(
    asked: Asked,
    dam: AnimalId,
    sire: AnimalId,
    *,
    n_young: int | None = None,
    wanted: Sequence[str] = (),
    sex: Sex | None = None,
    k: int = 1,
    teach: bool = True,
) -> Pairing:
    """What the pairing of two animals can give.

    Counted are, among ``n_young`` if that is given, at least ``k`` young that show all the looks or combinations that
    are ``wanted`` by name, and are of that sex. Only with ``teach`` it is worked out what young would teach.

    Raises:
        SitegenError: The two cannot be paired, a look is not known, or a number makes no sense.
    """
    female, male = _checked_pair(asked, dam, sire)
    if n_young is not None and not 0 <= n_young <= MOST_YOUNG:
        raise SitegenError(f"a number of young is a whole number from 0 to {MOST_YOUNG}, not {n_young}")
    if k < 1:
        raise SitegenError(f"at least {k} asks for nothing; write 1 or more")
    looks = resolved_looks(asked, female.species, wanted)
    crosses, unanswered = _crosses(asked, female, male)
    in_play = [cross for cross in crosses if _at_loci(cross)]
    tied = _tied(asked, female, male, crosses, unanswered)
    rows, left_out = mixed_rows([(chance, [c for c in own if _at_loci(c)]) for chance, own in tied])
    sizes = asked.evidence.collection.species[female.species].litter_size
    told = _wanted(tied, looks, sex, n_young, k, sizes, unanswered) if looks or sex else None
    n_shown = n_young or max(1, sizes.usual)
    return Pairing(
        dam, sire, female.species,
        loci=tuple(each for cross in in_play for each in _at_loci(cross)),
        looks=rows, looks_left_out=left_out,
        wanted=told,
        lessons=tuple(lesson for cross in in_play for lesson in _lessons(cross, dam, sire, n_shown)) if teach else (),
        unanswered=unanswered,
        kinship=_kinship(asked, female, male),
        related=_related(asked, female, male),
    )  # fmt: skip


Side = tuple[Fraction, tuple[Cross, ...]]
"""One way in which unknown sires tie the loci together: its chance, and the loci, which are independent then."""


def crosses_of(asked: Asked, dam: AnimalId, sire: AnimalId, loci: Collection[str]) -> tuple[Side, ...]:
    """A pair at some loci, as a mixture; an unknown sex is taken as the one that is needed.

    Raises:
        SitegenError: One of the loci has no answer for the two, or no young of them can live.
    """
    animals = asked.evidence.collection.animals
    crosses, unanswered = _crosses(asked, animals[dam], animals[sire])
    if missing := [locus for locus in unanswered if locus in loci]:
        raise SitegenError(f"{dam} and {sire} have no answer at {missing[0]}; see the check")
    tied = _tied(asked, animals[dam], animals[sire], crosses, unanswered)
    return tuple(
        (chance, tuple(cross for cross in own if any(locus.id in loci for locus in cross.mode.loci)))
        for chance, own in tied
    )


def _kinship(asked: Asked, female: Animal, male: Animal) -> Fraction:
    key = ("kinship", female.species)
    kinship = asked.memory.get(key)
    if not isinstance(kinship, Kinship):
        kinship = asked.memory[key] = Kinship(members_with_sires(asked, female.species))
    return kinship.pair(female.id, male.id)


def _related(asked: Asked, female: Animal, male: Animal) -> Related:
    members = {member.id: member for member in members_with_sires(asked, female.species)}
    young = Member("", dam=female.id, sires=((male.id, Fraction(1)),))
    return related({**members, "": young}, "")


def _checked_pair(asked: Asked, dam: AnimalId, sire: AnimalId) -> tuple[Animal, Animal]:
    animals = asked.evidence.collection.animals
    for name in (dam, sire):
        if name not in animals:
            near = nearest(name, animals)
            raise SitegenError(f'there is no animal "{name}"' + (f"; nearest: {near}" if near else ""))
    if dam == sire:
        raise SitegenError(f"{dam} cannot be dam and sire at once")
    female, male = animals[dam], animals[sire]
    if female.species != male.species:
        kinds = [asked.evidence.collection.species[each.species].name for each in (female, male)]
        raise SitegenError(f"{dam} is a {kinds[0]}, {sire} is of another species, {kinds[1]}; name two of one species")
    if female.sex is Sex.MALE and male.sex is Sex.FEMALE:
        raise SitegenError(f"{dam} is recorded as male and {sire} as female; name the dam first: {sire} {dam}")
    if female.sex is Sex.MALE:
        raise SitegenError(f"{dam} is recorded as male and cannot be the dam")
    if male.sex is Sex.FEMALE:
        raise SitegenError(f"{sire} is recorded as female and cannot be the sire")
    return female, male


def resolved_looks(asked: Asked, species: str, wanted: Sequence[str]) -> tuple[str, ...]:
    """Look ids of the looks and combinations that are named; two looks of one locus as what they make together.

    Raises:
        SitegenError: The species has no such look; the message names the nearest.
    """
    if not wanted:
        return ()
    kind = asked.evidence.collection.species[species]
    names = gene_names(kind.name, kind.place.file, kind.genome)
    report = Report()
    found: dict[str, str] = {}
    for word in wanted:
        for look in names.find_looks(At(word, Place("")), report) or ():
            before = found.get(look.locus)
            if before is not None and before != look.id:
                together = names.together([kind.genome.look(before), look])
                if together is None:
                    raise SitegenError(f"one animal cannot show both {before} and {look.id}")
                look = together
            found[look.locus] = look.id
    if report.findings:
        fault = report.findings[0]
        raise SitegenError(fault.message + (f"; nearest: {fault.nearest}" if fault.nearest else ""))
    return tuple(found.values())


def _crosses(asked: Asked, female: Animal, male: Animal) -> tuple[tuple[Cross, ...], tuple[str, ...]]:
    crosses: list[Cross] = []
    unanswered: list[str] = []
    for unit, heredity in asked.of_species(female.species):
        pairs = heredity.pairs(female.id, male.id)
        if isinstance(pairs, Impossible | TooTangled):
            unanswered += unit.loci
            continue
        try:
            crosses.append(Cross(heredity.mode, {(pair[0], pair[1]): chance for pair, chance in pairs.items()}))
        except ValueError:
            names = " and ".join(unit.loci)
            raise SitegenError(f"no young of {female.id} and {male.id} can live: {names}") from None
    return tuple(crosses), tuple(unanswered)


def _tied(
    asked: Asked, female: Animal, male: Animal, crosses: Sequence[Cross], unanswered: Sequence[str]
) -> tuple[Side, ...]:
    """The loci side by side, once for each way in which an unknown sire among the ancestors ties them together.

    Raises:
        SitegenError: There are too many such ways to be told exactly.
    """
    answered = [
        heredity for unit, heredity in asked.of_species(female.species) if not set(unit.loci).intersection(unanswered)
    ]
    in_doubt = any(heredity.solved.network.choices for heredity in answered)
    found = cases(answered, (female.id, male.id)) if in_doubt else ()
    if isinstance(found, Impossible | TooTangled):
        raise SitegenError(
            f"{female.id} and {male.id} cannot be answered together: too many sires are in doubt among their "
            "ancestors; settle one of them in its litter record"
        )
    if len(found) < 2:
        return ((Fraction(1), tuple(crosses)),)
    parts: list[Side] = []
    for case in found:
        own: list[Cross] = []
        for like, states in zip(crosses, case.states, strict=True):
            try:
                own.append(Cross(like.mode, {(pair[0], pair[1]): chance for pair, chance in states.items()}))
            except ValueError:
                break
        else:
            parts.append((case.chance * prod((cross.bearing for cross in own), start=Fraction(1)), tuple(own)))
    total = sum((chance for chance, _ in parts), Fraction(0))
    return tuple((chance / total, own) for chance, own in parts)


def _at_loci(cross: Cross) -> tuple[PairAtLocus, ...]:
    """The loci of a cross at which a parent may hold a named allele."""
    share = cross.living_share()
    return tuple(
        PairAtLocus(locus, cross.pair(rank), cross.young(rank), share)
        for rank, locus in enumerate(cross.mode.loci)
        if any(not is_wild(locus, genotype) for pair in cross.pair(rank) for genotype in pair)
    )


def _wanted(
    tied: Sequence[Side],
    looks: tuple[str, ...],
    sex: Sex | None,
    n_young: int | None,
    k: int,
    sizes: LitterSize,
    unanswered: Sequence[str],
) -> Wanted:
    answered = {look.id for cross in tied[0][1] for locus in cross.mode.loci for look in locus.looks}
    if missing := [look for look in looks if look not in answered]:
        raise SitegenError(f"{missing[0]} cannot be answered for this pair: see {', '.join(unanswered)} in the check")
    shares: dict[Fraction, Fraction] = {}
    for weight, crosses in tied:
        for share, chance in wanted_shares(_asked_of(crosses, looks, sex), sex).items():
            shares[share] = shares.get(share, Fraction(0)) + weight * chance
    in_litter = at_least_in_litter(shares, litter_sizes(sizes.low, sizes.usual, sizes.high), k)
    return Wanted(
        looks=looks,
        sex=sex,
        per_young=per_young(shares),
        n_young=n_young,
        counts=counts(shares, n_young) if n_young is not None else (),
        k=k,
        at_least=at_least(shares, n_young, k) if n_young is not None else in_litter,
        in_litter=in_litter,
        needed=tuple(needed(shares, level, k) for level in LEVELS),
    )


def _asked_of(crosses: Sequence[Cross], looks: Sequence[str], sex: Sex | None) -> list[tuple[Cross, list[str]]]:
    """The loci at which something is wanted, with what is wanted there."""
    found: list[tuple[Cross, list[str]]] = []
    for cross in crosses:
        known = {look.id for locus in cross.mode.loci for look in locus.looks}
        own = [look for look in looks if look in known]
        if own or (sex and cross.mode.has_sex):
            found.append((cross, own))
    return found


def _lessons(cross: Cross, dam: AnimalId, sire: AnimalId, n_young: int) -> list[Lesson]:
    found: list[Lesson] = []
    for rank, locus in enumerate(cross.mode.loci):
        plain = cross.plain_shares(rank)
        seen = {pair: chance * plain[pair] ** n_young for pair, chance in cross.pairs.items()}
        total = sum(seen.values(), Fraction(0))
        for place, parent in enumerate((dam, sire)):
            for allele in locus.alleles:
                carrying = [pair for pair in cross.pairs if allele.id in cross.mode.genotypes[pair[place]][rank]]
                before = sum((cross.pairs[pair] for pair in carrying), Fraction(0))
                after = sum((seen[pair] for pair in carrying), Fraction(0)) / total if total else before
                if 0 < before < 1 and after != before:
                    found.append(Lesson(parent, locus.id, allele.id, n_young, before, after))
    return found
