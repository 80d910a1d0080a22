"""The site itself and its free pages: how they are written, and their records."""

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import ClassVar
from urllib.parse import urlsplit

from babel import Locale, UnknownLocaleError

from sitegen.content.declaration import AsWritten, ListOf, Written, group_of, key_only, keyed
from sitegen.content.prices import check_currency
from sitegen.content.public import PUBLIC, USUALLY, Public, public_of
from sitegen.content.report import At, Report
from sitegen.content.values import (
    AGE,
    ANYTHING,
    CHANCE,
    PROSE,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    WEIGHT,
    WHOLE,
    WrittenAge,
    read_age,
    words_of,
)
from sitegen.content.yaml_tree import Node, Scalar, is_blank
from sitegen.findings import Kind, Place

SAID_IN = ("en", "de")
"""Languages in which every word of the program is there; the catalogues stand in ``words/locale``."""
FORMAT = 2
"""How records are read: since 2 a season is the year of birth, in 1 it was that of the pairing."""
UNNAMED = "Our snakes"
"""The name of a site whose site.yaml gives none."""
DRAWINGS = "The pictures on this site are drawings, not photographs."
_UNORDERED = 1_000
_PICTURE_BOUNDS = {"avif_quality": (1, 100), "avif_speed": (0, 10), "jpeg_quality": (1, 95)}
_WIDTHS = (100, 4000)


class Units(StrEnum):
    """In which units weights are shown."""

    METRIC = "metric"
    IMPERIAL = "imperial"


@dataclass(frozen=True, slots=True)
class Contact:
    """How to reach the breeder; published as written."""

    email: str = keyed(TEXT, "An e-mail address.")
    phone: str = keyed(TEXT, "A telephone number.")
    place: str = keyed(TEXT, "Town or region.")
    note: str = keyed(TEXT, "A line of text.", prose=True)


@dataclass(frozen=True, slots=True)
class Pictures:
    """How pictures are made.

    AVIF speed is Pillow's.
    """

    widths: tuple[int, ...] = keyed(ListOf(WHOLE), "Widths in pixels.", usual=(480, 640, 960, 1440, 1920))
    avif_quality: int = keyed(WHOLE, "Quality of AVIF, 1 to 100.", usual=55)
    avif_speed: int = keyed(WHOLE, "Speed of AVIF, 0 slow to 10 fast.", usual=9)
    jpeg_quality: int = keyed(WHOLE, "Quality of JPEG, 1 to 95.", usual=80)


@dataclass(frozen=True, slots=True)
class ReadyRules:
    """The site's own rules for when a young may leave.

    In its first year; None for what it has no rule for. Common practice, no source: the usual rule is some recorded
    meals.
    """

    meals: int | None = keyed(WHOLE, "Recorded meals taken: 5.")
    grams: int | None = keyed(WEIGHT, "The last recorded weight: 15 g.", alias="weight")
    age: WrittenAge | None = keyed(AGE, "The age: 8 weeks.")


@dataclass(frozen=True, slots=True)
class WeighEvery:
    """After how long an animal is to be weighed again. Common practice, no source."""

    young: WrittenAge = keyed(AGE, "Before the breeding age.", usual=WrittenAge(days=30))
    adult: WrittenAge = keyed(AGE, "From then on.", usual=WrittenAge(days=90))


