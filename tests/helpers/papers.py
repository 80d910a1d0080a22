"""The buyer's paper of the small collection's offered young, as a page and as a file."""

from collections.abc import Mapping
from dataclasses import replace

from helpers.small_site import small_material
from sitegen.content.collection import Collection
from sitegen.site.material import Material, folio
from sitegen.site.paper import PaperPage, paper_page
from sitegen.site.paper_facts import Plain, paper_facts

YOUNG = "2026-x/01"
AT = "litters/2026-x/01-paper.html"


def papers(material: Material) -> Mapping[str, str]:
    return folio(material, "index.html").addresses.papers


def facts(material: Material | None = None, animal_id: str = YOUNG) -> Plain:
    material = material or small_material()
    at = folio(material, papers(material)[animal_id])
    return paper_facts(material.collection.animals[animal_id], at)


def paper(material: Material | None = None, animal_id: str = YOUNG) -> PaperPage:
    material = material or small_material()
    return paper_page(material.collection.animals[animal_id], folio(material, papers(material)[animal_id]))


def with_animals(records: Collection, **more: object) -> Collection:
    return replace(records, animals={**records.animals, **more})  # type: ignore[arg-type]
