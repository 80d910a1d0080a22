"""The words of the page that shows an animal's photographs in full size."""

from sitegen.words.numbers import small_number
from sitegen.words.speech import _, capital, ngettext


def photographs_title(name: str) -> str:
    """The title of the page."""
    return _("Pictures of {name}").format(name=name)


def photographs_intro(count: int) -> str:
    """What stands under the title."""
    told = ngettext("{count} picture.", "{count} pictures, the oldest first.", count)
    return capital(told.format(count=small_number(count)))


def back_words() -> str:
    """The way back."""
    return _("To the animal’s page")


def largest_file(width: int, height: int) -> str:
    """What leads to the largest file of a photograph."""
    return _("The picture alone, {width} by {height} pixels").format(width=width, height=height)


def full_view() -> str:
    """What leads from a small picture to the large one."""
    return _("Full size")
