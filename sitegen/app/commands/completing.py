"""What the tabulator key offers in a terminal. Looks only at names of folders, so that it answers at once."""

from collections.abc import Iterable
from pathlib import Path

import click
from click.shell_completion import CompletionItem

from sitegen.app.commands.options import collection_here
from sitegen.below import entries_below, read_below
from sitegen.content.yaml_tree import Entries, parse_tree
from sitegen.findings import SitegenError

_LARGEST = 1_000_000


def animals(ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Animals by folder, and litters; behind a litter and a slash the numbers of its young."""
    content = _content(ctx)
    if "/" in begun:
        litter = begun.rpartition("/")[0]
        return _beginning(begun, (f"{litter}/{number}" for number in young_numbers(content, litter)))
    return _beginning(begun, [*folders(content, "animals"), *(f"{name}/" for name in folders(content, "litters"))])


def litters(ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Litters by folder."""
    return _beginning(begun, folders(_content(ctx), "litters"))


def animals_and_litters(ctx: click.Context, param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Whatever may have a photograph."""
    return [*animals(ctx, param, begun), *([] if "/" in begun else litters(ctx, param, begun))]


def projects(ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Projects by folder."""
    return _beginning(begun, folders(_content(ctx), "projects"))


def events(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """What an event may be."""
    from sitegen.content.events import EventKind

    return _beginning(begun, EventKind)


def states(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """Where an offer may stand."""
    return _beginning(begun, ("available", "on-hold", "sold", "not-for-sale"))


def carried_files(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[CompletionItem]:
    """The species files to start from."""
    from sitegen.keeper.new_records import carried

    return _beginning(begun, carried())


def _content(ctx: click.Context) -> Path:
    return Path(ctx.params.get("content") or collection_here() / "content")


def folders(content: Path, kind: str) -> list[str]:
    """The names of the folders of one kind of record."""
    try:
        entries = entries_below(content, kind)
    except OSError:
        return []
    return sorted(entry.name for entry in entries if entry.is_folder and not entry.name.startswith("."))


def young_numbers(content: Path, litter: str) -> list[str]:
    """The numbers of a litter's young; none when its record cannot be read."""
    if litter not in folders(content, "litters"):
        return []
    try:
        text = read_below(content, f"litters/{litter}/litter.yaml", _LARGEST).decode("utf-8-sig")
        tree, _ = parse_tree(text, "litter.yaml")
    except (OSError, ValueError, SitegenError):
        return []
    entries = tree.entries if isinstance(tree, Entries) else ()
    young = next((value for key, value in entries if key.text == "young"), None)
    return [key.text for key, _ in young.entries] if isinstance(young, Entries) else []


def _beginning(begun: str, words: Iterable[str]) -> list[CompletionItem]:
    return [CompletionItem(word) for word in words if word.casefold().startswith(begun.casefold())]
