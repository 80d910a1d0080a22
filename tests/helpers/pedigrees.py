"""Pedigrees without records, for tests of inference: loci of every mode, and questions about their animals.

Random small looped pedigrees with random evidence; and seeded pedigrees of many animals, an ordinary collection and a
closed group bred at random.
"""

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations_with_replacement

from hypothesis import strategies as st

from sitegen.genetics.loci import (
    WILD,
    Allele,
    Genotype,
    Inheritance,
    Linkage,
    Locus,
    Sex,
    SexSystem,
    looks_by_inheritance,
)
from sitegen.genetics.network import Failure, Heredity
from sitegen.genetics.observations import all_genotypes, when_not_seen, when_seen
from sitegen.genetics.questions import Impossible, LinkedQuestion, Member, Observation, Question, Tally, TooTangled

ONE = Fraction(1)
HALF = Fraction(1, 2)
RECESSIVE, DOMINANT, INCOMPLETE = Inheritance.RECESSIVE, Inheritance.DOMINANT, Inheritance.INCOMPLETE_DOMINANT


def locus(
    name: str,
    *alleles: Allele,
    odds: Mapping[Genotype, Fraction] | None = None,
    by_sex: Mapping[Sex, Mapping[Genotype, Fraction]] | None = None,
    system: SexSystem = SexSystem.UNKNOWN,
    linked: bool = False,
    parting: Fraction | None = None,
    compounds: Mapping[frozenset[str], str] | None = None,
) -> Locus:
    blank = system.blank if linked and parting is None else ""
    looks, shown = looks_by_inheritance(name, alleles, compounds or {}, blank)
    lethal = frozenset((a.id, a.id) for a in alleles if a.two_copies_lethal)
    background = dict(by_sex or {}) if odds is None else dict.fromkeys(Sex, odds)
    return Locus(name, name, alleles, looks, shown, lethal, linked, system, parting, background)


def recessive(name: str = "amel", odds: Mapping[Genotype, Fraction] | None = None) -> Locus:
    return locus(name, Allele(name, name, RECESSIVE), odds=odds)


def quarter(name: str) -> dict[Genotype, Fraction]:
    return {("+", "+"): Fraction(3, 4), ("+", name): Fraction(1, 4)}


def any_genotype(*names: str) -> dict[Genotype, Fraction]:
    pairs = list(combinations_with_replacement((WILD, *names), 2))
    total = sum(range(1, len(pairs) + 1))
    return {pair: Fraction(rank, total) for rank, pair in enumerate(pairs, start=1)}


def one_copy_odds(name: str, system: SexSystem) -> dict[Sex, dict[Genotype, Fraction]]:
    one_copy = system.one_copy_sex
    assert one_copy is not None
    two_copies = Sex.MALE if one_copy is Sex.FEMALE else Sex.FEMALE
    single = {("+", system.blank): Fraction(2, 3), (name, system.blank): Fraction(1, 3)}
    return {two_copies: any_genotype(name), one_copy: single}


AUTOSOMAL = (
    recessive(odds=quarter("amel")),
    locus("pal", Allele("pal", "pal", INCOMPLETE, "super pal", penetrance=Fraction(9, 10)), odds=any_genotype("pal")),
    locus("dom", Allele("dom", "dom", DOMINANT, two_copies_lethal=True), odds=any_genotype("dom")),
    locus(
        "series",
        Allele("motley", "motley", RECESSIVE),
        Allele("stripe", "stripe", RECESSIVE),
        odds=any_genotype("motley", "stripe"),
        compounds={frozenset({"motley", "stripe"}): "striped motley"},
    ),
)
SEXED = tuple(
    made
    for system in (SexSystem.XY, SexSystem.ZW)
    for made in (
        locus(
            "band", Allele("band", "band", RECESSIVE), by_sex=one_copy_odds("band", system), system=system, linked=True
        ),
        locus(
            "ill",
            Allele("ill", "ill", DOMINANT, two_copies_lethal=True),
            by_sex=one_copy_odds("ill", system),
            system=system,
            linked=True,
        ),
        locus(
            "glow",
            Allele("glow", "glow", INCOMPLETE, "super glow"),
            odds=any_genotype("glow"),
            system=system,
            linked=True,
            parting=Fraction(1, 10),
        ),
    )
)
LINKED = (
    (
        recessive("left", odds=quarter("left")),
        recessive("right", odds={("+", "right"): Fraction(2, 3), ("right", "right"): Fraction(1, 3)}),
    ),
    tuple(
        locus(
            name,
            Allele(name, name, RECESSIVE),
            by_sex=one_copy_odds(name, SexSystem.ZW),
            system=SexSystem.ZW,
            linked=True,
        )
        for name in ("left", "right")
    ),
    tuple(
        locus(
            name,
            Allele(name, name, RECESSIVE),
            odds=any_genotype(name),
            system=SexSystem.ZW,
            linked=True,
            parting=parting,
        )
        for name, parting in (("left", Fraction(1, 10)), ("right", Fraction(9, 50)))
    ),
)
PARTING = {Sex.FEMALE: (Fraction(1, 10),), Sex.MALE: (Fraction(1, 4),)}


