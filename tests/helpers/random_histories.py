"""Collections that grew over years, drawn with dice: true genotypes down the pedigree, and what was recorded of them.

Most of them agree with themselves; an allele that a founder has and of which nobody said anything makes some that do
not. Every record has a place of its own.
"""

import datetime as dt
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from helpers.pedigrees import DOMINANT, INCOMPLETE, RECESSIVE, locus
from sitegen.content.animals import Acquired, Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import DnaTest, Genes, Judged, SeenLook, Stated
from sitegen.content.litters import Litter, Others
from sitegen.content.site import Site
from sitegen.content.species import Births, LitterSize, Species
from sitegen.content.values import PartialDate, Weighing
from sitegen.findings import Place
from sitegen.genetics.gametes import Mode, StateNumber, mode_of_group, mode_of_locus
from sitegen.genetics.loci import Allele, Genome, Genotype, Linkage, Locus, Sex, SexSystem
from sitegen.genetics.observations import looks_of, showing_alleles
from sitegen.genetics.transmission import Transmission

TENTH = Fraction(1, 10)


def few_loci(system: SexSystem) -> tuple[tuple[Locus, ...], tuple[Linkage, ...]]:
    """One locus of each kind, and a linked pair."""
    late = Allele("late", "late", RECESSIVE, visible_from_months=12, hidden_by=("amel",))
    loci = [
        locus("amel", Allele("amel", "amel", RECESSIVE)),
        locus("late", late),
        locus("pal", Allele("pal", "pal", INCOMPLETE, "super pal", penetrance=Fraction(9, 10))),
        locus("left", Allele("left", "left", RECESSIVE)),
        locus("right", Allele("right", "right", RECESSIVE)),
    ]
    if system is not SexSystem.UNKNOWN:
        loci += [
            locus("band", Allele("band", "band", RECESSIVE), system=system, linked=True),
            locus("glow", Allele("glow", "glow", DOMINANT), system=system, linked=True, parting=TENTH),
        ]
    parting = {Sex.FEMALE: (TENTH,), Sex.MALE: (Fraction(1, 4),)}
    return tuple(loci), (Linkage(("left", "right"), parting),)


def many_loci(n_loci: int) -> tuple[tuple[Locus, ...], tuple[Linkage, ...]]:
    """An ordinary species: recessive genes, every third a dominant one."""
    kinds = [DOMINANT if number % 3 == 2 else RECESSIVE for number in range(n_loci)]
    return tuple(locus(f"g{n}", Allele(f"g{n}", f"g{n}", kind)) for n, kind in enumerate(kinds)), ()


