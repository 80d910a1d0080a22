"""``sitegen today``: what is due, what is late, who needs a look."""

from functools import partial

import click

from sitegen.app.commands.options import Call, shared
from sitegen.content.collection import Collection, latest_date
from sitegen.evidence.answers import answers_of, read_bound
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_from
from sitegen.evidence.gather import gather
from sitegen.evidence.reasons import reasons
from sitegen.findings import Place
from sitegen.plans.today import Asks, matters_of
from sitegen.plans.waiting import fits
from sitegen.site.material import with_litter_names
from sitegen.words.speech import Voice
from sitegen.words.today import DayWords


@click.command(name="today", epilog="Example:  sitegen today --date 2026-12-24")
@shared
def command(call: Call) -> int:
    """What is due this week and month, what is late, who needs a look, and what comes next, each with its record.

    What cannot wait stands first. The day is that of this computer, or --date. Nothing of this is ever published.
    """
    console = call.console
    found, findings = read_bound(call.content, call.today)
    status = call.show_errors(findings)
    if found is None:
        return status
    collection = with_litter_names(found)
    matters, words = matters_of(collection, call.today), DayWords(collection, call.today)
    if call.as_json:
        keys: dict[str, list[dict[str, object]]] = {key: [] for key in Asks}
        for each in matters:
            told = {"id": each.id, "what": words.sentence(each), "since": each.day and each.day.isoformat()}
            last = {"until": each.until.isoformat()} if each.until else {}
            keys[each.what].append({**told, **last, "file": each.place.file, "line": each.place.line})
        console.show_json({"day": call.today.isoformat(), **keys})
    else:
        console.show_placed([*words.lines(matters), *_fits(call, collection, words)])
    return status


def _fits(call: Call, collection: Collection, words: DayWords) -> list[tuple[str, Place | None]]:
    """Who waits for what can go; heredity is asked only where somebody waits, and names of people stay out of JSON."""
    if not any(not person.done for person in collection.waiting):
        return []
    asked = ask(gather(collection))
    voice = Voice(collection, answers_of(asked), latest_date(collection))
    claims = claims_from(asked.evidence, voice.answers, partial(reasons, asked), voice.as_of)
    found = fits(collection, claims, call.today)
    return list(words.fits((fit for fit in found if fit.ready), voice))
