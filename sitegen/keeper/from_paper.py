"""A new animal from a buyer's paper: what the breeder stated, as a previous keeper's word, and where it is from.

What the paper says of genes is put into the names of one's own species file; a gene that is not there is told, not
guessed.
"""

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sitegen.content.gene_names import GeneNames
from sitegen.content.report import At, Report
from sitegen.content.species import bind_species
from sitegen.evidence.answers import Known
from sitegen.evidence.kinds import Basis
from sitegen.exact import parse_fraction, writable, written
from sitegen.findings import ContentError, Finding, Kind, Level, Place, nearest
from sitegen.genetics.loci import Genotype, Locus, Sex, genotype_text
from sitegen.keeper.lookup import find_species
from sitegen.keeper.new_records import new_animal
from sitegen.keeper.papers import ClaimPart, LookPart, Paper
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Proposal, Records, check_proposal

GENERALLY = "a previous keeper"
"""From whom an animal came, as it is published; the name stands under ``private``."""
_WIDEST = 108
_MOST_SIGNS = 100_000
"""Of a chance in a paper: it is exact, and in a large family long."""
_BASES = {
    Basis.OWN_RECORDS: "by the breeder's own records",
    Basis.DNA_TEST: "by a DNA test",
    Basis.PROVEN_BY_YOUNG: "proven by young, in the breeder's records",
    Basis.PREVIOUS_KEEPER: "by the word of a keeper before the breeder",
    Basis.TAKEN_FOR_GRANTED: "by the breeder's own records, as long as what is taken for granted is so",
}

Odds = Mapping[Genotype, Fraction]


def add_from_paper(
    records: Records, paper: Paper, said: Mapping[str, Value], name: str = "", species: str = "", said_id: str = ""
) -> Proposal:
    """An animal that a paper describes, with a folder of its own; what is said besides overrides the paper.

    ``name`` and ``species`` are those of the paper if empty; its folder is made of the name if none is said.

    Raises:
        ContentError: Species or genes are not known here, or the records contradict the paper.
        WrongUse: The id is taken, or what is said cannot be.
    """
    meant = find_species(records, species) if species else _species_of_paper(records, paper)
    form = records.forms.species.get(meant)
    # a species file that cannot be read is told by the check of the whole
    names = bind_species(meant, form, Report()).names if form else GeneNames(meant, "", {}, {}, {}, {})
    taken = _PaperGenes(names, paper).taken()
    entries = _entries(paper, taken, said, names)
    comments = [line for told in _told(paper, taken) for line in _wrapped(told)]
    proposal = new_animal(records, name.strip() or paper.form.animal.name, meant, entries, said_id, comments)
    animal = proposal.files[0].path.split("/")[1]
    own_loci = _loci_said(_group(said, "stated"), names)
    odds = {locus: share for locus, share in taken.odds.items() if locus not in own_loci}
    compared = _compared(check_proposal(records, proposal).known, animal, odds, paper)
    return replace(proposal, told=f"{proposal.told}{compared}")


def _species_of_paper(records: Records, paper: Paper) -> str:
    """The id of one's own species that the paper means: by scientific name, else by id or name.

    Raises:
        ContentError: There is none, or the one of that name has another scientific name.
    """
    meant = paper.form.animal.species
    own = {species: form for species, form in records.forms.species.items() if form}
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


@dataclass(frozen=True, slots=True)
class Taken:
    """The genes of a paper in one's own names.

    Attributes:
        odds: Locus id to the exact odds that the paper states.
        stated: Locus ids whose odds are to be written; what is seen says the others.
        unsure: Locus ids at which the odds hold what nobody could judge yet, or have judged already: not seeing
            it must not count once more.
    """

    looks: tuple[str, ...]
    odds: Mapping[str, Odds]
    stated: tuple[str, ...]
    unsure: tuple[str, ...]


@dataclass(slots=True)
class _PaperGenes:
    """Looks up what a paper says in one's own names of genes."""

    names: GeneNames
    paper: Paper
    report: Report = field(default_factory=Report)

    def taken(self) -> Taken:
        """The genes of the paper.

        Raises:
            ContentError: A gene, look or genotype is not in the species file, or odds are not sound.
        """
        looks = {locus: look for seen in self.paper.form.shows.looks for locus, look in self._look(seen)}
        odds: dict[str, Odds] = {}
        unanswered: list[str] = []
        for claim in self.paper.form.claims:
            locus = self._locus(claim)
            if locus is None:
                continue
            found = self._odds(locus, claim)
            if found is not None and odds.setdefault(locus.id, found) != found:
                message = f"the paper states two different odds for {claim.locus}"
                remedy = "ask the breeder which of them holds"
                self._tell(Kind.ODDS_WRONG, claim.gene, message, "one and the same for each gene", remedy)
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
        """True when a genotype with any chance can be seen."""
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
            message = f'"{claim.allele}" is a gene of {allele[0].id} here, and of {claim.locus} in the paper'
            remedy = "add the animal by hand, without the paper"
            self._tell(Kind.GENE_UNKNOWN, claim.locus, message, f"genes as in {self.names.file}", remedy)
            return None
        if allele:
            return allele[0]
        return found[0] if found else self.names.find_locus(self._at(claim.allele or claim.locus), self.report)

    def _odds(self, locus: Locus, claim: ClaimPart) -> Odds | None:
        """The odds that a claim states; None where it states none, or where they are told as wrong."""
        remedy = "ask the breeder for the file again"
        odds: dict[Genotype, Fraction] = {}
        for text, share in claim.genotypes.items():
            genotype = self.names.find_genotype(locus, self._at(text), self.report)
            chance = parse_fraction(share, _MOST_SIGNS)
            if chance is None:
                self._tell(Kind.ODDS_WRONG, share, f'"{share}" is not a chance', "a fraction such as 2/3", remedy)
            if genotype is None or chance is None:
                return None
            odds[genotype] = odds.get(genotype, Fraction(0)) + chance
        total = sum(odds.values(), Fraction(0))
        if odds and total != 1:
            message = f"the odds for {claim.gene} sum to {written(total)}"
            self._tell(Kind.ODDS_WRONG, claim.gene, message, "odds that sum to exactly 1", remedy)
            return None
        return writable({genotype: chance for genotype, chance in odds.items() if chance}) or None

    def _at(self, word: str) -> At[str]:
        return At(word, *self.paper.place(word))

    def _tell(self, kind: Kind, word: str, message: str, expected: str, remedy: str) -> None:
        self.report.error(kind, self._at(word), message, expected=expected, remedy=remedy)


