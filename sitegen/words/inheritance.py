"""How a gene is inherited, what it must not be taken for, and how a species is born, in plain words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.species import Births, Species
from sitegen.genetics.loci import WILD, Allele, Genotype, Inheritance, Locus, Look, Sex
from sitegen.words.numbers import in_100, months_text
from sitegen.words.sources import gene_sources
from sitegen.words.speech import Link, Sentence, Target, Words, _, capital, listed, plain, said


def inheritance_label(locus: Locus, allele: Allele) -> str:
    """How an allele is inherited, as a label: ``recessive, on the Z``."""
    plain = {
        Inheritance.RECESSIVE: _("recessive"),
        Inheritance.DOMINANT: _("dominant"),
        Inheritance.INCOMPLETE_DOMINANT: _("incomplete dominant"),
        None: _("as its table of looks says"),
    }[allele.inheritance]
    if locus.sex_linked:
        return _("{plain}, on the {chromosome}").format(plain=plain, chromosome=_chromosome(locus))
    return plain


def locus_label(locus: Locus) -> str:
    """How a whole locus is inherited, as a label; several alleles make a series."""
    labels = tuple(dict.fromkeys(inheritance_label(locus, allele) for allele in locus.alleles))
    if len(locus.alleles) == 1:
        return labels[0]
    if len(labels) == 1:
        return _("series of {count} alleles, each {label}").format(count=len(locus.alleles), label=labels[0])
    return _("series of {count} alleles").format(count=len(locus.alleles))


def inheritance_sentence(locus: Locus, allele: Allele) -> Sentence:
    """How many copies an animal needs to show an allele."""
    match allele.inheritance:
        case Inheritance.RECESSIVE:
            words = _("An animal needs two copies to show it; with one copy it carries it unseen.")
        case Inheritance.DOMINANT if (allele.id, allele.id) in locus.lethal:
            words = _("One copy is enough to show it; young with two copies do not live to be born.")
        case Inheritance.DOMINANT:
            words = _("One copy is enough to show it, and two copies look the same as one.")
        case Inheritance.INCOMPLETE_DOMINANT:
            words = _("One copy shows; two copies look different and are called {two}.")
            if not allele.two_copies:
                words = _("One copy shows; two copies look different.")
        case _:
            words = _("What it shows depends on the allele beside it; see the table of looks.")
    return said(words, two=allele.two_copies)


def notes(species: Species, locus: Locus, allele: Allele) -> tuple[Sentence, ...]:
    """All further things to know of how an allele is inherited and judged, each in one sentence."""
    alike = [told for other in allele.not_the_same_as if (told := not_the_same(species, allele, other))]
    return (*_places(locus, allele), *_judging(species, allele), *alike, *gene_sources(allele))


def _places(locus: Locus, allele: Allele) -> Iterator[Sentence]:
    """That the alleles of a series share one place, and who has one place only for an allele on a sex chromosome."""
    others = [other for other in locus.alleles if other.id != allele.id]
    if others:
        yield _series(locus, allele, others)
    one = locus.sex_system.one_copy_sex if locus.sex_linked else None
    if one is not None:
        words = _("It lies on the {chromosome}. A female has one copy at most, from her sire; a male has two.")
        if one is Sex.MALE:
            words = _("It lies on the {chromosome}. A male has one copy at most, from his dam; a female has two.")
        yield said(words, chromosome=_chromosome(locus))


def _series(locus: Locus, allele: Allele, others: Sequence[Allele]) -> Sentence:
    """That an animal has two alleles of a series at most, and what two different ones show."""
    told = said(
        _("It shares its place in the genome with {names}: an animal has two of them at most, one from each parent."),
        names=listed([other.name for other in others]),
    )
    for other in others:
        look = locus.shown.get(locus.genotype(allele.id, other.id))
        if look and look not in (allele.id, other.id):
            words = _(" One copy of {first} and one of {second} show {look}.")
            told = (*told, *said(words, first=allele.name, second=other.name, look=locus.look(look).name))
    return told


def _judging(species: Species, allele: Allele) -> Iterator[Sentence]:
    """That an allele does not always show, from what age it can be judged, and under which looks it cannot."""
    if allele.penetrance != 1:
        words = _("It does not always show: {chance} animals that have what it takes do show it.")
        yield said(words, chance=in_100(Fraction(allele.penetrance)))
    if allele.visible_from_months:
        words = _("It comes with growth and cannot be judged before the age of {age}.")
        yield said(words, age=months_text(allele.visible_from_months))
    if allele.hidden_by:
        looks = listed([species.genome.look(look).name for look in allele.hidden_by], either=True)
        yield said(_("It cannot be judged by eye in an animal that shows {looks}."), looks=looks)


def _chromosome(locus: Locus) -> str:
    return {"W": "Z", "Y": "X"}.get(locus.sex_system.blank, _("sex chromosome"))


def not_the_same(species: Species, allele: Allele, other: str) -> Sentence:
    """That two genes that look alike are two genes, and what it means for a buyer."""
    home = next((locus for locus in species.genome.loci if any(a.id == other for a in locus.alleles)), None)
    if home is None:
        return ()
    link = Link(home.allele(other).name, Target.GENE, f"{species.id}/{home.id}")
    words = _("It is not the same as {other}: the two look alike, but they are two genes.")
    told = said(words, other=link)
    recessive = (allele.inheritance, home.allele(other).inheritance) == (Inheritance.RECESSIVE, Inheritance.RECESSIVE)
    if not recessive:
        return told
    more = _(" An animal that shows one, paired with one that shows the other, gives young that show neither.")
    return (*told, *said(more))


def genotype_words(locus: Locus, genotype: Genotype) -> str:
    """A genotype in plain words: ``one copy of motley and one of stripe``, ``two copies of amelanistic``."""
    named = [allele for allele in genotype if allele not in (WILD, locus.sex_system.blank)]
    if not named:
        return _("no copy")
    names = [locus.allele(allele).name for allele in named]
    if len(names) == 1:
        return _("one copy of {name}").format(name=names[0])
    if named[0] == named[1]:
        return _("two copies of {name}").format(name=names[0])
    return _("one copy of {first} and one of {second}").format(first=names[0], second=names[1])


def copies_words(locus: Locus, look: Look, genotypes: Sequence[Genotype]) -> str:
    """The genotypes that show a look; where the look has the allele's name, that is not said again."""
    alleles = {allele for genotype in genotypes for allele in genotype} - {WILD, locus.sex_system.blank}
    if {locus.allele(allele).name for allele in alleles} == {look.name}:
        copies = {sum(allele in alleles for allele in genotype) for genotype in genotypes}
        if len(copies) > 1:
            return _("one copy or two")
        return _("two copies") if 2 in copies else _("one copy")
    return plain(listed([genotype_words(locus, genotype) for genotype in genotypes], either=True))


