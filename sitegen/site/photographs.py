"""The photographs of one animal in full size: a page of our own, so that nothing needs a script."""

from sitegen.content.animals import Animal, PhotoRecord
from sitegen.site.journal_models import FullPlate, PlatesPage
from sitegen.site.material import Folio
from sitegen.site.parts import Span, words
from sitegen.site.plates import grown_plate, in_time_order, photograph_anchor
from sitegen.words.photographs import back_words, largest_file, photographs_intro
from sitegen.words.speech import capital


def photographs_page(animal: Animal, folio: Folio) -> PlatesPage:
    """All photographs of an animal that are shown, oldest first, with its age on each."""
    photos = in_time_order(animal.photos, folio)
    species = folio.collection.species[animal.species]
    return PlatesPage(
        name=folio.name(animal),
        kicker=words(capital(species.name)),
        intro=photographs_intro(len(photos)),
        back=(Span(back_words(), folio.linker.animal(animal.id)),),
        plates=tuple(_full(rank, photo, animal, folio) for rank, photo in enumerate(photos, 1)),
    )


def _full(rank: int, photo: PhotoRecord, animal: Animal, folio: Folio) -> FullPlate:
    """A photograph with the largest file that there is of it."""
    largest = folio.material.pictures[photo.path].of_format("jpeg")[-1]
    told = largest_file(largest.width_px, largest.height_px)
    plate = grown_plate(photo, animal, folio)
    return FullPlate(photograph_anchor(rank), plate, (Span(told, folio.linker.to(largest.file_name)),))