@dataclass
class Breeder:
    """Keeps the records of a growing collection."""

    dice: random.Random
    loci: tuple[Locus, ...]
    linkages: tuple[Linkage, ...]
    system: SexSystem
    common: float = 0.5
    tested: float = 0.2
    said_nothing: float = 0.02
    said_wrongly: float = 0.2
    doubtful_sires: float = 0.3
    unjudged: float = 0.0
    animals: dict[str, Animal] = field(default_factory=dict)
    litters: dict[str, Litter] = field(default_factory=dict)
    true: dict[str, list[StateNumber]] = field(default_factory=dict)
    sexes: dict[str, Sex] = field(default_factory=dict)
    line: int = 0

    def __post_init__(self) -> None:
        self.modes: list[Mode] = []
        linked = {each: linkage for linkage in self.linkages for each in linkage.loci}
        by_id = {each.id: each for each in self.loci}
        for each in self.loci:
            linkage = linked.get(each.id)
            if linkage is None:
                self.modes.append(mode_of_locus(each))
            elif linkage.loci[0] == each.id:
                self.modes.append(mode_of_group(tuple(by_id[name] for name in linkage.loci), linkage))
        self.transmissions = [Transmission(mode) for mode in self.modes]

    def place(self, file: str) -> Place:
        self.line += 1
        return Place(file, self.line, 1)

    def collection(self) -> Collection:
        genome = Genome("snake", self.system, self.loci, self.linkages)
        here = Place("species/snake.yaml")
        species = Species(
            id="snake",
            name="snake",
            scientific="",
            births=Births.EGGS,
            litter_size=LitterSize(2, 4, 8),
            litters_a_year=1,
            breeding_age_months={},
            breeding_weight_grams={},
            genome=genome,
            place=here,
            gene_places={},
        )
        return Collection(
            Site(name="Quillmoor Snakes", place=here, language="en-GB"),
            {"snake": species},
            dict(sorted(self.animals.items())),
            dict(sorted(self.litters.items())),
            {},
            {},
        )

    def founder(self, sex: Sex, born: dt.date) -> str:
        name = f"f{len(self.animals):03d}"
        file = f"animals/{name}/animal.yaml"
        self.sexes[name] = sex
        self.true[name] = [self._founder_state(mode, sex) for mode in self.modes]
        stated = tuple(
            Stated(at.id, odds, "66%", self.place(file))
            for at, genotype in self._genotypes(name)
            if (odds := self._stated(at, sex, genotype))
        )
        acquired = Acquired(self.date(born + dt.timedelta(self.dice.randint(30, 400))), "a previous keeper")
        genes = replace(self._genes(name, file, born, grown=True), stated=stated)
        self._add(name, sex, file, born, genes, acquired=acquired if self.dice.random() < 0.8 else None)
        return name

    def litter(self, dam: str, sires: Sequence[str], born: dt.date, n_young: int) -> list[str]:
        name = f"{born.year}-{dam.replace('/', '-')}-{len(self.litters):03d}"
        file = f"litters/{name}/litter.yaml"
        odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
        mixed = len(sires) > 1 and self.dice.random() < 0.3
        sire = self.dice.choice(sires)
        date = self.date(born)
        young: list[str] = []
        others: list[Others] = []
        for number in range(n_young):
            key = f"{name}/{number + 1:02d}"
            sex = self.dice.choice((Sex.FEMALE, Sex.MALE))
            own_sire = self.dice.choice(sires) if mixed else sire
            self.true[key] = [
                self._drawn(transmission.young(self.true[dam][n], self.true[own_sire][n]), mode, sex)
                for n, (mode, transmission) in enumerate(zip(self.modes, self.transmissions, strict=True))
            ]
            genes = self._genes(key, file, born, grown=False)
            if self.dice.random() < 0.3:
                del self.true[key]
                others.append(
                    Others(
                        count=1, judged=genes.judged, sex=self.dice.choice((sex, Sex.UNKNOWN)), place=self.place(file)
                    )
                )
                continue
            self.sexes[key] = sex
            self._add(
                key, sex, file, born, genes, dam=dam, sires=odds, litter=name, number=key[-2:], each_its_own_sire=mixed
            )
            young.append(key)
        paired = self.date(born - dt.timedelta(120))
        self.litters[name] = Litter(
            id=name,
            name=name,
            species="snake",
            place=self.place(file),
            dam=dam,
            sires=odds,
            young=tuple(young),
            others=tuple(others),
            each_its_own_sire=mixed,
            paired=paired,
            laid=None,
            born=date,
        )
        return young

    def promote(self, young: str) -> None:
        """The young gets a record of its own, kept up for two years."""
        animal = self.animals[young]
        assert animal.born
        file = f"animals/{young}/animal.yaml"
        own = self._genes(young, file, animal.born.earliest, grown=True)
        weights = tuple(Weighing(self.date(animal.born.earliest + dt.timedelta(days)), 100) for days in (200, 400, 700))
        self.animals[young] = replace(animal, genes=(*animal.genes, own), weights=weights)

    def date(self, day: dt.date) -> PartialDate:
        return PartialDate(day.year, day.month, day.day if self.dice.random() < 0.9 else 0)

    def _add(self, name: str, sex: Sex, file: str, born: dt.date, genes: Genes, **more: object) -> None:
        recorded = sex if self.dice.random() < 0.9 else Sex.UNKNOWN
        animal = Animal(
            id=name,
            name=name,
            species="snake",
            sex=recorded,
            place=self.place(file),
            genes=(genes,),
            born=self.date(born),
        )
        self.animals[name] = replace(animal, **more)

    def _founder_state(self, mode: Mode, sex: Sex) -> StateNumber:
        states = mode.of_sex(sex)
        wild = next(s for s in states if all(g[0] == "+" and g[1] in ("+", "W", "Y") for g in mode.genotypes[s]))
        return self.dice.choice(states) if self.dice.random() < self.common else wild

    def _drawn(self, chances: dict[StateNumber, Fraction], mode: Mode, sex: Sex) -> StateNumber:
        fitting = {state: chance for state, chance in chances.items() if state in mode.of_sex(sex)}
        weights = [chance.numerator * 720720 // chance.denominator for chance in fitting.values()]
        return self.dice.choices(list(fitting), weights)[0]

    def _genotypes(self, name: str) -> Iterator[tuple[Locus, Genotype]]:
        for mode, state in zip(self.modes, self.true[name], strict=True):
            yield from zip(mode.loci, mode.genotypes[state], strict=True)

    def _stated(self, at: Locus, sex: Sex, genotype: Genotype) -> dict[Genotype, Fraction]:
        """Odds in which the truth is possible; none for a wild type, and rarely for another."""
        wild = at.genotypes(sex)[0]
        if genotype == wild or self.dice.random() < self.said_nothing:
            return (
                {wild: Fraction(1, 3), at.genotypes(sex)[1]: Fraction(2, 3)}
                if self.dice.random() < self.said_wrongly
                else {}
            )
        share = self.dice.choice((Fraction(1), Fraction(2, 3), Fraction(1, 2)))
        return {g: c for g, c in ((wild, 1 - share), (genotype, share)) if c}

    def _genes(self, name: str, file: str, born: dt.date, *, grown: bool) -> Genes:
        seen: list[SeenLook] = []
        unsure: list[str] = []
        tests: list[DnaTest] = []
        if self.unjudged and self.dice.random() < self.unjudged:
            return Genes(Judged((), (), self.place(file), written=False))
        for at, genotype in self._genotypes(name):
            chances = looks_of(at, genotype)
            look = self.dice.choices(list(chances), [int(chance * 1000) for chance in chances.values()])[0]
            months = max((at.allele(a).visible_from_months for a in showing_alleles(at, genotype)), default=0)
            if look and (grown or not months):
                seen.append(SeenLook(look, at.id, self.place(file)))
            elif self.dice.random() < 0.1 or look:
                unsure.append(at.id)
            if self.dice.random() < self.tested / len(self.loci):
                on = self.date(born + dt.timedelta(self.dice.randint(10, 900)))
                tests.append(
                    DnaTest(locus=at.id, genotypes=(genotype,), place=self.place(file), laboratory="Saltby", date=on)
                )
        judged = Judged(tuple(seen), tuple(unsure), self.place(file))
        if grown and self.dice.random() < 0.3:
            judged = replace(judged, on=self.date(born + dt.timedelta(self.dice.randint(370, 900))))
        return Genes(judged, tests=tuple(tests))


def grown_collection(seed: int, most_litters: int = 4) -> Collection:
    """A small collection with every kind of locus, doubtful sires, tallies, tests and promoted young."""
    dice = random.Random(seed)
    system = dice.choice((SexSystem.ZW, SexSystem.XY, SexSystem.UNKNOWN))
    breeder = Breeder(
        dice,
        *few_loci(system),
        system,
        said_nothing=dice.choice((0.0, 0.05, 0.4)),
        unjudged=dice.choice((0.1, 0.5, 0.8)),
    )
    return _grown(breeder, most_litters)


def _grown(breeder: Breeder, most_litters: int) -> Collection:
    dice = breeder.dice
    adults = {
        sex: [breeder.founder(sex, dt.date(2018, 1, 1) + dt.timedelta(dice.randint(0, 500))) for _ in range(2)]
        for sex in (Sex.FEMALE, Sex.MALE)
    }
    for year in range(dice.randint(1, most_litters)):
        _season(breeder, adults, dt.date(2020 + year, 7, dice.randint(1, 28)), dice.randint(1, 4))
    return breeder.collection()


def sexed_collection(seed: int, most_litters: int = 4) -> Collection:
    """The same with a sex-linked and a pseudo-autosomal locus alone, and often nobody who judged."""
    dice = random.Random(seed)
    system = dice.choice((SexSystem.ZW, SexSystem.XY))
    loci, _ = few_loci(system)
    breeder = Breeder(dice, loci[-2:], (), system, common=0.3, tested=0.1, unjudged=dice.choice((0.3, 0.6, 0.8)))
    return _grown(breeder, most_litters)


def few_animals(seed: int) -> Collection:
    """One litter of a dam and a sire or one of two, at two loci, one of them sex-linked; few enough to enumerate."""
    dice = random.Random(seed)
    system = dice.choice((SexSystem.ZW, SexSystem.XY))
    loci, _ = few_loci(system)
    breeder = Breeder(dice, (loci[dice.choice((0, 2))], loci[5]), (), system, tested=0.6, unjudged=0.3)
    dam, *sires = (
        breeder.founder(sex, dt.date(2018, 1, 1) + dt.timedelta(dice.randint(0, 500)))
        for sex in (Sex.FEMALE, Sex.MALE, Sex.MALE)[: dice.choice((2, 3))]
    )
    young = breeder.litter(dam, sires, dt.date(2020, 7, 1), dice.randint(1, 3))
    for name in young[:1]:
        breeder.promote(name)
    return breeder.collection()


def large_collection(seed: int, n_litters: int, n_loci: int, doubtful: float = 0.03) -> Collection:
    """About three listed animals a litter, ten litters a year, ten loci, now and then a doubtful sire or a founder."""
    dice = random.Random(seed)
    breeder = Breeder(
        dice,
        *many_loci(n_loci),
        SexSystem.UNKNOWN,
        common=0.25,
        said_nothing=0.0,
        said_wrongly=0.05,
        doubtful_sires=doubtful,
    )
    adults = {
        sex: [breeder.founder(sex, dt.date(2013, 1, 1) + dt.timedelta(dice.randint(0, 500))) for _ in range(5)]
        for sex in (Sex.FEMALE, Sex.MALE)
    }
    for number in range(n_litters):
        born = dt.date(2015 + number // 10, 7, 1) + dt.timedelta(3 * (number % 10))
        if number % 10 == 0:
            sex = dice.choice((Sex.FEMALE, Sex.MALE))
            adults[sex].append(breeder.founder(sex, born - dt.timedelta(900)))
        _season(breeder, adults, born, 4)
    return breeder.collection()


def _season(breeder: Breeder, adults: dict[Sex, list[str]], born: dt.date, n_young: int) -> None:
    dice = breeder.dice
    males = adults[Sex.MALE][-6:]
    several = len(males) > 1 and dice.random() < breeder.doubtful_sires
    sires = dice.sample(males, 2) if several else [dice.choice(males)]
    young = breeder.litter(dice.choice(adults[Sex.FEMALE][-8:]), sires, born, n_young)
    for name in young[: dice.randint(0, 2)]:
        breeder.promote(name)
        adults[breeder.sexes[name]].append(name)
