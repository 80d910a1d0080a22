"""What the guide is filled with from the program: tables of keys from the forms, of options from the commands."""

import typing
from collections.abc import Iterator

import click

from sitegen.app.commands import _COMMANDS, _sitegen
from sitegen.content.schemas import FORMS
from sitegen.content.written.forms import Form
from sitegen.content.written.litters import YoungForm
from sitegen.content.written.projects import AlternativeForm, HoldbackForm, StageForm
from sitegen.content.written.species import AlleleForm, LocusForm

KINDS: dict[str, type[Form]] = {
    **FORMS, "locus": LocusForm, "stage": StageForm, "keep": HoldbackForm, "alternative": AlternativeForm,
}  # fmt: skip
"""Everything that has a table of keys of its own in the guide."""
SHARED = ("content", "output", "themes", "as_json", "date")
"""Options of nearly every command, told once."""
_ELSEWHERE = {*KINDS.values(), AlleleForm, YoungForm}


def forms_within(kind: object) -> Iterator[type[Form]]:
    """The forms that a field of this type holds."""
    if isinstance(kind, type) and issubclass(kind, Form):
        yield kind
    for part in typing.get_args(kind):
        yield from forms_within(part)


def key_rows(form: type[Form], above: str = "") -> Iterator[str]:
    """A row for each key, and below it those of the group that it holds, as in ``contact: email``."""
    own = {name: field for name, field in form.model_fields.items() if name != "node"}
    for name in sorted(own, key=lambda each: each not in form.__annotations__):
        field = own[name]
        key = f"{above}{field.alias or name}"
        yield f"| `{key}`{' (needed)' if field.is_required() else ''} | {field.description} |"
        for inner in dict.fromkeys(forms_within(field.annotation)):
            if inner not in _ELSEWHERE:
                yield from key_rows(inner, f"{key}: ")


def key_table(kind: str) -> str:
    """Every key of a kind of record, or of what stands within one."""
    return "\n".join(["| key | meaning |", "| --- | --- |", *key_rows(KINDS[kind])])


def commands() -> Iterator[tuple[str, click.Command]]:
    """Every command that does something, by what is typed after ``sitegen``."""

    def below(path: str, found: click.Command) -> Iterator[tuple[str, click.Command]]:
        if isinstance(found, click.Group):
            for name, each in found.commands.items():
                yield from below(f"{path} {name}", each)
        else:
            yield path, found

    for name in _COMMANDS:
        found = _sitegen.get_command(click.Context(_sitegen), name)
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
    makers = {f"keys of {kind}": lambda kind=kind: key_table(kind) for kind in KINDS} | {"commands": command_entries}
    for name, make in makers.items():
        begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
        if begin in text:
            head, _, rest = text.partition(begin)
            _, _, foot = rest.partition(end)
            text = f"{head}{begin}\n{make()}\n{end}{foot}"
    return text
