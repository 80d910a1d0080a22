"""``sitegen set``: where an offer stands, and what else of a record is corrected in a line."""

from typing import Any

import click

from sitegen.app.commands.changing import changing
from sitegen.app.commands.options import DAY, today
from sitegen.findings import WrongUse
from sitegen.keeper.entries import set_offer, set_values, state_meant
from sitegen.keeper.lookup import find_animal_or_litter
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Proposal, Records

_OWN = ("name", "sex", "paired", "laid", "expected", "born", "died")
"""Options that are called as in a record."""


@click.command(
    name="set",
    epilog="Example:  sitegen set 2026-juniper-flint/01 sold --on 2026-11-02 --price 120",
)
@click.argument("animal")
@click.argument("state", required=False, default="")
@click.option("--on", type=DAY, help="Since when, such as 2026-11-02; today if left out.")
@click.option("--price", default="", help="What is asked: 120, or 120 EUR.")
@click.option("--ready", type=DAY, help="The earliest day on which the animal may leave.")
@click.option("--until", type=DAY, help="The last day of a hold; sitegen today tells when it comes.")
@click.option("--name", default="", help="What it is called.")
@click.option("--sex", default="", help="female, male or unknown.")
@click.option("--born", default="", metavar="DATE", help="When it was born or hatched, or a litter was.")
@click.option("--died", default="", metavar="DATE", help="When it died.")
@click.option("--paired", default="", metavar="DATE", help="Of a litter: when the parents were put together.")
@click.option("--laid", default="", metavar="DATE", help="Of a litter: when the eggs were laid.")
@click.option("--expected", default="", metavar="DATE", help="Of a litter: when the young are expected.")
@changing
def command(records: Records, animal: str, state: str, price: str, **said: Any) -> Proposal:
    """Set the offer of ANIMAL to STATE: available, on-hold, sold or not-for-sale.

    ANIMAL is an animal's folder or name, or LITTER/NUMBER. Without STATE, --price corrects the price alone; the options
    from --name on correct its record, or that of a litter, and none takes the line out: --died none.
    """
    own: dict[tuple[str, ...], Value] = {
        (key,): None if said[key].strip().lower() == "none" else said[key].strip() for key in _OWN if said[key]
    }
    since, leaves, last = (said[key].date() if said[key] else None for key in ("on", "ready", "until"))
    if own and (state or price or since or leaves or last):
        raise WrongUse("say where the offer stands in a line of its own, and what else is to be set in another")
    if own:
        return set_values(records, find_animal_or_litter(records, animal), own)
    if not (state or price or leaves or last):
        raise click.UsageError("say what is to be set: sitegen set juniper sold, or sitegen set juniper --sex female")
    meant = state_meant(state) if state else None
    return set_offer(records, animal, meant, today(None), on=since, price=price.strip(), ready=leaves, until=last)
