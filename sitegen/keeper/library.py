"""The species files that the program carries, to start from."""

from importlib import resources

from sitegen.content.references import same
from sitegen.findings import WrongUse, nearest
from sitegen.keeper.desk import Change, Desk, new_file


def carried() -> dict[str, str]:
    """Id of each species to the text of its file, sorted."""
    folder = resources.files("sitegen") / "keeper" / "species"
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".yaml")), key=lambda file: file.name)
    return {file.name.removesuffix(".yaml"): file.read_text(encoding="utf-8") for file in files}


def carried_species(named: str) -> tuple[str, str]:
    """Id and text of the species meant.

    Raises:
        WrongUse: None of that name is carried; the nearest is offered.
    """
    known = carried()
    wanted = same(named).lower().replace(" ", "-").replace("_", "-")
    if wanted in known:
        return wanted, known[wanted]
    close = nearest(wanted, known)
    raise WrongUse(
        f'no species file for "{named}" is carried'
        + (f"; nearest: {close}" if close else "")
        + f"; there are {', '.join(known)}; a file of your own goes into content/species"
    )


def add_species(desk: Desk, named: str) -> Change:
    """A species file of the library, for a collection that has none of that name.

    Raises:
        WrongUse: No such species is carried, or its file stands there.
    """
    species, text = carried_species(named)
    path = f"species/{species}.yaml"
    if desk.exists(path):
        raise WrongUse(f"{path} stands there already and was not changed")
    return Change((new_file(path, text),), f"{species} stands in {path} now.")
