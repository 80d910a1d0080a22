"""Claims of every kind, made by the real code from random small records and random answers."""

from collections.abc import Mapping
from fractions import Fraction

from hypothesis import strategies as st

from helpers.pedigrees import DOMINANT, RECESSIVE
from helpers.pedigrees import locus as locus_with_sex
from helpers.small_collections import (
    AMEL,
    COPPER,
    HYPO,
    MOTLEY_STRIPE,
    NOWHERE,
    PALMETTO,
    TESSERA,
    WOBBLE,
    animal_of,
    collection_of,
    species_of,
    told,
)
from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Claim
from sitegen.genetics.loci import Allele, Genotype, Locus, Sex, SexSystem
from sitegen.genetics.observations import all_genotypes
from sitegen.words.speech import Voice

BANDED = locus_with_sex("banded", Allele("banded", "banded", RECESSIVE), system=SexSystem.ZW, linked=True)
GLOW = locus_with_sex(
    "glow", Allele("glow", "glow", DOMINANT), system=SexSystem.ZW, linked=True, parting=Fraction(1, 10)
)
LOCI = (AMEL, HYPO, MOTLEY_STRIPE, TESSERA, PALMETTO, COPPER, WOBBLE, BANDED, GLOW)
SEXES = {"juniper": Sex.FEMALE, "flint": Sex.MALE, "basalt": Sex.MALE, "moss": Sex.FEMALE}
NAMES = tuple(
    sorted(
        {look.name for locus in LOCI for look in locus.looks}
        | {allele.name for locus in LOCI for allele in locus.alleles}
        | {"Sage", "Juniper", "Flint", "Basalt", "Moss"},
        key=len,
        reverse=True,
    )
)
"""Names of genes, looks and animals, longest first: they are not our words."""

FEW_ODDS = {
    (locus.id, sex): (
        {locus.genotypes(sex)[0]: Fraction(1)},
        {locus.genotypes(sex)[-1 if len(locus.genotypes(sex)) == 2 else len(locus.alleles)]: Fraction(1)},
        {locus.genotypes(sex)[0]: Fraction(1, 3), locus.genotypes(sex)[1]: Fraction(2, 3)},
    )
    for locus in LOCI
    for sex in (Sex.FEMALE, Sex.MALE)
}
weights = st.one_of(st.integers(0, 4), st.integers(0, 2**40), st.sampled_from([0, 1, 2**750]))


@st.composite
def posteriors(draw, locus: Locus, sex: Sex) -> Mapping[Genotype, Fraction]:
    """Any odds over the genotypes of a locus in that sex."""
    genotypes = all_genotypes(locus) if sex is Sex.UNKNOWN else locus.genotypes(sex)
    parts = [draw(weights) for _ in genotypes]
    if not sum(parts):
        parts[draw(st.integers(0, len(parts) - 1))] = 1
    return {g: Fraction(part, sum(parts)) for g, part in zip(genotypes, parts, strict=True) if part}


@st.composite
def agreeing(draw, locus: Locus, sex: Sex) -> tuple[Mapping[Genotype, Fraction], str, bool]:
    """Odds, the look that was seen (or none), and whether it was judged; the three agree with each other."""
    odds = draw(posteriors(locus, sex))
    judged = draw(st.booleans())
    if not judged:
        return odds, "", False
    look = draw(st.sampled_from(sorted({locus.shown.get(genotype, "") for genotype in odds})))
    fitting = {genotype: chance for genotype, chance in odds.items() if locus.shown.get(genotype, "") == look}
    total = sum(fitting.values())
    return {genotype: chance / total for genotype, chance in fitting.items()}, look, True


@st.composite
def reasons(draw, animals: tuple[str, ...]) -> tuple[Reason, ...]:
    """Any reasons, in any order."""
    made = []
    for ground in draw(st.lists(st.sampled_from(list(Ground)), max_size=4)):
        whose = (
            ("juniper",)
            if ground is Ground.DAM
            else tuple(draw(st.lists(st.sampled_from(animals), max_size=2, unique=True)))
        )
        if ground is Ground.SIRE:
            whose = tuple(draw(st.lists(st.sampled_from(("flint", "basalt")), min_size=1, max_size=2, unique=True)))
        facts = draw(st.sampled_from([(), (("count", "7"),), (("as_written", "66%"),), (("laboratory", "Fenlab"),)]))
        made.append(Reason(ground, whose, draw(st.sampled_from(["", "2026"])), detail=facts))
    return tuple(made)


@st.composite
def claim_sets(draw, *, opened: bool = False) -> tuple[tuple[Claim, ...], Voice]:
    """The claims of one animal with two parents or none, at every locus; ``opened``: records may leave more."""
    sex = draw(st.sampled_from(list(Sex)))
    parts = {locus.id: draw(agreeing(locus, sex)) for locus in LOCI}
    has_parents = draw(st.booleans())
    sage = animal_of(
        "sage",
        sex=sex,
        shows={locus: look for locus, (_, look, _) in parts.items() if look},
        unsure=tuple(locus for locus, (_, _, judged) in parts.items() if not judged),
        stated={} if has_parents else {locus: odds for locus, (odds, _, _) in parts.items() if draw(st.booleans())},
        born=draw(st.sampled_from([PartialDate(2026, 7, 1), None, PartialDate(2022, 7, 1), PartialDate(2026, 8)])),
        dam="juniper" if has_parents else None,
        sires=("flint",) if has_parents else (),
    )
    others: list[Animal] = []
    known = {"sage": {locus: odds for locus, (odds, _, _) in parts.items()}}
    for name in ("juniper", "flint", "basalt", "moss"):
        known[name] = {locus.id: draw(st.sampled_from(FEW_ODDS[locus.id, SEXES[name]])) for locus in LOCI}
        stated = {locus: odds for locus, odds in known[name].items() if draw(st.booleans())}
        others.append(animal_of(name, sex=SEXES[name], stated=stated, written=False))
    litter = Litter(id="2026", name="Juniper 2026", species="corn-snake", place=NOWHERE, dam="juniper", sires=())
    collection = collection_of(sage, *others, litters=(litter,), species=species_of(*LOCI))
    because = {("sage", locus.id): draw(reasons(("sage", "moss", "basalt"))) for locus in LOCI}
    left_open = {
        "sage": {locus.id: _left_open(locus, *parts[locus.id]) for locus in LOCI if opened and draw(st.booleans())}
    }
    claims, voice = told(collection, known, because, left_open=left_open)
    return claims["sage"], voice


def _left_open(locus: Locus, odds: Mapping[Genotype, Fraction], look: str, judged: bool) -> frozenset[Genotype]:
    """All that what was seen leaves, of the sex that the odds are of."""
    blank = any(locus.sex_system.blank in genotype for genotype in odds if locus.sex_system.blank)
    fitting = [pair for pair in all_genotypes(locus) if not judged or locus.shown.get(pair, "") == look]
    return frozenset(pair for pair in fitting if (locus.sex_system.blank in pair) == blank or not locus.sex_linked)


def without_names(text: str) -> str:
    """The text with every name of a gene, look or animal taken for a short word."""
    for name in NAMES:
        text = text.replace(name, "it")
    return text
