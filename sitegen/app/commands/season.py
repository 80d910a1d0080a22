"""``sitegen season [YEAR]``: who can breed, for which stage of which project, and what stands against it."""

from collections.abc import Sequence

import click

from sitegen.app.commands.options import Call, shared
from sitegen.app.console import Console
from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection, latest_date
from sitegen.content.folder import read_content
from sitegen.findings import has_errors, in_order
from sitegen.genetics.loci import Sex
from sitegen.plans.season import Breeder, SeasonPlan, season_plan
from sitegen.plans.season_machine import season_json
from sitegen.words.labels import sex_words
from sitegen.words.planning import (
    caution_sentence,
    conflict_sentence,
    harm_words,
    left_out_sentences,
    serves_words,
    verdict_words,
    weight_words,
)
from sitegen.words.speech import animal_name


@click.command(name="season", epilog="Example:  sitegen season 2028")
@click.argument("year", required=False, type=click.IntRange(1970, 2200))
@shared
def command(call: Call, year: int | None) -> int:
    """Who can breed in YEAR and in the season after it, by age, rest and last weighing; for which stage; what clashes.

    Without YEAR the next season whose month of pairing has not passed. Exit status 1 when promises cannot all be kept.
    """
    console = call.console
    read, reading = read_content(call.content)
    collection, binding = bind_content(read, today=call.today) if not has_errors(reading) or read.texts else (None, ())
    status = call.show_errors(in_order([*reading, *binding]))
    if collection is None or status:
        return status
    plan = season_plan(collection, call.date or latest_date(collection), year)
    if call.as_json:
        console.show_json(season_json(plan))
    else:
        _tell(console, plan, collection)
    return 1 if any(conflict.grave for conflict in plan.conflicts) else 0


def _tell(console: Console, plan: SeasonPlan, collection: Collection) -> None:
    first, second = plan.season, plan.season + 1
    for grave, head in ((True, "Cannot all be kept:"), (False, "To be watched:")):
        told = [conflict_sentence(each, plan, collection) for each in plan.conflicts if each.grave is grave]
        if told:
            console.show_result("\n".join([head, *(f"  {line}" for line in told), ""]))
    promised = [each for each in plan.breeders if each.promised]
    free = [each for each in plan.breeders if not each.promised and each.verdicts[0].can]
    rest = [each for each in plan.breeders if not each.promised and not each.verdicts[0].can]
    for title, breeders in (
        (f"Promised in {first} or {second}", promised),
        (f"Not promised, can breed in {first}", free),
        (f"Not promised, not in {first}", rest),
    ):
        for species in collection.species.values():
            own = [each for each in breeders if each.species == species.id]
            if own:
                head = f"{title}: {species.name}" if len(collection.species) > 1 else title
                _table(console, head, plan, own, collection)
    if not plan.breeders:
        console.show_result("No animal of known sex is on record that lives and was not sold.")
    for sentence in (*left_out_sentences(plan, collection), caution_sentence()):
        console.show_result(sentence)


def _table(console: Console, title: str, plan: SeasonPlan, breeders: Sequence[Breeder], collection: Collection) -> None:
    """One group, females first; a column that says nothing is left out."""
    seasons = str(plan.season), str(plan.season + 1)
    heads = ("animal", "sex", *seasons, "serves", "last litter", "last weighing", "note")
    ordered = sorted(breeders, key=lambda each: (each.sex is not Sex.FEMALE, animal_name(collection, each.animal)))
    rows = [
        (
            animal_name(collection, each.animal),
            sex_words(each.sex),
            *(verdict_words(verdict) for verdict in each.verdicts),
            "; ".join(serves_words(serves) for serves in each.serves),
            str(each.last[1]) if each.last else "",
            weight_words(each, collection),
            harm_words(each, collection),
        )
        for each in ordered
    ]
    kept = [column for column in range(len(heads)) if any(row[column] for row in rows)]
    shown = [[row[column] for column in kept] for row in rows]
    console.show_table(title, [heads[column] for column in kept], shown)
    console.show_result("")
