"""A new animal from a buyer's paper: what the breeder stated, as a previous keeper's word, and where it is from."""

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import replace

from sitegen.content.binding import bind_content
from sitegen.content.gene_names import GeneNames
from sitegen.content.report import At, Report
from sitegen.evidence.answers import answers
from sitegen.evidence.kinds import Basis
from sitegen.exact import written
from sitegen.findings import ContentError, Finding, Kind, Level, Place
from sitegen.genetics.loci import Sex, genotype_text
from sitegen.keeper.animals import Noted, new_animal, species_meant
from sitegen.keeper.desk import Change, Desk, check_change, content_after
from sitegen.keeper.paper_genes import Odds, Taken, names_of, species_of_paper, taken_over
from sitegen.keeper.papers import Paper
from sitegen.keeper.spelling import Value
from sitegen.keeper.usual import ANIMAL

GENERALLY = "a previous keeper"
"""From whom an animal came, as it is published; the name stands under ``private``."""
_WIDEST = 108
_BASES = {
    Basis.OWN_RECORDS: "by the breeder's own records",
    Basis.DNA_TEST: "by a DNA test",
    Basis.PROVEN_BY_YOUNG: "proven by young, in the breeder's records",
    Basis.PREVIOUS_KEEPER: "by the word of a keeper before the breeder",
}


def add_from_paper(
    desk: Desk, paper: Paper, noted: Noted, name: str = "", species: str = "", said_id: str = "", on: str = ""
) -> Change:
    """An animal that a paper describes, with a folder of its own; what is said besides overrides the paper.

    Args:
        desk: The records as they stand.
        paper: The paper.
        noted: What is said besides.
        name: What it is called; as in the paper if empty.
        species: Its species; that of the paper if empty.
        said_id: Its folder; made of the name if empty.
        on: The day it came; not recorded if empty.

    Raises:
        ContentError: Species or genes are not known here, or the records contradict the paper.
        WrongUse: The id is taken, or what is said cannot be.
    """
    meant = species_meant(desk, species) if species else species_of_paper(desk, paper)
    names = names_of(desk, meant)
    taken = taken_over(names, paper)
    said = replace(noted, acquired=(noted.acquired[0] or on, noted.acquired[1] or GENERALLY)).entries()
    entries = _entries(paper, taken, said, names)
    comments = [line for told in _told(paper, taken) for line in _wrapped(told)]
    change = new_animal(desk, name.strip() or paper.form.animal.name, meant, entries, said_id, comments)
    check_change(desk, change)
    left_to_breeder = _loci_said(said.get("stated"), names)
    odds = {locus: share for locus, share in taken.odds.items() if locus not in left_to_breeder}
    return replace(change, told=f"{change.told}{_compared(desk, change, odds, paper)}")


def _entries(paper: Paper, taken: Taken, said: Mapping[str, Value], names: GeneNames) -> dict[str, Value]:
    """The lines of the record: those of the paper, and over them what was said besides."""
    animal = paper.form.animal
    found: dict[str, Value] = {"sex": animal.sex.value} if animal.sex is not Sex.UNKNOWN else {}
    facts = {"born": animal.born, "died": animal.died, "line": animal.line, "locality": animal.locality}
    found |= {key: value for key, value in facts.items() if value}
    if paper.form.shows.judged or taken.looks:
        found["shows"] = list(taken.looks)
    if taken.unsure and "shows" not in said:
        found["unsure"] = list(taken.unsure)
    found |= said
    own = said.get("stated")
    theirs = {locus: odds for locus, odds in taken.stated_text().items() if locus not in _loci_said(own, names)}
    if stated := {**theirs, **(own if isinstance(own, Mapping) else {})}:
        found["stated"] = stated
    found["private"] = {"from_paper": _origin(paper)}
    return {key: found[key] for key in sorted(found, key=ANIMAL.index)}


def _loci_said(stated: Value | None, names: GeneNames) -> tuple[str, ...]:
    """The loci of which something was said besides the paper."""
    found = (
        names.find_locus(At(gene, Place("")), Report()) for gene in (stated if isinstance(stated, Mapping) else ())
    )
    return tuple(locus.id for locus in found if locus)


def _origin(paper: Paper) -> dict[str, Value]:
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


def _compared(desk: Desk, change: Change, odds: Mapping[str, Odds], paper: Paper) -> str:
    """What is to be said of the paper beside the records as they would stand.

    Raises:
        ContentError: The two contradict each other; nothing is to be written.
    """
    collection = bind_content(content_after(desk, change))[0]
    if collection is None:
        return " Other records are in error, so that its odds could not be compared with them."
    animal = change.files[0].path.split("/")[1]
    found = answers(collection).posteriors.get(animal, {})
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
