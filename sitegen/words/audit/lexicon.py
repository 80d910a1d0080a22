"""The names under which a species' genes, looks and combinations may stand in a text, and what each name means."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.content.gene_names import GeneNames, gene_names
from sitegen.content.species import Species
from sitegen.genetics.loci import WILD, Inheritance, Locus, Look, look_id
from sitegen.words.audit.seen import folded

_NEVER = r"(?!x)x"


@dataclass(frozen=True, slots=True)
class Named:
    """What one name of a text means.

    Attributes:
        carried: (locus, allele) of what an animal "het" for it would carry; empty when that is not clear.
        shown: (locus, look) of what an animal that is called by it shows.
        two_copies: It is the name of a two-copy form.
        from_both: An animal that shows it has it from both its parents.
    """

    carried: tuple[tuple[str, str], ...]
    shown: tuple[tuple[str, str], ...]
    two_copies: bool = False
    from_both: bool = False


@dataclass(frozen=True, slots=True)
class Lexicon:
    """The names of one species.

    Attributes:
        meanings: Spelling (lower case, hyphens for blanks) to meaning.
        name: Regular expression of one name; a longer name comes before a shorter one that begins it.
        bare: The same inside a word ("hetamel").
        supers: Regular expression of the names that "super" makes a two-copy form of.
    """

    species: str
    meanings: dict[str, Named]
    name: str
    bare: str
    supers: str

    def find(self, words: str) -> Named | None:
        """What a name as it stands in a text means, also in the plural."""
        spelling = re.sub(r"\s*/\s*", "/", look_id(words))
        for form in (spelling, spelling.removesuffix("s"), spelling.removesuffix("es")):
            if form in self.meanings:
                return self.meanings[form]
        return None


def lexicon_of(species: Species) -> Lexicon:
    """Every name of a species, from its file."""
    names = gene_names(species.name, species.place.file, species.genome)
    meanings = {
        spelling: _meaning(names, spelling)
        for spelling in dict.fromkeys((*names.looks, *names.alleles))
        if re.search(r"\w", spelling)
    }
    meanings |= {spelling: named for spelling, named in _pairs(species.genome.loci) if spelling not in meanings}
    as_seen = {look_id(folded(spelling)): named for spelling, named in meanings.items()}
    meanings = as_seen | meanings  # labels of a sheet are read as they are written
    supers = [spelling for spelling, named in meanings.items() if _has_super(names, named)]
    return Lexicon(species.id, meanings, _one_of(meanings), _inner(meanings), _one_of(supers))


def _meaning(names: GeneNames, spelling: str) -> Named:
    looks = names.looks.get(spelling, ())
    shown = tuple((look.locus, look.id) for look in looks)
    shapes = [pair for look in looks for pair, seen in names.by_locus[look.locus].shown.items() if seen == look.id]
    both = not any(WILD in pair for pair in shapes)
    if spelling in names.alleles:
        return Named((names.alleles[spelling],), shown, from_both=both)
    carried = [allele for look in looks if (allele := _allele_of(names, look))]
    two = any(_is_two_copies(names.by_locus[look.locus], look) for look in looks)
    return Named(tuple(carried) if len(carried) == len(looks) else (), shown, two, both)


def _allele_of(names: GeneNames, look: Look) -> tuple[str, str] | None:
    """The allele that a look is named after, or of which it is the two-copy form."""
    if look.id in names.alleles:
        return names.alleles[look.id]
    locus = names.by_locus[look.locus]
    doubled = [pair[0] for pair, shown in locus.shown.items() if shown == look.id and pair[0] == pair[1]]
    return (locus.id, doubled[0]) if len(doubled) == 1 else None


def _is_two_copies(locus: Locus, look: Look) -> bool:
    """True for the two-copy form of an allele that also shows with one copy."""
    pairs = [pair for pair, shown in locus.shown.items() if shown == look.id]
    return any(
        allele.inheritance is Inheritance.INCOMPLETE_DOMINANT and pairs == [(allele.id, allele.id)]
        for allele in locus.alleles
    )


def _has_super(names: GeneNames, named: Named) -> bool:
    """True for a single allele that one copy already shows."""
    if len(named.carried) != 1 or named.two_copies:
        return False
    locus, allele = named.carried[0]
    return names.by_locus[locus].allele(allele).inheritance is not Inheritance.RECESSIVE


def _pairs(loci: tuple[Locus, ...]) -> Iterator[tuple[str, Named]]:
    """Two alleles of one locus written with a slash."""
    for locus in loci:
        for first in locus.alleles:
            for second in locus.alleles:
                look = locus.shown.get(locus.genotype(first.id, second.id))
                if first.id != second.id and look:
                    yield look_id(f"{first.id}/{second.id}"), Named((), ((locus.id, look),))


_GERMAN_END = r"(?!-(?!(?:weibchen|mannchen|tiere?|nachzucht\w*|jungtiere?|trager\w*)\b))"
"""A German noun may follow with a hyphen: "Amel-Weibchen"."""


def _inner(spellings: list[str] | dict[str, Named]) -> str:
    """A regular expression of any of the spellings; a hyphen may be a blank."""
    longest_first = sorted(spellings, key=lambda spelling: (-len(spelling), spelling))
    written = [re.escape(spelling).replace(r"\-", r"[\s-]+").replace("/", r"\s*/\s*") for spelling in longest_first]
    return "|".join(written) or _NEVER


def _one_of(spellings: list[str] | dict[str, Named]) -> str:
    """A regular expression of whole words; an s may follow."""
    return rf"(?<![\w%-])(?:{_inner(spellings)})s?(?!\w){_GERMAN_END}(?!['’]\w)"
