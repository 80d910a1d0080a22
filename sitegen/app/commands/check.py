"""``sitegen check``: everything that is wrong or doubtful in the records."""

import click

from sitegen.app.commands.options import Call, shared
from sitegen.app.console import finding_facts
from sitegen.build import check
from sitegen.findings import has_errors


@click.command(name="check", epilog="Example:  sitegen check")
@shared
def command(
    call: Call,
) -> int:
    """Read every record and photograph and tell all that is wrong or doubtful. Changes nothing."""
    console = call.console
    findings = check(call.order(), console.progress)
    if call.as_json:
        console.show_json({"findings": [finding_facts(finding) for finding in findings]})
    else:
        console.show_findings(findings, call.content, as_result=True)
    return 1 if has_errors(findings) else 0
