"""``sitegen set``: where an offer stands."""

import datetime as dt

import click

from sitegen.app.commands.changing import changing
from sitegen.app.commands.options import DAY, today
from sitegen.keeper.entries import set_offer, state_meant
from sitegen.keeper.records import Proposal, Records


@click.command(
    name="set",
    epilog="Example:  sitegen set 2026-juniper-flint/01 sold --on 2026-11-02 --price 120",
)
@click.argument("animal")
@click.argument("state")
@click.option("--on", type=DAY, help="Since when, such as 2026-11-02; today if left out.")
@click.option("--price", default="", help="What is asked: 120, or 120 EUR.")
@click.option("--ready", type=DAY, help="The earliest day on which the animal may leave.")
@click.option("--until", type=DAY, help="The last day of a hold; sitegen today tells when it comes.")
@changing
def command(
    records: Records, animal: str, state: str, on: dt.datetime | None, price: str, ready: dt.datetime | None,
    until: dt.datetime | None,
) -> Proposal:  # fmt: skip
    """Set the offer of ANIMAL to STATE: available, on-hold, sold or not-for-sale.

    ANIMAL is an animal's folder or name, or LITTER/NUMBER.
    """
    since, leaves, last = (day.date() if day else None for day in (on, ready, until))
    return set_offer(
        records, animal, state_meant(state), today(None), on=since, price=price.strip(), ready=leaves, until=last
    )