def plate_words(look: str, copies: str, animal: Words) -> Sentence:
    """What an animal on a plate shows, and which copies show it where they are told."""
    told = _("{look}, {copies}: {animal}.") if copies else _("{look}: {animal}.")
    return said(told, look=capital(look), copies=copies, animal=animal)


def not_seen_yet(looks: Sequence[Words]) -> Sentence:
    """What no animal in the records shows; empty for nothing."""
    return said(_("None of our animals shows {looks} yet."), looks=listed(looks, either=True)) if looks else ()


def no_photograph_of(looks: Sequence[Words]) -> Sentence:
    """What has no photograph; empty for nothing."""
    return said(_("Not photographed yet: {looks}."), looks=listed(looks)) if looks else ()


def look_words(locus: Locus, genotype: Genotype) -> str:
    """What a genotype shows, in words."""
    if genotype in locus.lethal:
        return _("does not live to be born")
    look = locus.shown.get(genotype)
    return locus.look(look).name if look else _("looks normal")


def passed_on_words(locus: Locus, genotype: Genotype) -> str:
    """What the young of an animal with that genotype get from it."""
    named = [allele for allele in genotype if allele not in (WILD, locus.sex_system.blank)]
    if not named:
        return _("passes on none")
    if genotype in locus.lethal:
        return ""
    if locus.sex_system.blank and locus.sex_system.blank in genotype:
        young = _("sons") if locus.sex_system.one_copy_sex is Sex.FEMALE else _("daughters")
        return _("all its {young} get one").format(young=young)
    if len(named) == 1:
        return _("about 50 in 100 of its young get one")
    return _("every young gets one") if named[0] == named[1] else _("every young gets one or the other")


@dataclass(frozen=True, slots=True)
class BirthWords:
    """Words for one way of being born: ``clutch``, ``clutches``, ``hatchlings``, ``hatched``.

    ``none_yet`` is said of a litter before its young are here.
    """

    litter: str
    litters: str
    many: str
    came: str
    none_yet: str


def birth_words(species: Species) -> BirthWords:
    """The words that fit a species."""
    if species.births is Births.EGGS:
        return BirthWords(_("clutch"), _("clutches"), _("hatchlings"), _("hatched"), _("Nothing has hatched yet."))
    return BirthWords(_("litter"), _("litters"), _("newborns"), _("born"), _("No young have been born yet."))
