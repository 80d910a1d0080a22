"""What is to be changed in a record so that it says something else: single values, so that all others stay.

Who fills in a form saw the record as it was then; what was written by hand meanwhile is never overwritten unasked.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sitegen.content.writing import FileChange
from sitegen.findings import WrongUse
from sitegen.keeper.lookup import other_record
from sitegen.keeper.record_text import Value, new_record
from sitegen.keeper.records import Added, Dropped, Proposal, RecordPlace, Records, changed, new_file
from sitegen.keeper.splicing import parts_of, plain_value, value_at, with_value
from sitegen.keeper.spots import Path

Change = Value | Added | Dropped


def differences(was: Any, wanted: Any) -> dict[Path, Change]:
    """The changes that make a plain record say what is wanted, in the order in which they can be made.

    In a list of groups an entry keeps its position, :class:`Dropped` stands for one that is to go, and new ones follow.
    """
    found = list(_between(was, wanted, ()))
    kept = {path: value for path, value in found if not isinstance(value, Dropped)}
    # from the end, so that the positions of those before stay
    return kept | {path: value for path, value in reversed(found) if isinstance(value, Dropped)}


def _between(was: Any, wanted: Any, at: Path) -> Iterator[tuple[Path, Change]]:
    if isinstance(wanted, Dropped | None) and was is None:
        return
    if isinstance(wanted, Dropped):
        yield at, wanted
    elif isinstance(wanted, Mapping) and isinstance(was, dict | None):
        for key, value in wanted.items():
            yield from _between((was or {}).get(key), value, (*at, key))
        yield from (((*at, key), Dropped()) for key in was or {} if key not in wanted)
    elif _are_groups(wanted) and (not was or (_are_groups(was) and len(was) <= len(wanted))):
        for key, held in parts_of(was).items():
            yield from _between(held, wanted[int(key)], (*at, key))
        yield from ((at, Added(entry)) for entry in wanted[len(was or ()) :])
    elif plain_value(wanted) != was:
        yield at, wanted


def _are_groups(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, Mapping | Dropped) for each in value)


def clashes(now: Any, was: Any, changes: Mapping[Path, Change]) -> dict[Path, str]:
    """The changes that would overwrite what was written meanwhile, each with what stands there now.

    An entry of a list is known by its position alone, so it must be as it was as a whole.
    """
    found = {}
    for path, value in changes.items():
        entry = entry_of(was, path)
        stands, said = value_at(now, path), None if isinstance(value, Dropped) else value
        as_it_was = value_at(now, entry or path) == value_at(was, entry or path)
        said_already = not entry and not isinstance(said, Added) and stands == plain_value(said)
        if not (as_it_was or said_already or isinstance(said, Added)):
            found[path] = "nothing" if stands is None else str(stands)
    return found


def entry_of(was: Any, path: Path) -> Path:
    """The path to the entry of a list that is changed; empty where there is no list on the way."""
    return next((path[: n + 1] for n in range(len(path)) if isinstance(value_at(was, path[:n]), list)), ())


def caught_up(was: Any, now: Any, clashed: Iterable[Path]) -> Any:
    """What the record was, with what stands there now where it clashed, so that who asks again has seen it.

    Which entry of a list was meant, nobody knows any more: there it stays as it was.
    """
    for path in clashed:
        was = was if entry_of(was, path) else with_value(was, path, value_at(now, path))
    return was


def change_record(records: Records, place: RecordPlace, was: Any, wanted: Mapping[str, Value]) -> Proposal:
    """The change of a record from what it was when somebody saw it to what they want it to say.

    Raises:
        WrongUse: The same values were changed meanwhile.
        ContentError, CannotEdit: The record cannot be changed.
    """
    changes = differences(was, wanted)
    names = ", ".join(dict.fromkeys(path[0].replace("_", " ") for path in changes))
    if not changes:
        return Proposal((), f"{place.shown}: nothing was different.")
    if place.file not in records.content.texts:
        text = new_record(records.root, place.file, place.kind, wanted)
        return Proposal((new_file(place.file, text),), f"{place.file} is begun.")
    if clashes(records.held(place) or {}, was, changes):
        raise WrongUse("the same was changed in the file meanwhile; both stand at the lines below")
    return Proposal(changed_in_both(records, place, changes), f"{place.shown}: changed {names}.")


_OF_ONE_ANIMAL: tuple[Path, ...] = (("sex",), ("born",), ("died",))


def changed_in_both(records: Records, place: RecordPlace, changes: Mapping[Path, Change]) -> tuple[FileChange, ...]:
    """The change of a record; where a young has another one that says something else of its sex and days, of both.

    Without it nobody could correct what both say: each alone would contradict the other, and be refused.
    """
    files, other = changed(records, place, changes), other_record(records, place)
    if other is None:
        return files
    said_there = [keys for keys in _OF_ONE_ANIMAL if records.held(other, *keys) is not None]
    there = {each: changes[each] for each in changes if each in said_there}
    return (*files, *changed(records, other, there))
