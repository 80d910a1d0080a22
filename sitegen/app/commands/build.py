"""``sitegen build``: the whole site from the records."""

from pathlib import Path

import click

from sitegen.app.commands.options import Call, shared
from sitegen.app.console import finding_facts
from sitegen.build import Built, build
from sitegen.findings import Kind, has_errors


@click.command(name="build", epilog="Example:  sitegen build --date 2026-11-25")
@shared
@click.option("--workers", type=click.IntRange(min=0), default=0, help="Processes that work at it; 0: one a processor.")
def command(call: Call, workers: int) -> int:
    """Make the whole site from the records.

    The output folder changes in one step, or, when anything is wrong, not at all. Only a photograph that cannot be
    read does not stop it: the site is made without it, and the exit status is 1.
    """
    console = call.console
    built = build(call.order(workers), console.progress)
    console.show_findings(built.findings, call.content)
    if call.as_json:
        console.show_json(_facts(built))
    elif built.published is None:
        console.show_message(f"Nothing was built. {call.output} is as it was.")
    else:
        console.show_result(_told(built, call.output))
    return 0 if built.published is not None and not has_errors(built.findings) else 1


def _told(built: Built, output: Path) -> str:
    released = built.published
    assert released is not None
    pages = f"{built.n_pages} page{'s' if built.n_pages != 1 else ''}"
    files = f"{released.written} files new or changed, {released.kept} as they were, {released.removed} removed"
    pictures = f"{built.pictures_made} pictures made, {built.pictures_kept} kept from before"
    aside = "".join(map(_left, released.set_aside))
    unread = any(finding.kind in (Kind.PHOTO_UNREADABLE, Kind.VIDEO_UNREADABLE) for finding in built.findings)
    without = " Photographs and videos that cannot be read are left out of it." if unread else ""
    return f"{pages} in {output} ({files}; {pictures}).{without}{aside}"


def _left(folder: Path) -> str:
    return f"\n{folder} may be left from a build that was stopped; it was not touched. Delete it if it is not yours."


def _facts(built: Built) -> dict[str, object]:
    released = built.published
    found: dict[str, object] = {"findings": [finding_facts(finding) for finding in built.findings]}
    if released is not None:
        found |= {
            "pages": built.n_pages,
            "files": {"written": released.written, "kept": released.kept, "removed": released.removed},
            "pictures": {"made": built.pictures_made, "kept": built.pictures_kept},
        }
    return found
