"""Dated notes and decisions of a project."""

import datetime as dt

from sitegen.content.references import same
from sitegen.findings import WrongUse, nearest
from sitegen.keeper import editing
from sitegen.keeper.desk import Change, Desk, new_file
from sitegen.keeper.naming import id_of
from sitegen.keeper.spelling import Value
from sitegen.keeper.usual import PROJECT


def add_update(desk: Desk, project_named: str, title: str, text: str, on: dt.date) -> Change:
    """A note of a day in the folder of a project.

    Raises:
        WrongUse: No such project, or a note of that name stands there.
    """
    project = _project(desk, project_named)
    heading = " ".join(title.split())
    stem = "-".join(part for part in (on.isoformat(), id_of(heading)) if part)
    path = f"{desk.forms.folders['projects', project]}/updates/{stem}.md"
    if desk.exists(path):
        raise WrongUse(f"{path} stands there already and was not changed; give the note another title")
    body = text.strip().replace("\r\n", "\n")
    written = f"# {heading}\n" + (f"\n{body}\n" if body else "")
    return Change((new_file(path, written),), f'"{heading}" stands in {path} now.')


def add_decision(desk: Desk, project_named: str, text: str, stage: str, on: dt.date) -> Change:
    """A decision of a day at the end of those of a project; the record itself is asked whether there is such a stage.

    Raises:
        WrongUse: No such project, or nothing was decided.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    project = _project(desk, project_named)
    words = " ".join(text.split())
    if not words:
        raise WrongUse("say what was decided and why")
    path = f"{desk.forms.folders['projects', project]}/project.yaml"
    record = desk.text(path)
    about: dict[str, Value] = {"stage": stage} if stage else {}
    entry: dict[str, Value] = {"date": on.isoformat(), **about, "text": words}
    held = editing.standing(editing.plain(record), ("decisions",))
    if isinstance(held, list) and editing.plain_value(entry) in held:
        return Change((), f"{project}: that decision stands there already.")
    changed = editing.append(record, ("decisions",), entry, (editing.like(PROJECT), editing.last))
    return Change((desk.changed(path, changed),), f"{project}: decided on {on.isoformat()}.")


def _project(desk: Desk, named: str) -> str:
    wanted = same(named).removesuffix("/").removeprefix("projects/")
    if wanted in desk.forms.projects:
        return wanted
    by_name = {form.name.value.lower(): i for i, form in desk.forms.projects.items() if form and form.name}
    if wanted.lower() in by_name:
        return by_name[wanted.lower()]
    close = nearest(wanted, (*desk.forms.projects, *by_name)) or ", ".join(desk.forms.projects)
    raise WrongUse(f'there is no project "{named}" in the records' + (f"; nearest: {close}" if close else ""))
