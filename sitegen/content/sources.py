"""How well a fact of a species file is known, by what its file says of where it comes from."""

from enum import StrEnum

COMMON_PRACTICE = "common practice, no source"
"""The source of what keepers go by and nobody published, as far as is known."""


class Standing(StrEnum):
    """Published; common practice; remembered and not looked up; doubtful; no word of a source."""

    PUBLISHED = "published"
    CUSTOM = COMMON_PRACTICE
    MEMORY = "from memory"
    DOUBTFUL = "doubtful"
    UNSAID = ""


def standing_of(source: str) -> tuple[Standing, str]:
    """How well a fact with that source is known, and what the file says besides.

    >>> standing_of("from memory: Licht 1972"), standing_of("Common practice, no source.")
    ((<Standing.MEMORY: 'from memory'>, 'Licht 1972'), (<Standing.CUSTOM: 'common practice, no source'>, ''))
    """
    text = source.strip()
    for standing in (Standing.CUSTOM, Standing.MEMORY, Standing.DOUBTFUL):
        begin, colon, rest = text.partition(":")
        if begin.rstrip(". ").casefold() == standing and (not colon or standing is not Standing.CUSTOM):
            return standing, rest.strip()
    return (Standing.PUBLISHED if text else Standing.UNSAID), text