def _entries(paper: Paper, taken: Taken, said: Mapping[str, Value], names: GeneNames) -> dict[str, Value]:
    """The values of the record: those of the paper, and over them what was said besides."""
    animal = paper.form.animal
    found: dict[str, Value] = {"sex": animal.sex.value} if animal.sex is not Sex.UNKNOWN else {}
    facts = {"born": animal.born, "died": animal.died, "line": animal.line, "locality": animal.locality}
    found |= {key: value for key, value in facts.items() if value}
    if paper.form.shows.judged or taken.looks:
        found["shows"] = list(taken.looks)
    if taken.unsure and "shows" not in said:
        found["unsure"] = list(taken.unsure)
    found |= said
    acquired = _group(said, "acquired")
    found["acquired"] = {**acquired, "from": acquired.get("from") or GENERALLY}
    own = _group(said, "stated")
    stated: dict[str, Value] = {
        locus: {genotype_text(genotype): written(share) for genotype, share in taken.odds[locus].items()}
        for locus in taken.stated
        if locus not in _loci_said(own, names)
    }
    stated |= own
    if stated:
        found["stated"] = stated
    found["private"] = {"from_paper": _origin(paper)}
    return found


def _group(said: Mapping[str, Value], key: str) -> Mapping[str, Value]:
    """The group of values that was said of a name; an empty one when nothing was."""
    found = said.get(key)
    return found if isinstance(found, Mapping) else {}


def _loci_said(stated: Mapping[str, Value], names: GeneNames) -> tuple[str, ...]:
    """The loci of which something was said besides the paper."""
    found = (names.find_locus(At(gene, Place("")), Report()) for gene in stated)
    return tuple(locus.id for locus in found if locus)


def _origin(paper: Paper) -> dict[str, Value]:
    """What is kept of where the animal is from; names of persons stand here and nowhere else."""
    form = paper.form
    told = {
        "record": form.record,
        "date": form.date,
        "animal": form.animal.id,
        "page": form.animal.page,
        "breeder": form.breeder.name,
        "site": form.breeder.site,
        "email": form.breeder.email,
    }
    return {key: value for key, value in told.items() if value}


def _told(paper: Paper, taken: Taken) -> Iterator[str]:
    """The words of the paper, for the keeper to read."""
    form = paper.form
    yield f"Taken over from a buyer's paper of {form.date}, record version {form.record}. It said:"
    for claim in form.claims:
        yield f"- {claim.gene} ({_BASES[claim.basis]}): {' '.join([claim.words, *claim.reasons])}"
    if taken.unsure:
        yield "A gene under unsure was not judged yet, or is judged in the odds already; take it out when you judge it."


def _wrapped(told: str) -> list[str]:
    """Lines of a comment; signs that cannot be seen are left out."""
    seen = "".join(sign if sign.isprintable() else " " for sign in told)
    return textwrap.wrap(" ".join(seen.split()), _WIDEST, subsequent_indent="  " if told.startswith("-") else "")


def _compared(known: Known | None, animal: str, odds: Mapping[str, Odds], paper: Paper) -> str:
    """What is to be said of the paper beside the records as they would stand.

    Raises:
        ContentError: The two contradict each other; nothing is to be written.
    """
    if known is None:
        return " Other records are in error, so that its odds could not be compared with them."
    found = known.answers.posteriors.get(animal, {})
    if clashing := list(_impossible(found, odds, paper)):
        raise ContentError(clashing)
    differing = [locus for locus, share in odds.items() if found.get(locus) != share]
    if not differing:
        return ""
    return f" Your records lead to other odds than the paper for {', '.join(differing)}; see sitegen why {animal}."


def _impossible(found: Mapping[str, Odds], odds: Mapping[str, Odds], paper: Paper) -> Iterator[Finding]:
    """A finding for each gene at which nothing that the paper holds possible is left."""
    for locus, stated in odds.items():
        left = found.get(locus)
        if left is None or any(left.get(genotype) for genotype in stated):
            continue
        claim = next((claim for claim in paper.form.claims if claim.locus == locus or claim.allele == locus), None)
        place, width = paper.place(claim.gene if claim else locus)
        yield Finding(
            Level.ERROR,
            Kind.CONTRADICTION,
            place,
            f"the paper states {_odds_text(stated)} for {locus}, and your records leave only {_odds_text(left)}",
            expected="a statement that can be true beside your records",
            remedy="correct the record that is wrong; if you know better than the paper, say it with --stated",
            width=width,
        )


def _odds_text(odds: Odds) -> str:
    return ", ".join(f"{genotype_text(genotype)}: {written(share)}" for genotype, share in odds.items())
