"""Questions on a terminal, each answer checked as the record itself would be."""

import sys
from collections.abc import Callable, Collection, Mapping
from typing import Any

import click

from sitegen.content.gene_names import GeneNames
from sitegen.content.litters import FailedAs
from sitegen.content.references import same
from sitegen.content.report import At, Report
from sitegen.content.species import bind_species
from sitegen.content.values import parse_date
from sitegen.findings import Place, WrongUse, nearest
from sitegen.keeper.lookup import find_animal, find_litter, find_number, find_record
from sitegen.keeper.new_records import SEES_NOTHING, split, undescribed
from sitegen.keeper.records import Records

Said = Mapping[str, Any]
Complaint = Callable[[str], str]
"""An answer, to what is wrong with it; nothing where it will do."""


def asked(missing: str, said: Said, ask: Callable[[], dict[str, Any]]) -> Said:
    """What was said, and the answers to what was not.

    Raises:
        click.UsageError: There is nobody to ask.
    """
    if not sys.stdin.isatty():
        raise click.UsageError(f"{missing} is missing; say it, or run this on a terminal to be asked")
    return {**said, **ask()}


def ask_missing(records: Records, said: Said, **questions: str) -> Said:
    """What was said, and the answers to the questions of what was not; an animal is asked for until it is known.

    Raises:
        click.UsageError: There is nobody to ask.
    """
    missing = [key for key in questions if not said[key]]
    if not missing:
        return said
    checks = {"animal": _animal_or_litter(records), "record": found_by(lambda answer: find_record(records, answer))}
    named = " and ".join(key.upper() for key in missing)
    return asked(named, said, lambda: {k: ask(questions[k], checks.get(k), needed=True) for k in missing})


def ask_animal(records: Records, said: Said) -> dict[str, Any]:
    """Name, species, sex, birth, looks, parents and what was stated."""
    answers: dict[str, Any] = {"name": ask("What is it called?", needed=True)}
    species = list(records.forms.species)
    if not said["species"] and len(species) > 1:
        answers["species"] = ask(f"Which species ({', '.join(species)})?", one_of(species), needed=True)
    chosen = answers.get("species") or said["species"] or next(iter(species), "")
    answers |= _ask_evidence(said, _names(records, chosen))
    if not said["dam"] and not said["from_litter"]:
        answers["dam"] = ask("Its mother, if she is in your records (Enter: not known):", _animals(records))
    if not said["sire"] and not said["from_litter"]:
        answers["sire"] = split([ask("Its father, likewise (Enter: not known):", _animals(records))])
    if not said["stated"]:
        names = _names(records, chosen)
        genes = list(names.by_locus)[:2] if names else []
        such = f", such as {', '.join(f'{gene}={how}' for gene, how in zip(genes, ('certain', '66%'), strict=False))}"
        question = f"What did its seller state{such if genes else ''} (Enter: nothing; ?: a list)?"
        answers["stated"] = split([ask(question, _stated(names))])
    return answers


def ask_young(records: Records, said: Said) -> dict[str, Any]:
    """The litter, the number, sex and looks."""
    litters = list(records.forms.litters)
    litter = ask(f"Which litter ({', '.join(litters[-6:]) or 'none is recorded yet'})?", _litter(records), needed=True)
    blank = undescribed(records, find_litter(records, litter).shown)
    hint = f"{blank}, to be filled in" if blank else "a new one"
    answers: dict[str, Any] = {"litter": litter, "number": ask(f"Its number (Enter: {hint}):") or blank}
    if answers["number"] and find_number(records, find_litter(records, litter).shown, answers["number"]):
        click.echo("It is listed; what stands there stays as it is.", err=True)
    only = next(iter(records.forms.species)) if len(records.forms.species) == 1 else ""
    return answers | _ask_evidence(said, _names(records, only), born=False)


def ask_litter(records: Records, said: Said) -> dict[str, Any]:
    """Parents, days and counts."""
    answers: dict[str, Any] = {"dam": ask("The mother:", _animals(records), needed=True)}
    question = "The father, or those it may have been, with commas:"
    answers["sire"] = split([ask(question, _animals(records), needed=True)])
    if not said["paired"]:
        answers["paired"] = ask("When were they put together (Enter: not known)?", _date)
    return answers | _ask_course(said, set())


def ask_outcome(records: Records, said: Said) -> dict[str, Any]:
    """The litter, and what is not noted of it yet."""
    unborn = [n for n, form in records.forms.litters.items() if form and form.born is None and form.failed is None]
    question = f"Which litter ({', '.join(unborn[-6:]) or 'none is waited for'})?"
    litter = ask(question, _litter(records), needed=True)
    form = records.forms.litters[find_litter(records, litter).shown]
    noted = {key for key in ("laid", "born", "eggs", "infertile") if form and getattr(form, key) is not None}
    answers = {"litter": litter} | _ask_course(said, noted)
    if not (said["failed"] or said["born"] or answers.get("born") or "born" in noted):
        question = f"Did it fail ({', '.join(FailedAs)}; Enter: no)?"
        answers["failed"] = ask(question, one_of([*FailedAs])).lower()
    return answers


