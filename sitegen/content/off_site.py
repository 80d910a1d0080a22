"""What is kept off the site: the names under which it is still counted there, and maps that do not list it."""

from collections.abc import Iterator, Mapping
from typing import TypeVar

R = TypeVar("R")

_OFF_SITE = "not shown "


def stand_in(number: int) -> str:
    """The name on the site of a record that is not shown; no record can have it, since it has blanks."""
    return f"{_OFF_SITE}{number}"


def is_off_site(record: str) -> bool:
    """True of such a name."""
    return record.startswith(_OFF_SITE)


class Listed(Mapping[str, R]):
    """Records by id. What is kept off the site is found by its name there, and never listed or counted.

    So whoever goes through all records makes nothing of those that are not shown, and whoever follows a reference
    to one finds what stands for it.
    """

    def __init__(self, records: Mapping[str, R]) -> None:
        self._records = records

    def __getitem__(self, key: str) -> R:
        return self._records[key]

    def __iter__(self) -> Iterator[str]:
        return (key for key in self._records if not is_off_site(key))

    def __len__(self) -> int:
        return sum(1 for _ in self)
