"""What a paper says of genes, in the names of one's own species file; a gene that is not there is told, not guessed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.bind_species import bind_species
from sitegen.content.gene_names import GeneNames
from sitegen.content.report import At, Report
from sitegen.exact import parse_fraction, writable, written
from sitegen.findings import ContentError, Finding, Kind, Level, nearest
from sitegen.genetics.loci import Genotype, Locus, genotype_text
from sitegen.keeper.desk import Desk
from sitegen.keeper.papers import ClaimPart, LookPart, Paper

_MOST_SIGNS = 100_000
"""Of a chance in a paper: it is exact, and in a large family long."""

Odds = Mapping[Genotype, Fraction]


@dataclass(frozen=True, slots=True)
class Taken:
    """The genes of a paper in one's own names.

    Attributes:
        looks: Ids of the looks that were seen.
        odds: Locus id to the exact odds that the paper states.
        stated: Locus ids whose odds are to be written; what is seen says the others.
        unsure: Locus ids at which the odds hold what nobody could judge yet, or have judged already: not seeing
            it must not count once more.
    """

    looks: tuple[str, ...]
    odds: Mapping[str, Odds]
    stated: tuple[str, ...]
    unsure: tuple[str, ...]

    def stated_text(self) -> dict[str, dict[str, str]]:
        """As it is written in a record."""
        return {locus: {genotype_text(g): written(share) for g, share in self.odds[locus].items()}
                for locus in self.stated}  # fmt: skip


def species_of_paper(desk: Desk, paper: Paper) -> str:
    """The id of one's own species that the paper means: by scientific name, else by id or name.

    Raises:
        ContentError: There is none, or the one of that name has another scientific name.
    """
    meant = paper.form.animal.species
    own = {species: form for species, form in desk.forms.species.items() if form}
    scientific = {i: form.scientific.value.casefold() for i, form in own.items() if form.scientific}
    names = {i: form.name.value.casefold() if form.name else i.replace("-", " ") for i, form in own.items()}
    wanted = (meant.scientific or "").casefold()
    if found := next((i for i, name in scientific.items() if name == wanted), ""):
        return found
    named = next((i for i in own if i == meant.id or names[i] == meant.name.casefold()), "")
    if named and not (wanted and named in scientific):
        return named
    shown = meant.scientific or meant.name
    place, width = paper.place(shown)
    kind, expected = Kind.SPECIES_UNKNOWN, f"one of {', '.join(own) or 'no species file yet'}"
    message = f'there is no species "{shown}" in the folder species'
    if named:
        kind, expected = Kind.SPECIES_CLASH, f"the scientific name that species/{named}.yaml gives"
        message = f'the paper is about "{shown}", and the {meant.name} here has another scientific name'
    near = nearest(meant.name, names.values())
    remedy = "say which species it is with --species, or add its file with sitegen add species"
    raise ContentError([Finding(Level.ERROR, kind, place, message, expected, near, remedy, width)])


def names_of(desk: Desk, species: str) -> GeneNames:
    """The gene names of a species; empty, and told elsewhere, when its file cannot be read."""
    form = desk.forms.species.get(species)
    return bind_species(species, form, Report()).names if form else GeneNames(species, "", {}, {}, {}, {})


def taken_over(names: GeneNames, paper: Paper) -> Taken:
    """The genes of a paper.

    Raises:
        ContentError: A gene, look or genotype is not in the species file, or odds are not sound.
    """
    return _Reader(names, paper).taken()


@dataclass(slots=True)
class _Reader:
    names: GeneNames
    paper: Paper
    report: Report = field(default_factory=Report)

    def taken(self) -> Taken:
        looks = {locus: look for seen in self.paper.form.shows.looks for locus, look in self._look(seen)}
        odds: dict[str, Odds] = {}
        unanswered: list[str] = []
        for claim in self.paper.form.claims:
            locus = self._locus(claim)
            if locus is None:
                continue
            found = self._odds(locus, claim)
            if found is not None and odds.setdefault(locus.id, found) != found:
                self._tell(Kind.ODDS_WRONG, claim.gene, f"the paper states two different odds for {claim.locus}",
                           "one and the same for each gene", "ask the breeder which of them holds")  # fmt: skip
            if not claim.genotypes:
                unanswered.append(locus.id)
        if self.report.findings:
            raise ContentError(self.report.findings)
        return Taken(
            looks=tuple(looks.values()),
            odds=odds,
            stated=tuple(i for i in odds if not (i in looks and self._said_by_look(i, looks[i]))),
            unsure=tuple(
                dict.fromkeys([*unanswered, *(i for i in odds if i not in looks and self._shows(i, odds[i]))])
            ),
        )

    def _said_by_look(self, locus: str, look: str) -> bool:
        """True when only one genotype has the look."""
        return sum(shown == look for shown in self.names.by_locus[locus].shown.values()) == 1

    def _shows(self, locus: str, odds: Odds) -> bool:
        return any(genotype in self.names.by_locus[locus].shown for genotype in odds)

    def _look(self, seen: LookPart) -> Iterator[tuple[str, str]]:
        """The locus and look meant, by id, else by name."""
        for word in (seen.look, seen.name):
            found = self.names.find_looks(self._at(word), Report())
            if found and len(found) == 1:
                yield found[0].locus, found[0].id
                return
        self.names.find_looks(self._at(seen.look), self.report)

    def _locus(self, claim: ClaimPart) -> Locus | None:
        """The locus meant: by the allele, else by the locus, the look or the name in words."""
        allele = self.names.find_allele(self._at(claim.allele), Report()) if claim.allele else None
        words = [claim.locus, *([claim.look] if claim.look else []), claim.gene]
        found = [locus for word in words if (locus := self.names.find_locus(self._at(word), Report()))]
        if allele and found and allele[0].id != found[0].id:
            self._tell(Kind.GENE_UNKNOWN, claim.locus,
                       f'"{claim.allele}" is a gene of {allele[0].id} here, and of {claim.locus} in the paper',
                       f"genes as in {self.names.file}", "add the animal by hand, without the paper")  # fmt: skip
            return None
        if allele:
            return allele[0]
        return found[0] if found else self.names.find_locus(self._at(claim.allele or claim.locus), self.report)

    def _odds(self, locus: Locus, claim: ClaimPart) -> Odds | None:
        """The odds that a claim states; None where it states none, or where they are told as wrong."""
        odds: dict[Genotype, Fraction] = {}
        for text, share in claim.genotypes.items():
            genotype = self.names.find_genotype(locus, self._at(text), self.report)
            chance = parse_fraction(share, _MOST_SIGNS)
            if genotype is None or chance is None:
                if chance is None:
                    self._tell(Kind.ODDS_WRONG, share, f'"{share}" is not a chance', "a fraction such as 2/3",
                               "ask the breeder for the file again")  # fmt: skip
                return None
            odds[genotype] = odds.get(genotype, Fraction(0)) + chance
        if odds and sum(odds.values()) != 1:
            total = written(sum(odds.values(), Fraction(0)))
            self._tell(Kind.ODDS_WRONG, claim.gene, f"the odds for {claim.gene} sum to {total}",
                       "odds that sum to exactly 1", "ask the breeder for the file again")  # fmt: skip
            return None
        return writable({genotype: chance for genotype, chance in odds.items() if chance}) or None

    def _at(self, word: str) -> At[str]:
        return At(word, *self.paper.place(word))

    def _tell(self, kind: Kind, word: str, message: str, expected: str, remedy: str) -> None:
        self.report.error(kind, self._at(word), message, expected=expected, remedy=remedy)
