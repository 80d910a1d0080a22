"""JSON Schemas of every kind of record, for editors."""

from collections.abc import Mapping
from typing import Any

from sitegen.content.written.animals import AnimalForm
from sitegen.content.written.forms import Form
from sitegen.content.written.litters import LitterForm
from sitegen.content.written.projects import ProjectForm
from sitegen.content.written.site import SiteForm
from sitegen.content.written.species import SpeciesForm

FORMS: Mapping[str, type[Form]] = {
    "site": SiteForm,
    "species": SpeciesForm,
    "animal": AnimalForm,
    "litter": LitterForm,
    "project": ProjectForm,
}
"""Kind of file to its written form."""


def json_schemas() -> Mapping[str, dict[str, Any]]:
    """Kind of file to the JSON Schema (draft 2020-12) of its written form."""
    return {
        name: {"$schema": "https://json-schema.org/draft/2020-12/schema", **form.model_json_schema(by_alias=True)}
        for name, form in FORMS.items()
    }