@st.composite
def pedigrees(draw: st.DrawFn, most: int = 5, several_sires: bool = False) -> tuple[Member, ...]:
    """Members in record order, ancestors first; sexes sometimes not recorded; parents sometimes neither."""
    n_members = draw(st.integers(3, most))
    members = [Member("f0", Sex.FEMALE), Member("m0", Sex.MALE)]
    females, males = ["f0"], ["m0"]
    for number in range(2, n_members):
        sex = draw(st.sampled_from((Sex.FEMALE, Sex.MALE)))
        name = f"{sex.value[0]}{number}"
        dam = draw(st.sampled_from((*females, *females, None)))
        sires: Sequence[str] = draw(st.sampled_from([[one] for one in males] * 2 + [[]]))
        litter, own = "", False
        if several_sires and len(males) > 1 and draw(st.booleans()):
            sires, own = males[:2], draw(st.booleans())
            litter = draw(st.sampled_from(("", "L")))
        odds = {1: (ONE,), 2: (Fraction(1, 3), Fraction(2, 3))}.get(len(sires), ())
        recorded = draw(st.sampled_from((sex, sex, Sex.UNKNOWN)))
        key = f"{litter}{dam}{own}" if litter else ""
        members.append(Member(name, recorded, dam, tuple(zip(sires, odds, strict=True)), key, own))
        (females if sex is Sex.FEMALE else males).append(name)
    return tuple(members)


def likelihoods(at: Locus) -> list[Mapping[Genotype, Fraction]]:
    """Everything that may be seen, what a test may leave, and nothing at all."""
    shown = [when_seen(at, [look.id]) for look in at.looks]
    genotypes = all_genotypes(at)
    return [*[seen for seen in shown if seen], when_not_seen(at), when_not_seen(at), dict.fromkeys(genotypes[:2], ONE)]


@st.composite
def evidence(
    draw: st.DrawFn, at: Locus, members: tuple[Member, ...], tallies: bool = True
) -> tuple[tuple[Observation, ...], tuple[Tally, ...]]:
    possible = likelihoods(at)
    seen = [
        Observation(member.id, draw(st.sampled_from(possible)), f"seen {number}")
        for number, member in enumerate(members)
        if draw(st.booleans())
    ]
    counted = []
    parents = [member for member in members if member.dam or member.sires]
    if tallies and parents and draw(st.booleans()):
        like = draw(st.sampled_from(parents))
        sex = draw(st.sampled_from(Sex)) if at.sex_system is not SexSystem.UNKNOWN else Sex.UNKNOWN
        counted.append(
            Tally(
                like.dam,
                like.sires,
                draw(st.integers(1, 3)),
                draw(st.sampled_from(possible)),
                "others",
                sex,
                like.litter,
                like.each_its_own_sire,
            )
        )
    return tuple(seen), tuple(counted)


@st.composite
def questions(
    draw: st.DrawFn, loci: Sequence[Locus], most: int = 5, several_sires: bool = False, tallies: bool = True
) -> Question:
    at = draw(st.sampled_from(loci))
    members = draw(pedigrees(most, several_sires))
    seen, counted = draw(evidence(at, members, tallies))
    return Question(at, members, _priors(draw, at, members), seen, counted)