_BY_AGE = group_of(WeighEvery, "weigh_every of site.yaml", name="Weigh")


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Settings of the whole site.

    ``address`` is its public address, ending in a slash, or empty. ``relatedness_limit`` holds for projects that say
    nothing of it; None for no limit.
    """

    place: Place
    format_number: int = keyed(
        WHOLE,
        f"{FORMAT}: a season is the year in which its young are born. Left out only in collections begun before that.",
        alias="format",
        usual=1,
    )
    name: str = keyed(TEXT, "What the breeder's collection is called.", prose=True)
    address: str = keyed(TEXT, "The public address of the site, with https://.")
    tagline: str = keyed(TEXT, "One line below the name.", prose=True)
    language: str = keyed(TEXT, "The language of the site: en, en-GB, de.", usual="en")
    currency: str = keyed(TEXT, "The currency of prices, three capital letters (ISO 4217).")
    units: str = keyed(words_of(Units), "metric or imperial; metric when left out.", usual="metric")
    theme: str = keyed(TEXT, "The folder name of the theme.", usual="specimen-sheet")
    contact: Contact = keyed(group_of(Contact, "contact"), "How to reach the breeder.", usual=Contact())
    cautions: tuple[str, ...] = keyed(TEXTS, "Further cautions, beside the usual ones.", prose=True)
    drawings: str = keyed(
        TEXT, "A line that is shown wherever pictures are: true, or text, when they are drawings.", prose=True
    )
    pictures: Pictures = keyed(group_of(Pictures, "pictures"), "How pictures are made.", usual=Pictures())
    ready_when: ReadyRules = keyed(
        group_of(ReadyRules, "ready_when", name="Ready"),
        "When an offered young of its first year counts as ready to leave, by rules of your own.",
        usual=ReadyRules(),
    )
    weigh_every: WeighEvery = keyed(
        AsWritten({"anyOf": [AGE.json, _BY_AGE.json_schema()]}),
        "How often animals are weighed: 60 days, or {young: 30 days, adult: 90 days}, which are meant when it is left "
        "out. sitegen today tells when.",
        usual=WeighEvery(),
    )
    public: tuple[Public, ...] = keyed(
        PUBLIC,
        f"What the site shows of the daily records: some of {', '.join(Public)}. {' and '.join(USUALLY)} when left "
        "out, [] for nothing. A record may say otherwise.",
        usual=USUALLY,
    )
    relatedness_limit: Fraction | None = keyed(
        CHANCE, "For projects: the highest inbreeding coefficient of young that you accept, such as 1/8."
    )
    about: str = keyed(PROSE, "Free text for the start page, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(ANYTHING, "Anything that is never published.")


SITE = group_of(Site, "site.yaml")


@dataclass(frozen=True, slots=True)
class FreePage:
    """A page in the breeder's own words, Markdown. ``id`` is the file name without its ending."""

    id: str
    title: str
    text: str
    place: Place
    order: int = 0


def bind_site(form: Written | None, report: Report) -> Site:
    """The site; what is not written has its default."""
    if form is None:
        return Site(name=UNNAMED, place=Place("site.yaml"))
    drawings = form.drawings.value if form.drawings else ""
    return form.record(
        Site,
        name=form.name.value if form.name else UNNAMED,
        place=form.start,
        format_number=_format(form, report),
        address=_address(form.address, report),
        language=_language(form.language, report),
        currency=check_currency(form.currency, report) if form.currency else "",
        units=form.units.value.value if form.units else "metric",
        contact=_contact(form.contact, report),
        drawings={"true": DRAWINGS, "yes": DRAWINGS, "false": "", "no": ""}.get(drawings.lower(), drawings),
        pictures=_pictures(form.pictures, report),
        weigh_every=_weigh_every(form.weigh_every, report),
        public=USUALLY if (public := public_of(form)) is None else public,
    )


def _format(form: Written, report: Report) -> int:
    written: At[int] | None = form.format_number
    if written is None:
        return 1 if is_blank(form.node("format")) else FORMAT  # what is written and wrong is told already
    if not 1 <= written.value <= FORMAT:
        report.wrong(
            written,
            f"format {written.value} is not known to this version of sitegen",
            f"format: {FORMAT}",
            f"if a newer version wrote this collection, use that one; else write format: {FORMAT}",
        )
        return FORMAT
    return written.value


def _weigh_every(tree: Node | None, report: Report) -> WeighEvery:
    """One time for all, or one for young and one for adults."""
    if isinstance(tree, Scalar) and not tree.blank:
        every = read_age(tree, report)
        return WeighEvery(every, every) if every else WeighEvery()
    form = _BY_AGE.read(tree, report) if tree and not is_blank(tree) else None
    return form.record(WeighEvery) if form else WeighEvery()


