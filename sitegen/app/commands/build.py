"""``sitegen build``: the whole site from the records."""

from collections.abc import Sequence
from pathlib import Path

import click

from sitegen.app.commands.options import Call, shared
from sitegen.app.console import finding_facts
from sitegen.build import Built, build
from sitegen.findings import Kind, has_errors


@click.command(name="build", epilog="Example:  sitegen build --date 2026-11-25")
@shared
@click.option("--workers", type=click.IntRange(min=0), default=0, help="Processes that work at it; 0: one a processor.")
@click.option("--keep-going", is_flag=True, help="Leave out faulty records, with all their kin, and build the rest.")
def command(call: Call, workers: int, keep_going: bool) -> int:
    """Make the whole site from the records.

    The output folder changes in one step, or, when anything is wrong, not at all. Only a photograph that cannot be
    read does not stop it: the site is made without it, and the exit status is 1. With --keep-going neither does a
    faulty record: it is left out with its whole family, and what is missing is told.
    """
    console = call.console
    built = build(call.order(workers, keep_going=keep_going), console.progress)
    console.show_findings(built.findings, call.content)
    if call.as_json:
        console.show_json(_facts(built))
    elif built.published is None:
        why = f" Nothing could be left out: {built.why_not}." if built.why_not else ""
        console.show_message(f"Nothing was built. {call.output} is as it was.{why}")
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
    return f"{pages} in {output} ({files}; {pictures}).{without}{aside}{_missing(built.left_out)}"


def _left(folder: Path) -> str:
    return f"\n{folder} may be left from a build that was stopped; it was not touched. Delete it if it is not yours."


def _missing(left_out: Sequence[str]) -> str:
    """What is missing from the site, and what that means."""
    if not left_out:
        return ""
    names = "".join(f"\n    {name}" for name in left_out)
    return (
        f"\nLeft out, because of errors in them or in what they hang on:{names}\n"
        "What the site says rests on the remaining records alone, and lists and counts hold only these. "
        "Mend the errors and build again before you rely on it."
    )


def _facts(built: Built) -> dict[str, object]:
    released = built.published
    found: dict[str, object] = {"findings": [finding_facts(finding) for finding in built.findings]}
    if built.why_not:
        found["why_not"] = built.why_not
    if released is not None:
        found |= {
            "left_out": list(built.left_out),
            "pages": built.n_pages,
            "files": {"written": released.written, "kept": released.kept, "removed": released.removed},
            "pictures": {"made": built.pictures_made, "kept": built.pictures_kept},
        }
    return found
