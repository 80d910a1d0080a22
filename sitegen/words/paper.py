"""The words of the buyer's paper."""

from dataclasses import dataclass

from sitegen.words.speech import _


@dataclass(frozen=True, slots=True)
class PaperWords:
    """Headings and short words."""

    kind: str
    breeder: str
    stated: str
    version: str
    shows: str
    hidden: str
    ruled_out: str
    pedigree: str
    legend: str
    parents: str
    not_known: str
    weights: str
    meals: str
    cautions: str


def paper_words() -> PaperWords:
    """The words in the language of the site."""
    return PaperWords(
        kind=_("Paper for the buyer"),
        breeder=_("Bred or kept by"),
        stated=_("Stated as of"),
        version=_("Version"),
        shows=_("What it shows"),
        hidden=_("What it carries or may carry"),
        ruled_out=_("Looked into and ruled out"),
        pedigree=_("Parents and grandparents"),
        legend=_("Legend"),
        parents=_("How its parents are related"),
        not_known=_("What is not known"),
        weights=_("Last weights"),
        meals=_("Last meals"),
        cautions=_("Please note"),
    )


def printing_text() -> str:
    """What the page is made for."""
    return _("This page is made to be printed on one side of A4 or Letter.")


def none_recorded() -> str:
    """What stands for a list that is empty."""
    return _("None recorded.")


def drawing_text() -> str:
    """What stands under a picture that is drawn."""
    return _("A drawing, not a photograph.")


def later_text(address: str) -> str:
    """Where to look for what became known after the day of the statement."""
    if not address:
        return _(
            "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
            "they are. What became known later stands, with its date, on the animal’s page."
        )
    words = _(
        "Every genetic statement here is worked out from our records as of the day stated, and is no better than "
        "they are. What became known later stands, with its date, on the animal’s page: {address}"
    )
    return words.format(address=address)


def code_title(name: str) -> str:
    """The text alternative of the QR code."""
    return _("QR code that leads to the page of {name}").format(name=name)


def paper_title(name: str, species: str) -> str:
    """The title of the page."""
    return _("Paper for {name}, {species}").format(name=name, species=species)


def counted_of(shown: int, there_are: int, heading: str) -> str:
    """``Last meals (5 of 12)`` where not all are shown."""
    if shown == there_are:
        return heading
    return _("{heading} ({shown} of {all})").format(heading=heading, shown=shown, all=there_are)