def _address(written: At[str] | None, report: Report) -> str:
    if written is None:
        return ""
    try:
        parts = urlsplit(written.value)
        sound = parts.scheme in ("http", "https") and bool(parts.hostname) and not parts.query and not parts.fragment
    except ValueError:
        sound = False
    if not sound or re.search(r"\s", written.value):
        bare = re.fullmatch(r"[\w.-]+\.\w+(/\S*)?", written.value)
        report.wrong(
            written,
            f'"{written.value}" is not the address of a site',
            "an address such as https://example.org/",
            "write it with https://",
            near=f"https://{written.value}" if bare else "",
        )
        return ""
    return written.value.rstrip("/") + "/"


def _language(written: At[str] | None, report: Report) -> str:
    if written is None:
        return "en"
    try:
        Locale.parse(written.value.replace("_", "-"), sep="-")
    except (ValueError, UnknownLocaleError):
        report.wrong(
            written,
            f'"{written.value}" is not a language code',
            "a code such as en, en-GB or de",
            "write the code of the language the records are written in",
            near="en" if written.value.lower().startswith("en") else "",
        )
        return "en"
    code = written.value.replace("_", "-")
    if code.partition("-")[0] not in SAID_IN:
        report.notice(
            Kind.LANGUAGE_PARTLY,
            written,
            f"the words of the program are not there in {code}: they stay English; dates and prices follow",
            expected=f"one of {', '.join(SAID_IN)} for a site that is in one language throughout",
            remedy="leave it if that is what you want; a catalogue for another language can be added to the program",
        )
    return code


def is_email(text: str) -> bool:
    """True for what has the form of an e-mail address; whether anybody reads it, only a letter can tell.

    >>> is_email("you@example.org"), is_email("you at example.org"), is_email("you@example")
    (True, False, False)
    """
    return re.fullmatch(r"[^@\s]+@[^@\s.]+(\.[^@\s.]+)+", text) is not None


def _contact(form: Written | None, report: Report) -> Contact:
    if form is None:
        return Contact()
    if form.email and not is_email(form.email.value.strip()):
        report.notice(
            Kind.EMAIL_WRONG,
            form.email,
            f'"{form.email.value}" is no e-mail address, and buyers write to it',
            expected="an address such as you@example.org",
            remedy="correct it, or leave the line out",
        )
    return form.record(Contact)


def _pictures(form: Written | None, report: Report) -> Pictures:
    usual = Pictures()
    if form is None:
        return usual
    values = {}
    for name, (low, high) in _PICTURE_BOUNDS.items():
        written: At[int] | None = getattr(form, name)
        values[name] = getattr(usual, name) if written is None else _bounded(written, low, high, report)
    widths = tuple(sorted({_bounded(width, *_WIDTHS, report) for width in form.widths}))
    return Pictures(widths=widths or usual.widths, **values)


def _bounded(written: At[int], low: int, high: int, report: Report) -> int:
    inside = min(max(written.value, low), high)
    if inside != written.value:
        report.wrong(
            written,
            f"{written.value} is out of range",
            f"a whole number from {low} to {high}",
            f"write {inside}",
            near=str(inside),
        )
    return inside


def bind_page(stem: str, text: str, file: str) -> FreePage:
    """A page in the breeder's own words: its order from a leading number, its title from a first heading."""
    match = re.match(r"^(\d{1,3})[-_. ]+(?=\S)(.+)$", stem)
    name = match[2] if match else stem
    title, body = titled(text, name)
    return FreePage(name, title, body, Place(file, 1, 1), int(match[1]) if match else _UNORDERED)


def titled(text: str, name: str) -> tuple[str, str]:
    """Title and text: the first line when it is a heading, else the name in words."""
    first, _, rest = text.lstrip("\n").partition("\n")
    if heading := re.match(r"^#\s+(.+?)\s*#*$", first):
        return heading[1], rest.lstrip("\n")
    words = name.replace("-", " ").replace("_", " ").strip()
    return words[:1].upper() + words[1:], text
