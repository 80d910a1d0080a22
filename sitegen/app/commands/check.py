"""``sitegen check``: everything that is wrong or doubtful in the records."""

import datetime as dt
from pathlib import Path

import click

from sitegen.app.commands.options import shared, today
from sitegen.app.console import Console, finding_facts
from sitegen.build import Order, check
from sitegen.findings import has_errors


@click.command(name="check", epilog="Example:  sitegen check")
@shared
def command(content: Path, output: Path, themes: Path, as_json: bool, date: dt.datetime | None) -> int:
    """Read every record and photograph and tell all that is wrong or doubtful. Changes nothing."""
    console = Console()
    order = Order(content, output, themes, date=date.date() if date else None, today=today(date))
    findings = check(order, console.progress)
    if as_json:
        console.show_json({"findings": [finding_facts(finding) for finding in findings]})
    else:
        console.show_findings(findings, content, as_result=True)
    return 1 if has_errors(findings) else 0
