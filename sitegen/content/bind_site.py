"""The site itself and its free pages."""

import re
from urllib.parse import urlsplit

from babel import Locale, UnknownLocaleError

from sitegen.content.bind_loci import texts
from sitegen.content.bind_offers import check_currency
from sitegen.content.report import At, Report
from sitegen.content.site import SAID_IN, Contact, FreePage, Pictures, ReadyRules, Site
from sitegen.content.written.site import ContactForm, PicturesForm, ReadyForm, SiteForm
from sitegen.findings import Kind, Place

UNNAMED = "Our snakes"
"""The name of a site whose site.yaml gives none."""
DRAWINGS = "The pictures on this site are drawings, not photographs."
_UNORDERED = 1_000
_PICTURE_BOUNDS = {"avif_quality": (1, 100), "avif_speed": (0, 10), "jpeg_quality": (1, 95)}
_WIDTHS = (100, 4000)


def bind_site(form: SiteForm | None, report: Report) -> Site:
    """The site; what is not written has its default."""
    if form is None:
        return Site(UNNAMED, Place("site.yaml"))
    drawings = _text(form.drawings)
    return Site(
        name=_text(form.name) or UNNAMED,
        place=form.start,
        address=_address(form.address, report),
        tagline=_text(form.tagline),
        language=_language(form.language, report),
        currency=check_currency(form.currency, report) if form.currency else "",
        units=form.units.value.value if form.units else "metric",
        theme=_text(form.theme) or "field-notes",
        contact=_contact(form.contact, report),
        cautions=tuple(caution.value for caution in texts(form.cautions)),
        drawings={"true": DRAWINGS, "yes": DRAWINGS, "false": "", "no": ""}.get(drawings.lower(), drawings),
        pictures=_pictures(form.pictures, report),
        about=_text(form.about),
        ready_when=_ready_when(form.ready_when),
        relatedness_limit=form.relatedness_limit.value if form.relatedness_limit else None,
    )


def _text(written: At[str] | None) -> str:
    return written.value if written else ""


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
        report.error(
            Kind.VALUE_WRONG,
            written,
            f'"{written.value}" is not the address of a site',
            expected="an address such as https://example.org/",
            nearest=f"https://{written.value}" if bare else "",
            remedy="write it with https://",
        )
        return ""
    return written.value.rstrip("/") + "/"


def _language(written: At[str] | None, report: Report) -> str:
    if written is None:
        return "en"
    try:
        Locale.parse(written.value.replace("_", "-"), sep="-")
    except (ValueError, UnknownLocaleError):
        report.error(
            Kind.VALUE_WRONG,
            written,
            f'"{written.value}" is not a language code',
            expected="a code such as en, en-GB or de",
            nearest="en" if written.value.lower().startswith("en") else "",
            remedy="write the code of the language the records are written in",
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


def _contact(form: ContactForm | None, report: Report) -> Contact:
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
    return Contact(_text(form.email), _text(form.phone), _text(form.place), _text(form.note))


def _ready_when(form: ReadyForm | None) -> ReadyRules:
    if form is None:
        return ReadyRules()
    return ReadyRules(
        meals=form.meals.value if form.meals else None,
        grams=form.weight.value if form.weight else None,
        age=form.age.value if form.age else None,
    )


def _pictures(form: PicturesForm | None, report: Report) -> Pictures:
    usual = Pictures()
    if form is None:
        return usual
    values = {}
    for name, (low, high) in _PICTURE_BOUNDS.items():
        written: At[int] | None = getattr(form, name)
        values[name] = getattr(usual, name) if written is None else _bounded(written, low, high, report)
    widths = tuple(sorted({_bounded(width, *_WIDTHS, report) for width in form.widths or () if width is not None}))
    return Pictures(widths=widths or usual.widths, **values)


def _bounded(written: At[int], low: int, high: int, report: Report) -> int:
    inside = min(max(written.value, low), high)
    if inside != written.value:
        report.error(
            Kind.VALUE_WRONG,
            written,
            f"{written.value} is out of range",
            expected=f"a whole number from {low} to {high}",
            nearest=str(inside),
            remedy=f"write {inside}",
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