def _priors(draw: st.DrawFn, at: Locus, members: tuple[Member, ...]) -> dict[str, Mapping[Genotype, Fraction]]:
    priors: dict[str, Mapping[Genotype, Fraction]] = {}
    for member in members:
        if not member.dam and not member.sires and draw(st.booleans()) and member.sex is not Sex.UNKNOWN:
            genotypes = at.genotypes(member.sex)[:2]
            priors[member.id] = dict.fromkeys(genotypes, Fraction(1, len(genotypes)))
    return priors


@st.composite
def linked_questions(draw: st.DrawFn, most: int = 4) -> LinkedQuestion:
    loci = draw(st.sampled_from(LINKED))
    members = draw(pedigrees(most))
    asked = []
    for at in loci:
        seen, _ = draw(evidence(at, members, tallies=False))
        asked.append(Question(at, members, {}, seen))
    parents = [member for member in members if member.dam or member.sires]
    if parents and draw(st.booleans()):
        like = draw(st.sampled_from(parents))
        asked = [
            replace(
                one, tallies=(Tally(like.dam, like.sires, 2, draw(st.sampled_from(likelihoods(one.locus))), "others"),)
            )
            for one in asked
        ]
    phases = {}
    if not loci[0].sex_linked and draw(st.booleans()):
        phases["f0"] = ({"left": "left", "right": "+"}, {"left": "+"})
    return LinkedQuestion(Linkage(("left", "right"), PARTING), tuple(asked), phases)


def certain(*genotype: str) -> dict[Genotype, Fraction]:
    return {(genotype[0], genotype[1]): ONE}


def pair(
    at: Locus,
    dam: Mapping[Genotype, Fraction],
    sire: Mapping[Genotype, Fraction],
    young: Sequence[tuple[str, Sex, Mapping[Genotype, Fraction] | None]] = (),
    tallies: Sequence[tuple[int, Mapping[Genotype, Fraction]]] = (),
) -> Question:
    """A dam and a sire with these odds, young with what was seen of each, and tallies."""
    members = [Member("dam", Sex.FEMALE), Member("sire", Sex.MALE)]
    members += [Member(name, sex, "dam", (("sire", ONE),), "litter") for name, sex, _ in young]
    seen = [Observation(name, likelihood, name) for name, _, likelihood in young if likelihood is not None]
    counted = [
        Tally("dam", (("sire", ONE),), count, likelihood, f"tally {number}", litter="litter")
        for number, (count, likelihood) in enumerate(tallies)
    ]
    return Question(at, tuple(members), {"dam": dam, "sire": sire}, tuple(seen), tuple(counted))


def tied_by_a_third() -> list[Question]:
    """Two litters of two possible sires each, of whom both have Flint; two loci that each hang on the sire of one of
    them, and a third that tells that not both are Flint's."""
    sires = [(("flint", HALF), ("basalt", HALF)), (("flint", HALF), ("slate", HALF))]
    parents = [Member("dam", Sex.FEMALE), *(Member(name, Sex.MALE) for name in ("flint", "basalt", "slate"))]
    members = (*parents, *(Member(f"y{n}", dam="dam", sires=own, litter=f"L{n}") for n, own in enumerate(sires)))
    either = {sire: {("+", "+"): HALF, ("caramel", "caramel"): HALF} for sire in ("flint", "basalt", "slate")}
    seen = (Observation("y0", certain("+", "caramel"), "0"), Observation("y1", certain("+", "+"), "1"))
    return [
        Question(recessive("amel"), members, {"basalt": certain("amel", "amel")}, ()),
        Question(recessive("hypo"), members, {"slate": certain("hypo", "hypo")}, ()),
        Question(recessive("caramel"), members, either, seen),
    ]


def planned(number: int = 0, sex: Sex = Sex.UNKNOWN) -> Member:
    """A young of ``dam`` and ``sire`` that is only planned."""
    return Member(f"planned {number}", sex, "dam", (("sire", ONE),), "planned")


def with_members(question: Question, extra: Iterable[Member]) -> Question:
    """The question with further members, such as young that are only planned; they come last."""
    return replace(question, members=(*question.members, *extra))


def likelihood_of_look(locus: Locus, look: str | None, sex: Sex = Sex.UNKNOWN) -> Mapping[Genotype, Fraction]:
    """How likely an animal of that sex is to show exactly this look, or nothing of the locus (None).

    With an unknown sex the genotypes of both sexes are in it; what is impossible is left out, and so is
    what does not live.

    Raises:
        KeyError: The locus has no such look.
    """
    seen = when_not_seen(locus) if look is None else when_seen(locus, [locus.look(look).id])
    possible = all_genotypes(locus) if sex is Sex.UNKNOWN else locus.genotypes(sex)
    return {genotype: seen[genotype] for genotype in possible if genotype in seen and genotype not in locus.lethal}


