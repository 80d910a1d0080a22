"""A new collection of the breeder's own."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from sitegen.content.folder import Content
from sitegen.content.report import Report
from sitegen.content.site import FORMAT
from sitegen.content.writing import FileChange
from sitegen.content.written_records import Forms, forms_of_content
from sitegen.findings import WrongUse
from sitegen.keeper.new_records import carried_species
from sitegen.keeper.record_text import SCHEMAS, scalar, schema_file
from sitegen.keeper.records import Proposal, Records, check_proposal, new_file
from sitegen.keeper.schemas import schema_text, schemas_for

EXAMPLE = "content/animals/example/animal.yaml"
"""The record that shows how one is written."""
_HERE = Path(__file__).parent
_SITE = _HERE.joinpath("new_site.txt").read_text(encoding="utf-8")
_ANIMAL = _HERE.joinpath("new_animal.txt").read_text(encoding="utf-8")


def check_empty(folder: Path) -> None:
    """Make sure that nothing stands where a collection is to begin.

    Raises:
        WrongUse: Something does.
    """
    what = "a file" if folder.exists() or folder.is_symlink() else ""
    if folder.is_dir():
        names = sorted(entry.name for entry in folder.iterdir())
        shown = ", ".join(names[:4]) + (" ..." if len(names) > 4 else "")
        what = f"not empty ({shown})" if names else ""
    if what:
        raise WrongUse(f"{folder} is {what}; name a folder that does not exist yet, or an empty one")


def new_collection(folder: Path, species_named: Sequence[str], said: Mapping[str, str]) -> Proposal:
    """Every file of a new collection, relative to the folder, checked as records before anything is written.

    ``said`` holds its name, currency, language, units, email and place, by these words; the last two may be empty.

    Raises:
        WrongUse: No species file of that name is carried.
        ContentError: What was said cannot stand in a record: no such currency, for one.
    """
    species = dict(carried_species(named) for named in species_named)
    content = Content({f"species/{own}.yaml": _bound("species", 2) + text for own, text in species.items()})
    texts = dict(content.texts)
    forms = forms_of_content(content, Report())
    texts["site.yaml"] = _site(said)
    texts["animals/example/animal.yaml"] = _example(forms, next(iter(species)))
    proposed = Proposal(tuple(new_file(path, text) for path, text in texts.items()), "")
    check_proposal(Records(folder / "content", Content({}), Forms()), proposed)
    files = [FileChange(f"content/{file.path}", None, file.after) for file in proposed.files]
    schemas = schemas_for(forms).items()
    files += [new_file(f"{SCHEMAS}/{schema_file(kind)}", schema_text(schema)) for kind, schema in schemas]
    return Proposal(tuple(files), f"{said['name']} begins in {folder}.")


def _bound(kind: str, depth: int) -> str:
    """The line that binds a record to its schema, from a record so many folders below the collection's."""
    return f"# yaml-language-server: $schema={'../' * depth}{SCHEMAS}/{schema_file(kind)}\n"


def _site(said: Mapping[str, str]) -> str:
    contact = {key: said[key].strip() for key in ("email", "place")}
    lines = [f"  {key}: {scalar(value)}\n" for key, value in contact.items() if value]
    without = "# How to reach you; published as written:\n# contact: {email: you@example.org, place: Your town}\n"
    return _SITE.format(
        modeline=_bound("site", 1),
        form=FORMAT,
        name=scalar(said["name"].strip()),
        language=scalar(said["language"]),
        currency=scalar(said["currency"].strip().upper()),
        units=said["units"],
        contact="contact:\n" + "".join(lines) if lines else without,
    )


def _example(forms: Forms, species: str) -> str:
    loci = list((form.loci or {}) if (form := forms.species[species]) else {})
    gene, other = [*(locus for locus in loci if "-" not in locus), "amel", "hypo"][:2]
    return _ANIMAL.format(modeline=_bound("animal", 3), species=species, look=gene, gene=other)