def _ask_course(said: Said, noted: Collection[str]) -> dict[str, Any]:
    """Days and counts of a litter, beside those that were said or are noted already."""
    answers: dict[str, Any] = {}
    for key, question in (
        ("laid", "When were the eggs laid (Enter: not yet, or live young)?"),
        ("born", "When were the young born or hatched (Enter: not yet)?"),
    ):
        answers |= {} if said[key] or key in noted else {key: ask(question, _date)}
    for key, question in (("eggs", "How many eggs (Enter: not counted)?"), ("infertile", "How many infertile?")):
        if (answers.get("laid") or "laid" in noted) and not said[key] and key not in noted:
            answers[key] = ask(question, _count)
    if (answers.get("born") or said["born"] or "born" in noted) and not said["n_young"]:
        answers["n_young"] = int(ask("How many living young, to be listed (Enter: none)?", _count) or 0)
    return answers


def _ask_evidence(said: Said, names: GeneNames | None, *, born: bool = True) -> dict[str, Any]:
    answers: dict[str, Any] = {}
    if not said["sex"]:
        answers["sex"] = ask("Sex (female, male; Enter: not known)?", one_of(["female", "male", "unknown"]))
    if born and not said["born"]:
        answers["born"] = ask("When was it born or hatched (2021-07-14, 2021-07, 2021; Enter: not known)?", _date)
    if not said["shows"]:
        question = "Which genes does it show, with commas (nothing: looked, saw none; Enter: not judged; ?: a list)?"
        answers["shows"] = split([ask(question, _looks(names))])
    return answers


def ask(question: str, complaint: Complaint | None = None, *, needed: bool = False) -> str:
    """The answer, asked again until there is nothing to complain of."""
    while True:
        answer: str = click.prompt(question, default="", show_default=False, prompt_suffix=" ", err=True).strip()
        wrong = ("this is needed" if needed else "") if not answer else complaint(answer) if complaint else ""
        if not wrong:
            return answer
        click.echo(f"  {wrong}", err=True)


def one_of(words: list[str]) -> Complaint:
    """What is to be said of an answer that is none of the words; nothing otherwise."""

    def complaint(answer: str) -> str:
        begun = [word for word in words if word.startswith(answer.lower())]
        close = begun[0] if len(begun) == 1 else nearest(answer, words)
        near = f"; nearest: {close}" if close else ""
        return "" if answer.lower() in words else f"one of {', '.join(words)}{near}"

    return complaint


def _date(answer: str) -> str:
    return "" if parse_date(answer) else "a date such as 2021-07-14, 2021-07 or 2021"


def _count(answer: str) -> str:
    return "" if answer.isascii() and answer.isdigit() and len(answer) < 4 else "a whole number, in digits"


def _names(records: Records, species: str) -> GeneNames | None:
    """The gene names of a species; None when its file cannot be read, or there are several and none was named."""
    form = records.forms.species.get(species)
    return bind_species(species, form, Report()).names if form else None


def _looks(names: GeneNames | None) -> Complaint:
    def complaint(answer: str) -> str:
        if names and answer == "?":
            return ", ".join(look.id for locus in names.by_locus.values() for look in locus.looks)
        report = Report()
        for part in split([answer]):
            if names and part.lower() not in SEES_NOTHING:
                names.find_looks(At(part, Place("")), report)
        return _first(report)

    return complaint


def _stated(names: GeneNames | None) -> Complaint:
    def complaint(answer: str) -> str:
        if names and answer == "?":
            return ", ".join(allele.id for locus in names.by_locus.values() for allele in locus.alleles)
        report = Report()
        for part in split([answer]):
            gene, sign, what = part.partition("=")
            if not sign or not what.strip():
                return "write GENE=certain, GENE=66% or GENE=1/2"
            if names:
                names.find_locus(At(gene.strip(), Place("")), report)
        return _first(report)

    return complaint


def _first(report: Report) -> str:
    if not report.findings:
        return ""
    finding = report.findings[0]
    return finding.message + (f"; nearest: {finding.nearest}" if finding.nearest else f"; {finding.expected}")


def found_by(find: Callable[[str], object]) -> Complaint:
    """What the search for a record says of an answer that names none."""

    def complaint(answer: str) -> str:
        try:
            find(answer)
        except WrongUse as error:
            return str(error)
        return ""

    return complaint


def _animals(records: Records) -> Complaint:
    """For answers that name one animal, or several with commas."""
    return found_by(lambda answer: [find_animal(records, part) for part in split([answer])])


def _litter(records: Records) -> Complaint:
    return found_by(lambda answer: find_litter(records, answer))


def _animal_or_litter(records: Records) -> Complaint:
    animals = _animals(records)
    return lambda answer: "" if same(answer) in records.forms.litters else animals(answer)
