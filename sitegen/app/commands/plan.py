"""``sitegen plan``: which pairings this season and why, what to keep, what to buy; who can breed, and what clashes."""

from collections.abc import Callable
from contextlib import ExitStack

import click

from sitegen.app.commands.options import Call, known_or_told, shared
from sitegen.app.console import Console
from sitegen.app.room_question import RoomQuestion, Table, wishes_for
from sitegen.content.collection import latest_date
from sitegen.findings import WrongUse

_SOME = click.IntRange(1, 10_000)


@click.command(name="plan", epilog="Example:  sitegen plan --litters 3 --details")
@shared
@click.option("--season", type=click.IntRange(1970, 2200), help="The first season that is planned, a year of birth.")
@click.option("--litters", "n_litters", type=_SOME, help="At most so many litters a season.")
@click.option("--places", "n_places", type=_SOME, help="Places for animals.")
@click.option("--without", multiple=True, metavar="ANIMAL", help="An animal that rests.")
@click.option("--buy", is_flag=True, help="What one more animal would add, of those in plan.yaml or of usual kinds.")
@click.option("--holdback", "litter", metavar="LITTER", help="Which young of it to keep.")
@click.option("--details", is_flag=True, help="Also what was tried and not, and what is taken for granted.")
def command(
    call: Call, season: int | None, n_litters: int | None, n_places: int | None, without: tuple[str, ...], *,
    buy: bool, litter: str | None, details: bool,
) -> int:  # fmt: skip
    """Which pairings this season, out of all animals, for all goals, and why; what will be there in a few seasons.

    Limits and goals stand in plan.yaml, which is never published; options here go before it. Who can breed, and which
    promises of projects clash, stands below; exit status 1 when they cannot all be kept. It takes a minute or so
    where many animals and no limits leave much to try; Ctrl-C gives the best found by then.
    """
    if buy and litter:
        raise WrongUse("--buy and --holdback are two questions; ask one of them")
    known, status = known_or_told(call)
    if known is None:
        return status
    wishes = wishes_for(known.collection, season, n_litters, n_places, without)
    with ExitStack() as shown:
        question = RoomQuestion(known, wishes, call.date or latest_date(known.collection), _Shown(call.console, shown))
        if wrong := question.impossible(said=season is not None):
            return call.show_errors(wrong)
        answer = question.holdback(litter) if litter else question.buy() if buy else question.plan(details=details)
    if call.as_json:
        call.console.show_json(answer.facts)
        return max(status, int(answer.grave))
    for number, part in enumerate(answer.parts):
        if isinstance(part, Table):
            call.console.show_table(part.title, part.heads, part.rows)
        else:
            call.console.show_result(part)
        if number + 1 < len(answer.parts):
            call.console.show_result("")
    return max(status, int(answer.grave))


class _Shown:
    """Shows how far each part of the search is, in steps of 1 in 100."""

    def __init__(self, console: Console, shown: ExitStack) -> None:
        self._console, self._shown = console, shown
        self._bars: dict[str, Callable[[int, int], None]] = {}

    def __call__(self, what: str, share: float) -> None:
        if what not in self._bars:
            self._shown.close()  # the bar before has ended
            self._bars[what] = self._shown.enter_context(self._console.progress(what))
        self._bars[what](round(100 * share), 100)
