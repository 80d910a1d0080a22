"""How the site itself is written: ``site.yaml``."""

from enum import StrEnum
from typing import Annotated, Any, ClassVar

from sitegen.content.report import At
from sitegen.content.written.animals import TEXT_BY_NAME
from sitegen.content.written.forms import LISTED, Form, described, part, raw
from sitegen.content.written.values import AgeAsWritten, Chance, Text, Texts, Weight, Whole, word_reader


class Units(StrEnum):
    """In which units weights are shown."""

    METRIC = "metric"
    IMPERIAL = "imperial"


class ContactForm(Form):
    """How to reach the breeder; published as written."""

    what: ClassVar[str] = "contact"

    email: Text = described("An e-mail address.")
    phone: Text = described("A telephone number.")
    place: Text = described("Town or region.")
    note: Text = described("A line of text.")


class PicturesForm(Form):
    """How pictures are made."""

    what: ClassVar[str] = "pictures"

    widths: Annotated[tuple[Whole, ...] | None, LISTED] = described("Widths in pixels.")
    avif_quality: Whole = described("Quality of AVIF, 1 to 100.")
    avif_speed: Whole = described("Speed of AVIF, 0 slow to 10 fast.")
    jpeg_quality: Whole = described("Quality of JPEG, 1 to 95.")


class ReadyForm(Form):
    """The site's own rules for when a young may leave."""

    what: ClassVar[str] = "ready_when"

    meals: Whole = described("Recorded meals taken: 5.")
    weight: Weight = described("The last recorded weight: 15 g.")
    age: AgeAsWritten = described("The age: 8 weeks.")


class SiteForm(Form):
    """Settings of the whole site."""

    what: ClassVar[str] = "site.yaml"

    name: Text = described("What the breeder's collection is called.")
    address: Text = described("The public address of the site, with https://.")
    tagline: Text = described("One line below the name.")
    language: Text = described("The language of the site: en, en-GB, de.")
    currency: Text = described("The currency of prices, three capital letters (ISO 4217).")
    units: Annotated[At[Units] | None, *word_reader(Units)] = described("metric or imperial; metric when left out.")
    theme: Text = described("The folder name of the theme.")
    contact: Annotated[ContactForm | None, part(ContactForm)] = described("How to reach the breeder.")
    cautions: Texts = described("Further cautions, beside the usual ones.")
    drawings: Text = described("A line that is shown wherever pictures are: true, or text, when they are drawings.")
    pictures: Annotated[PicturesForm | None, part(PicturesForm)] = described("How pictures are made.")
    ready_when: Annotated[ReadyForm | None, part(ReadyForm)] = described(
        "When an offered young of its first year counts as ready to leave, by rules of your own."
    )
    relatedness_limit: Chance = described(
        "For projects: the highest inbreeding coefficient of young that you accept, such as 1/8."
    )
    about: Text = described("Free text for the start page, Markdown.")
    reviewed: Annotated[Any, *raw(TEXT_BY_NAME)] = described(
        "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: Annotated[Any, *raw({})] = described("Anything that is never published.")
