"""The options that every command shares."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

_Command = TypeVar("_Command", bound=Callable[..., Any])

_FOLDER = click.Path(path_type=Path)


def shared(function: _Command) -> _Command:
    """``--content``, ``--output``, ``--themes`` and ``--json``, the same for every command."""
    for option in (
        click.option("--json", "as_json", is_flag=True, help="Machine output on standard output, nothing else there."),
        click.option(
            "--themes", type=_FOLDER, default=Path("themes"), show_default=True, help="Folder with themes of your own."
        ),
        click.option(
            "--output", type=_FOLDER, default=Path("output"), show_default=True, help="Folder the site is put into."
        ),
        click.option(
            "--content", type=_FOLDER, default=Path("content"), show_default=True, help="Folder with your records."
        ),
    ):
        function = option(function)
    return function
