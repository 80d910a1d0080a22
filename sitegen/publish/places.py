"""Which folders may be an output folder at all."""

import os
from collections.abc import Sequence
from pathlib import Path

from sitegen.findings import OutputRefused


def check_output(output: Path, sources: Sequence[Path] = ()) -> None:
    """Refuse folders in which a site must never be put; cheap, so that a build can ask before it begins.

    Args:
        output: Where the site is to stand; need not exist.
        sources: Folders that must lie apart from it (content, themes).

    Raises:
        OutputRefused: The output is a link, a file, the root or home folder or above it, or inside or around a source.
    """
    if output.is_symlink():
        raise OutputRefused(f"the output folder {output} is a link; name the folder itself with --output")
    try:
        place = output.resolve()
        if place.exists() and not place.is_dir():
            raise OutputRefused(f"the output {output} is a file, not a folder; choose another name with --output")
    except (OSError, RuntimeError) as failure:
        raise OutputRefused(f"the output folder {output} cannot be reached: {failure}") from failure
    if place == Path(place.anchor) or place in (home := _home(), *home.parents):
        raise OutputRefused(f"{output} is not a folder for a site; choose one of its own with --output")
    for source in sources:
        _check_apart(output, place, source)


def _check_apart(output: Path, place: Path, source: Path) -> None:
    origin = source.resolve()
    if place == origin:
        raise OutputRefused(f"the output folder {output} is the folder {source} itself; choose another with --output")
    if place.is_relative_to(origin):
        raise OutputRefused(f"the output folder {output} lies inside {source}; choose one outside with --output")
    if origin.is_relative_to(place):
        raise OutputRefused(f"the output folder {output} holds the folder {source}; choose another with --output")


def _home() -> Path:
    return Path(os.path.expanduser("~")).resolve()
