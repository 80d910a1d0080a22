"""JSON Schemas of every kind of record, for editors."""

from collections.abc import Mapping
from typing import Any

from sitegen.records.written.animals import AnimalForm
from sitegen.records.written.forms import Form
from sitegen.records.written.litters import LitterForm
from sitegen.records.written.projects import ProjectForm
from sitegen.records.written.site import SiteForm
from sitegen.records.written.species import SpeciesForm

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
