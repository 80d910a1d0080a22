"""What pairings at one gene give, in words for small tables."""

from fractions import Fraction

from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.words.inheritance import genotype_words, look_words
from sitegen.words.numbers import about_in_100, count_text, simple_fraction
from sitegen.words.speech import _, capital


def pairings_heading() -> str:
    """What the section is called."""
    return _("What pairings give")


def pairings_intro() -> str:
    """What the figures count."""
    return _("Of 100 living young from many such pairings. A single litter can differ much.")


def of_one_allele(name: str) -> str:
    """The title of the table of one allele of a series."""
    return _("{name} alone").format(name=capital(name))


def of_two_alleles(first: str, second: str) -> str:
    """The title of the table of two alleles of a series together."""
    return _("{first} and {second} together").format(first=capital(first), second=second)


def _copies(locus: Locus, genotype: Genotype, *, alone: bool) -> str:
    """``one copy of motley``; without the name where one allele alone is in play."""
    if not alone:
        return genotype_words(locus, genotype)
    count = sum(allele not in (WILD, locus.sex_system.blank) for allele in genotype)
    return (_("no copy"), _("one copy"), _("two copies"))[count]


def parent_words(locus: Locus, genotype: Genotype, sex: Sex, *, alone: bool) -> str:
    """One parent by its copies, and by its sex where that matters: ``dam with one copy``, ``one copy of motley``."""
    copies = _copies(locus, genotype, alone=alone)
    named = {Sex.FEMALE: _("dam with {copies}"), Sex.MALE: _("sire with {copies}"), Sex.UNKNOWN: "{copies}"}[sex]
    return named.format(copies=copies)


def pair_words(first: str, second: str, *, sexed: bool) -> str:
    """The two parents of a row; ``sexed`` where each is named by its sex."""
    if sexed:
        return capital(_("{first}; {second}").format(first=first, second=second))
    if first == second:
        return capital(_("{parent} in each").format(parent=first))
    return capital(_("{first} with {second}").format(first=first, second=second))


def sex_heading(sex: Sex) -> str:
    """Whose young a part of a row counts: empty where sex makes no difference."""
    return {Sex.FEMALE: _("Of 100 daughters"), Sex.MALE: _("Of 100 sons"), Sex.UNKNOWN: ""}[sex]


def given_words(locus: Locus, genotype: Genotype, chance: Fraction, *, alone: bool) -> tuple[str, str, str]:
    """How many of 100, the exact fraction where the number is rounded, and what they have and show."""
    exact = simple_fraction(chance) if (chance * 100).denominator != 1 else ""
    return count_text(about_in_100(chance)), exact, _what(locus, genotype, alone=alone)


def _what(locus: Locus, genotype: Genotype, *, alone: bool) -> str:
    """What the young have, and what they show."""
    named = [allele for allele in genotype if allele not in (WILD, locus.sex_system.blank)]
    look = locus.shown.get(genotype)
    if not named:
        return _("no copy")
    copies = _copies(locus, genotype, alone=alone)
    if not look:
        return _("{copies}, carried unseen").format(copies=copies)
    sometimes = any(locus.allele(allele).penetrance != 1 for allele in named)
    told = _("{copies}: {look}, though it does not always show") if sometimes else _("{copies}: {look}")
    return told.format(copies=copies, look=look_words(locus, genotype))


def none_live() -> str:
    """What stands for a pairing of which no young can live."""
    return _("no young of this pair live")


def loss_words(living: Fraction) -> str:
    """That some young of a pairing do not live; empty when all do."""
    if living == 1:
        return ""
    lost = 1 - living
    exact = simple_fraction(lost) if (lost * 100).denominator != 1 else ""
    brackets = f" ({exact})" if exact else ""
    told = _("About {count} in 100 of what is conceived{exact} does not live, so there are fewer young.")
    return told.format(count=count_text(about_in_100(lost)), exact=brackets)
