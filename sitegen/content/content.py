"""The breeder's content folder as plain data, so that everything after reading it is pure."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Content:
    """All that the content folder holds, in a fixed order.

    Attributes:
        texts: Path of each record, page and note, relative to the content folder with forward
            slashes, to its text.
        photos: Path of a folder (``animals/juniper``) to the paths of the photos in it, sorted.
        unreadable: Paths of records that exist but could not be read; findings say why.
    """

    texts: Mapping[str, str]
    photos: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    unreadable: tuple[str, ...] = ()
