"""What a share picture is composed of, and its name before it is made. Pure: no file is touched.

A share picture is what other programs show for a link to a page: 1200 by 630 pixels, composed from a photo, a name and
one true line. Its address changes with everything that stands on it, so that nobody keeps showing an old one.
"""

import hashlib
from dataclasses import dataclass, fields

WIDTH_PX, HEIGHT_PX = 1200, 630
"""The shape that most programs show whole (1.91 to 1). Source: common practice, no source."""

SHARES_BEGIN = "pictures/share-"
"""How the address of every share picture begins."""

MEDIA_TYPE = "image/jpeg"
RECIPE = 1
"""Raised by hand whenever ``compose`` would make another picture of the same card."""


@dataclass(frozen=True, slots=True)
class ShareCard:
    """All that stands on one share picture, in words ready to print.

    Attributes:
        kicker: What it is: the species, the sex, the day of birth.
        name: The largest words.
        line: One true line.
        foot: Whose it is; a line break in it is kept.
        mark: Stands on the photo, such as ``Drawing``; empty for a photograph.
        photo: Name below the site's root of the picture that it is composed from, or empty for none.
    """

    kicker: str
    name: str
    line: str
    foot: str
    mark: str = ""
    photo: str = ""

    @property
    def address(self) -> str:
        """Where it stands, from the site's root."""
        told = "\0".join(getattr(self, field.name) for field in fields(self))
        return f"{SHARES_BEGIN}{hashlib.sha256(f'{RECIPE}|{told}'.encode()).hexdigest()[:24]}.jpg"


@dataclass(frozen=True, slots=True)
class ShareStyle:
    """How share pictures of a theme look.

    Attributes:
        roman, italic: Font files as bytes; a sign is taken from the first that has it.
        paper, card, ink, soft, accent: Colours, ``#rrggbb``.
    """

    roman: tuple[bytes, ...]
    italic: tuple[bytes, ...]
    paper: str
    card: str
    ink: str
    soft: str
    accent: str

    @property
    def key(self) -> str:
        """16 hexadecimal digits that change with fonts and colours."""
        digest = hashlib.sha256("|".join((self.paper, self.card, self.ink, self.soft, self.accent)).encode())
        for font in (*self.roman, b"|", *self.italic):
            digest.update(hashlib.sha256(font).digest())
        return digest.hexdigest()[:16]
