"""``waiting.yaml``: the people who wait for an animal. It holds names and contacts, and is never published.

An entry stands under a name of the keeper's choice, so that a change touches the lines of one person alone. What a
person wants in words is for people; species, sex, looks, genes and price are what offers are held against.
"""

import datetime as dt
from dataclasses import dataclass, field
from typing import ClassVar

from sitegen.content.bind_projects import ProjectBinder
from sitegen.content.declaration import ByName, Written, group_of, key_only, keyed
from sitegen.content.prices import ASKED, Money, bind_price
from sitegen.content.projects import Goal
from sitegen.content.references import KnownRecords
from sitegen.content.report import Report
from sitegen.content.values import DAY, SEX, TEXT, TEXTS, PartialDate
from sitegen.content.yaml_tree import Entries, Scalar, entries_of
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId

WAITING_FILE = "waiting.yaml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who waits for an animal.

    ``goal`` has the looks and genes that it must have; an empty species is any, an unknown sex either.
    """

    name: str
    contact: str = keyed(TEXT, "How you reach them.")
    since: PartialDate | None = keyed(DAY, "Since when they wait.")
    wants: str = keyed(TEXT, "What they look for, in their words; no offer is held against it.")
    species: str = keyed(TEXT, "The species; needed beside looks and genes where you keep several.")
    sex: Sex = keyed(SEX, "female or male; either when left out.", usual=Sex.UNKNOWN)
    shows: ClassVar = key_only(TEXTS, "Looks that it must show.")
    carries: ClassVar = key_only(TEXTS, "Genes that it must carry.")
    up_to: Money | None = keyed(ASKED, "The most that they would pay: 140, or 140 EUR.")
    offered: AnimalId = keyed(
        TEXT, "The animal that you have offered them: its folder, or LITTER/NUMBER. Meanwhile it fits nobody else."
    )
    done: PartialDate | None = keyed(DAY, "When they had their animal, or gave it up; then delete the entry soon.")
    goal: Goal = field(default=Goal(()))
    place: Place = field(compare=False)


PERSON = group_of(Person, "an entry of people")


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """Who waits for an animal; never published."""

    people: tuple[Person, ...] = keyed(ByName(PERSON), "Who waits, by a name of your choice.", usual=())


WAITING = group_of(Waiting, WAITING_FILE)


def bind_waiting(form: Written, known: KnownRecords, currency: str | None, report: Report) -> tuple[Person, ...]:
    """Those who wait, the longest first; ``currency`` is as for offers."""
    people = [
        _person(name, form.people[name.text] or PERSON.empty(Entries((), name.place)), known, currency, report)
        for name, _ in entries_of(form.node("people"), Report())  # a fault of it was told when it was read
    ]
    _check_offered(people, report)
    return tuple(sorted(people, key=lambda each: (each.since.earliest if each.since else dt.date.max, each.name)))


def _person(name: Scalar, form: Written, known: KnownRecords, currency: str | None, report: Report) -> Person:
    bound = None
    if form.species or form.shows or form.carries:
        message = "of which species the animal is to be, nobody says"
        bound = known.species_meant(form.species, name.place, message, report)
    return form.record(
        Person,
        name=name.text.strip(),
        species=bound.species.id if bound else "",
        goal=ProjectBinder(known, bound.names, report).goal(form) if bound else Goal(()),
        up_to=bind_price(form.up_to, currency, report),
        offered=(form.offered and known.find_animal(form.offered, report)) or "",
        place=name.place,
    )


def _check_offered(people: list[Person], report: Report) -> None:
    """Tells an animal that was offered to two who both still wait."""
    first: dict[AnimalId, Person] = {}
    for each in people:
        if each.offered and not each.done and (other := first.setdefault(each.offered, each)) is not each:
            report.notice(
                Kind.OFFER_CLASH,
                each.place,
                f"{each.offered} is offered to two people who wait",
                expected="one of them at a time",
                remedy="delete offered at one of them, or write done where it is settled",
                others=(other.place,),
            )