ONE = Fraction(1)
SEXES = (Sex.FEMALE, Sex.MALE)


def ordinary(n_animals: int, seed: int = 1) -> tuple[Member, ...]:
    """A growing collection: litters of 3 to 9, of which one or two are kept; new founders each season; back-crosses."""
    dice = random.Random(seed)
    members: list[Member] = []
    adults: dict[Sex, list[str]] = {sex: [] for sex in SEXES}

    def add(sex: Sex, dam: str | None = None, sire: str | None = None, litter: str = "") -> str:
        name = f"a{len(members):04d}"
        members.append(Member(name, sex, dam, ((sire, ONE),) if sire else (), litter))
        return name

    for number in range(10):
        adults[SEXES[number % 2]].append(add(SEXES[number % 2]))
    while len(members) < n_animals:
        young_adults: dict[Sex, list[str]] = {sex: [] for sex in SEXES}
        for sex in SEXES:
            if dice.random() < 0.7:
                adults[sex].append(add(sex))
        for _ in range(3):
            dam, sire = dice.choice(adults[Sex.FEMALE][-8:]), dice.choice(adults[Sex.MALE][-5:])
            litter = [
                (add(sex, dam, sire, f"{dam} {sire} {len(members)}"), sex)
                for sex in (dice.choice(SEXES) for _ in range(dice.randint(3, 9)))
            ]
            for name, sex in litter[: dice.randint(0, 2)]:
                young_adults[sex].append(name)
        for sex in SEXES:
            adults[sex] += young_adults[sex]
    return tuple(members[:n_animals])


def closed(n_animals: int, seed: int = 1, n_founders: int = 20, generation: int = 20) -> tuple[Member, ...]:
    """A closed group: each generation is bred from two animals of the one before, at random for each young."""
    dice = random.Random(seed)
    members = [Member(f"a{number:04d}", SEXES[number % 2]) for number in range(n_founders)]
    while len(members) < n_animals:
        before = members[-generation:]
        dams = [member.id for member in before if member.sex is Sex.FEMALE]
        sires = [member.id for member in before if member.sex is Sex.MALE]
        for number in range(min(generation, n_animals - len(members))):
            pair = dice.choice(dams), ((dice.choice(sires), ONE),)
            members.append(Member(f"a{len(members):04d}", SEXES[number % 2], *pair))
    return tuple(members)


def looked_at(
    members: tuple[Member, ...], at: Locus | None = None, seed: int = 2, share: float = 0.9, odds: bool = True
) -> Question:
    """True genotypes are drawn down the pedigree; most animals are looked at, and show the recessive or do not."""
    dice = random.Random(seed)
    background = any_genotype("amel") if odds else {("+", "+"): Fraction(1)}
    at = at or recessive(odds=background)
    true: dict[str, Genotype] = {}
    seen = []
    for member in members:
        if member.dam is None:
            alleles = list(dice.choice([("+", "+"), ("+", "amel")]))
        else:
            alleles = [dice.choice(true[member.dam]), dice.choice(true[member.sires[0][0]])]
        true[member.id] = at.genotype(*alleles)
        if dice.random() < share:
            shows = true[member.id] == ("amel", "amel")
            likelihood = {("amel", "amel"): ONE} if shows else {("+", "+"): ONE, ("+", "amel"): ONE}
            seen.append(Observation(member.id, likelihood, f"{member.id} seen"))
    return Question(at, members, {}, tuple(seen))


def joint(found: Heredity, members: Sequence[str], locus: str = "") -> dict[tuple[Genotype, ...], Fraction] | Failure:
    """Chance of each combination of genotypes of some members at a locus of what was asked."""
    states = found.states(members)
    if isinstance(states, Impossible | TooTangled):
        return states
    at = [each.id for each in found.mode.loci].index(locus) if locus else 0
    sums: dict[tuple[Genotype, ...], Fraction] = {}
    for combination, chance in states.items():
        key = tuple(found.mode.genotypes[state][at] for state in combination)
        sums[key] = sums.get(key, Fraction(0)) + chance
    return sums
