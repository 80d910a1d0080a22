"""Small collections made in code, for tests of everything that stands above the records, and projects over them.

>>> kept = collection(species(recessive("amel")), animal("d", shows="amel"), animal("s", shows=""))
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Chromosome, Copies, DnaTest, Genes, Judged, SeenLook, Stated
from sitegen.content.litters import Litter, Others
from sitegen.content.projects import Goal, Holdback, Project, Stage
from sitegen.content.site import Site
from sitegen.content.species import Births, BreedingSeason, LitterSize, Species
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.exact import parse_stated_chance
from sitegen.findings import Place
from sitegen.genetics.loci import (
    WILD,
    Allele,
    Combination,
    Genome,
    Genotype,
    Inheritance,
    Linkage,
    Locus,
    Sex,
    SexSystem,
    looks_by_inheritance,
)

SNAKE = "snake"
Odds = Mapping[str, Fraction]


def allele(name: str, inheritance: Inheritance = Inheritance.RECESSIVE, **more: object) -> Allele:
    """An allele named by its id."""
    return Allele(name, name, inheritance, **more)  # type: ignore[arg-type]


def locus(
    name: str,
    *alleles: Allele,
    compounds: Mapping[str, str] | None = None,
    background: Mapping[str, Fraction] | None = None,
    sex_system: SexSystem = SexSystem.UNKNOWN,
    sex_linked: bool = False,
    sex_recombination: Fraction | None = None,
) -> Locus:
    """A locus; compounds as ``motley/stripe``, background by genotype text for every sex."""
    blank = sex_system.blank if sex_linked else ""
    pairs = {frozenset(pair.split("/")): look for pair, look in (compounds or {}).items()}
    looks, shown = looks_by_inheritance(name, alleles, pairs, blank)
    lethal = frozenset((each.id, each.id) for each in alleles if each.two_copies_lethal)
    odds = {genotype(text): chance for text, chance in (background or {}).items()}
    by_sex = dict.fromkeys(Sex, odds) if odds else {}
    return Locus(name, name, alleles, looks, shown, lethal, sex_linked, sex_system, sex_recombination, by_sex)


def recessive(name: str, **more: object) -> Locus:
    """A locus with one recessive allele of the same name."""
    return locus(name, allele(name, **more))


def dominant(name: str, **more: object) -> Locus:
    """A locus with one dominant allele of the same name."""
    return locus(name, allele(name, Inheritance.DOMINANT, **more))


def incomplete(name: str, two_copies: str) -> Locus:
    """A locus with one incomplete dominant allele of the same name."""
    return locus(name, allele(name, Inheritance.INCOMPLETE_DOMINANT, two_copies=two_copies))


def species(
    *loci: Locus,
    name: str = SNAKE,
    sexes: SexSystem = SexSystem.UNKNOWN,
    linkages: tuple[Linkage, ...] = (),
    combinations: Mapping[str, str] | None = None,
    sizes: tuple[int, int, int] = (2, 4, 7),
) -> Species:
    """A species with these loci."""
    named = tuple(Combination(key, key, tuple(looks.split())) for key, looks in (combinations or {}).items())
    return Species(
        id=name,
        name=name,
        scientific="Serpens invented",
        births=Births.LIVE,
        litter_size=LitterSize(*sizes),
        litters_a_year=1,
        breeding_age_months={},
        breeding_weight_grams={},
        genome=Genome(name, sexes, loci, linkages, named),
        place=Place(f"species/{name}.yaml", 1, 1),
        gene_places={each.id: Place(f"species/{name}.yaml", line, 3) for line, each in enumerate(loci, 10)},
    )


def genotype(text: str) -> Genotype:
    """``+/amel`` as a genotype."""
    first, second = text.split("/")
    return first, second


def date(text: str) -> PartialDate:
    """``2024-05-01`` as a date."""
    return PartialDate(*(int(part) for part in text.split("-")))


def judged(shows: str | None, file: str, unsure: str = "", on: str = "") -> Judged:
    """``shows`` as looks separated by blanks, each written ``look`` and resolved later; None for no such key."""
    seen = tuple(SeenLook(look, "", Place(file, 5, 9 + at), look) for at, look in enumerate((shows or "").split()))
    loci = tuple(unsure.split()) if unsure != "all" else ()
    place = Place(file, 5, 1)
    return Judged(seen, loci, place, unsure == "all", shows is not None, date(on) if on else None)


def sires(written: str | Mapping[str, Fraction] | None) -> tuple[tuple[str, Fraction], ...]:
    """One sire, several with equal odds (``"a b"``), or several with odds."""
    if isinstance(written, Mapping):
        return tuple(written.items())
    names = (written or "").split()
    return tuple((name, Fraction(1, len(names))) for name in names)


def animal(
    name: str,
    *,
    shows: str | None = None,
    dam: str | None = None,
    sire: str | Mapping[str, Fraction] | None = None,
    litter: str = "",
    stated: Mapping[str, str | Odds] | None = None,
    tests: Mapping[str, str] | None = None,
    copies: Mapping[str, Fraction | None] | None = None,
    haplotypes: Iterable[Mapping[str, str]] = (),
    unsure: str = "",
    on: str = "",
    sex: Sex = Sex.UNKNOWN,
    born: str = "",
    species_id: str = SNAKE,
    mixed: bool = False,
    locality: str = "",
    weighed: str = "",
) -> Animal:
    """One animal; ``tests`` gives genotype texts separated by blanks by locus, ``stated`` odds or ``66%``."""

    young = "/" in name
    file = f"litters/{name.split('/')[0]}/litter.yaml" if young else f"animals/{name}/animal.yaml"
    genes = Genes(
        judged(shows, file, unsure, on),
        tuple(
            Stated(key, {}, text, Place(file, 6, 1))
            if isinstance(text, str)
            else Stated(
                key, {genotype(each): chance for each, chance in text.items()}, "odds", Place(file, 6, 1), quoted=False
            )
            for key, text in (stated or {}).items()
        ),
        tuple(
            DnaTest(
                locus=key,
                genotypes=tuple(map(genotype, results.split())),
                place=Place(file, 7 + at, 5),
                laboratory="a laboratory",
            )
            for at, (key, results) in enumerate((tests or {}).items())
        ),
        tuple(Copies(key, two, Place(file, 9, 1)) for key, two in (copies or {}).items()),
        tuple(Chromosome(line, Place(file, 10 + at, 5)) for at, line in enumerate(haplotypes)),
    )
    return Animal(
        id=name,
        name=name.split("/")[-1],
        species=species_id,
        sex=sex,
        place=Place(file, 1, 1),
        genes=(genes,),
        born=date(born) if born else None,
        dam=dam,
        sires=sires(sire),
        each_its_own_sire=mixed,
        litter=name.split("/")[0] if young else litter,
        number=name.split("/")[1] if young else "",
        locality=locality,
        weights=(Weighing(date(weighed), 100),) if weighed else (),
    )


def litter(
    name: str,
    dam: str | None,
    sire: str | Mapping[str, Fraction] | None,
    young: Mapping[str, Mapping[str, object]] | None = None,
    others: Mapping[str, int] | None = None,
    *,
    mixed: bool | None = None,
    born: str = "",
    species_id: str = SNAKE,
) -> tuple[Litter, tuple[Animal, ...]]:
    """A litter, and its young as animals; ``others`` counts young by what they show."""
    file = f"litters/{name}/litter.yaml"
    listed = tuple(
        animal(f"{name}/{key}", dam=dam, sire=sire, mixed=bool(mixed), born=born, species_id=species_id, **more)  # type: ignore[arg-type]
        for key, more in (young or {}).items()
    )
    unlisted = tuple(
        Others(count=count, judged=judged(shows, file), sex=Sex.UNKNOWN, place=Place(file, 20 + at, 5))
        for at, (shows, count) in enumerate((others or {}).items())
    )
    record = Litter(
        id=name,
        name=name,
        species=species_id,
        place=Place(file, 1, 1),
        dam=dam,
        sires=sires(sire),
        young=tuple(each.id for each in listed),
        others=unlisted,
        each_its_own_sire=mixed,
        born=date(born) if born else None,
    )
    return record, listed


def collection(*records: Species | Animal | tuple[Litter, tuple[Animal, ...]]) -> Collection:
    """All records together; looks and stated odds are resolved against the species."""
    kinds = {each.id: each for each in records if isinstance(each, Species)}
    animals = [each for each in records if isinstance(each, Animal)]
    litters = {}
    for each in records:
        if isinstance(each, tuple):
            litters[each[0].id] = _resolved_litter(each[0], kinds)
            animals += each[1]
    return Collection(
        site=Site(name="test", place=Place("site.yaml")),
        species=kinds,
        animals={each.id: _resolved(each, kinds[each.species]) for each in animals},
        litters=litters,
        projects={},
        pages={},
    )


def _resolved(each: Animal, kind: Species) -> Animal:

    genes = tuple(
        replace(own, judged=_seen(own.judged, kind), stated=tuple(_stated(entry, kind) for entry in own.stated))
        for own in each.genes
    )
    return replace(each, genes=genes)


def _resolved_litter(each: Litter, kinds: Mapping[str, Species]) -> Litter:

    kind = kinds[each.species]
    return replace(each, others=tuple(replace(own, judged=_seen(own.judged, kind)) for own in each.others))


def _seen(own: Judged, kind: Species) -> Judged:

    return replace(own, seen=tuple(replace(seen, locus=kind.genome.look(seen.look).locus) for seen in own.seen))


def _stated(entry: Stated, kind: Species) -> Stated:
    """``certain`` or a chance of carrying one copy of the allele that is named."""
    at = next(
        each for each in kind.genome.loci if entry.locus == each.id or any(a.id == entry.locus for a in each.alleles)
    )
    if entry.odds:
        return entry
    chance = Fraction(1) if entry.as_written == "certain" else parse_stated_chance(entry.as_written)
    assert chance is not None
    odds = {(WILD, WILD): 1 - chance, (WILD, entry.locus): chance}
    return Stated(at.id, {pair: share for pair, share in odds.items() if share}, entry.as_written, entry.place)


NOWHERE = Place("projects/p/project.yaml", 1, 1)
MONTHS = {1: 8, 2: 20}
"""Seasons until an animal breeds, to months: paired in March, born in July."""


def snake(
    *loci: Locus,
    sizes: tuple[int, int, int] = (1, 1, 2),
    a_year: int = 1,
    takes: Fraction = Fraction(1),
    rest: int = 0,
    grown: Mapping[str, int] | None = None,
    sexes: SexSystem = SexSystem.UNKNOWN,
    **more: object,
) -> Species:
    """A species paired in March and born in July."""
    ages = {Sex(sex): MONTHS[seasons] for sex, seasons in (grown or {"female": 1, "male": 1}).items()}
    return replace(
        species(*loci, sizes=sizes, sexes=sexes, **more),  # type: ignore[arg-type]
        litters_a_year=a_year, takes=takes, rest=rest, breeding_age_months=ages,
        breeding_season=BreedingSeason(3, 7),
    )  # fmt: skip


def keep(
    name: str, shows: str = "", carries: str = "", *, count: int = 1, sex: str = "", animals: tuple[str, ...] = ()
) -> Holdback:
    return Holdback(
        id=name,
        shows=tuple(shows.split()),
        carries=tuple(carries.split()),
        count=count,
        sex=sex,
        animals=animals,
        place=NOWHERE,
    )


def stage(
    name: str, season: int, dam: str, sire: str, *kept: Holdback, tries: int | None = None, litters: str = ""
) -> Stage:
    return Stage(
        id=name,
        season=season,
        dam=dam,
        sire=sire,
        litters=tuple(litters.split()),
        keep=kept,
        place=NOWHERE,
        tries=tries,
    )


def project(*stages: Stage, shows: str = "", carries: str = "", horizon: int | None = None, **more: object) -> Project:
    goal = Goal(tuple(shows.split()), tuple(carries.split()))
    bare = Project(
        id="p", name="p", species=SNAKE, goal=goal, stages=stages, state="planned", place=NOWHERE, horizon=horizon
    )
    return replace(bare, **more)  # type: ignore[arg-type]


def asked_of(*records: object) -> Asked:
    return ask(gather(collection(*records)))  # type: ignore[arg-type]
