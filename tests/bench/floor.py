"""The bare floor: a short script that reads the same records, renders the same templates and writes the same files.

It reads YAML with the C parser, renders in a plain Jinja2 environment from page models that were made before, and
writes every other file from bytes that were made before. It infers, words and checks nothing. Run by whole.py.
"""

import json
import pickle
import resource
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import yaml
from jinja2 import Environment, FunctionLoader

from sitegen.render.themes import Theme, find_theme


def plain_environment(theme: Theme) -> Environment:
    """The theme's templates and filters without the sandbox."""
    templates = theme.templates
    environment = Environment(
        loader=FunctionLoader(lambda name: templates[name].text), autoescape=True, trim_blocks=True,
        lstrip_blocks=True, keep_trailing_newline=True, auto_reload=False, cache_size=-1,
    )  # fmt: skip
    environment.filters.update(theme.environment.filters)
    environment.globals.clear()
    return environment


def ready_made(file: Path) -> Iterator[tuple[str, object]]:
    """Address and content: a page's model, or bytes."""
    with file.open("rb") as stream:
        while True:
            try:
                yield pickle.load(stream)
            except EOFError:
                return


def main(content: Path, ready: Path, output: Path) -> None:
    clock = {"wall": 0.0, "processor": 0.0}
    begun = (0.0, 0.0)

    def start() -> None:
        nonlocal begun
        begun = time.perf_counter(), time.process_time()

    def stop() -> None:
        clock["wall"] += time.perf_counter() - begun[0]
        clock["processor"] += time.process_time() - begun[1]

    start()
    records = {}
    for path in content.rglob("*"):
        if path.suffix == ".yaml":
            records[path] = yaml.load(path.read_text("utf-8"), yaml.CSafeLoader)
        elif path.suffix == ".md":
            records[path] = path.read_text("utf-8")
    theme = find_theme("specimen-sheet")
    environment = plain_environment(theme)
    stop()
    n_files = 0
    for address, made in ready_made(ready):
        start()
        path = output / address
        path.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(made, bytes):
            path.write_bytes(made)
        else:
            root = made.frame.root
            assets = {"style": root + theme.style, "script": root + theme.script if theme.script else ""}
            html = environment.get_template(made.template).render(
                page=made.content, frame=made.frame, head=made.head, assets=assets
            )
            path.write_bytes(html.encode())
        stop()
        n_files += 1
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({**clock, "peak": peak, "files": n_files}))


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:]))
