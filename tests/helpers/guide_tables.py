"""What the guide is filled with from the program: tables of keys from the forms, of options from the commands."""

from collections.abc import Iterator

import click

from sitegen.app.commands import COMMANDS, program
from sitegen.content.animals import YOUNG
from sitegen.content.declaration import Group, group_behind
from sitegen.content.intervals import INTERVAL
from sitegen.content.projects import ALTERNATIVE, HOLDBACK, STAGE
from sitegen.content.species_loci import ALLELE, LOCUS
from sitegen.content.wishes import GOAL
from sitegen.content.written_records import KINDS

TABLES: dict[str, Group] = {
    **KINDS,
    "interval": INTERVAL,
    "locus": LOCUS,
    "stage": STAGE,
    "keep": HOLDBACK,
    "alternative": ALTERNATIVE,
    "wish": GOAL,
}
"""Everything that has a table of keys of its own in the guide."""
SHARED = ("content", "output", "themes", "as_json", "date")
"""Options of nearly every command, told once."""
_ELSEWHERE = {*(group.name for group in TABLES.values()), ALLELE.name, YOUNG.name}


def key_rows(group: Group, above: str = "") -> Iterator[str]:
    """A row for each key, and below it those of the group that it holds, as in ``contact: email``."""
    for key in group.listed:
        yield f"| `{above}{key.name}`{' (needed)' if key.needed else ''} | {key.about} |"
        inner = group_behind(key.holds)
        if inner and inner.name not in _ELSEWHERE:
            yield from key_rows(inner, f"{above}{key.name}: ")


def key_table(kind: str) -> str:
    """Every key of a kind of record, or of what stands within one."""
    return "\n".join(["| key | meaning |", "| --- | --- |", *key_rows(TABLES[kind])])


def commands() -> Iterator[tuple[str, click.Command]]:
    """Every command that does something, by what is typed after ``sitegen``."""

    def below(path: str, found: click.Command) -> Iterator[tuple[str, click.Command]]:
        if isinstance(found, click.Group):
            for name, each in found.commands.items():
                yield from below(f"{path} {name}", each)
        else:
            yield path, found

    for name in COMMANDS:
        found = program.get_command(click.Context(program), name)
        assert found is not None
        yield from below(name, found)


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def command_entry(path: str, found: click.Command) -> str:
    """A command with what it does and every option, as ``--help`` tells it."""
    context = click.Context(found, info_name=f"sitegen {path}")
    usage = " ".join(["sitegen", path, *found.collect_usage_pieces(context)])
    own = [each for each in found.params if isinstance(each, click.Option) and each.name not in SHARED]
    records = [each.get_help_record(context) for each in own]
    rows = [f"| `{_cell(record[0])}` | {_cell(record[1])} |" for record in records if record is not None]
    about = "\n\n".join(" ".join(part.split()) for part in (found.help or "").split("\n\n"))
    table = ["", "| option | meaning |", "| --- | --- |", *rows] if rows else []
    return "\n".join([f"## `{usage}`", "", about, *table])


def command_entries() -> str:
    """Every command, one after the other."""
    return "\n\n".join(command_entry(path, found) for path, found in commands())


def filled(text: str) -> str:
    """A page of the guide with everything between its marks made anew."""
    makers = {f"keys of {kind}": lambda kind=kind: key_table(kind) for kind in TABLES} | {"commands": command_entries}
    for name, make in makers.items():
        begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
        if begin in text:
            head, _, rest = text.partition(begin)
            _, _, foot = rest.partition(end)
            text = f"{head}{begin}\n{make()}\n{end}{foot}"
    return text
