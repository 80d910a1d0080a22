"""``sitegen remove``: takes a record out."""

import click

from sitegen.app.commands.changing import changing
from sitegen.keeper.records import Proposal, Records
from sitegen.keeper.removing import remove_record


@click.command(name="remove", epilog="Example:  sitegen remove animals/basalt/2021-05-15.jpg")
@click.argument("record", metavar="RECORD")
@changing
def command(records: Records, record: str) -> Proposal:
    """Take RECORD out of your records, with the files beside it; sitegen undo brings it back.

    RECORD is an animal, a litter, LITTER/NUMBER, a project, the path of a photo, or waiting/NAME for somebody who
    waits. Nothing goes while anything names it, or while a buyer may hold a paper of it.
    """
    return remove_record(records, record)
