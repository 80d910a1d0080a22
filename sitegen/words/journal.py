"""The words of the journal and of the feeds: what happened on a day, in a heading and a sentence."""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.content.animals import OfferState
from sitegen.words.numbers import small_number
from sitegen.words.speech import Sentence, Words, _, capital, listed, ngettext, said


@dataclass(frozen=True, slots=True)
class JournalWords:
    """Short words of the journal."""

    title: str
    intro: str
    follow: str
    years: str
    note: str
    litter: str
    offer: str
    claim: str


def journal_words() -> JournalWords:
    """The words in the language of the site."""
    return JournalWords(
        title=_("Journal"),
        intro=_("Everything that our records date: notes on projects, litters, offers, and what we came to know."),
        follow=_("Follow by feed"),
        years=_("Other years"),
        note=_("Note"),
        litter=_("Litter"),
        offer=_("Offer"),
        claim=_("What we came to know"),
    )


def no_notes() -> str:
    """What a journal says that has nothing to tell."""
    return _("There are no notes yet.")


@dataclass(frozen=True, slots=True)
class FeedWords:
    """What links to feeds are called."""

    available: str
    journal: str
    project: str


def feed_words() -> FeedWords:
    """The words in the language of the site."""
    return FeedWords(_("Feed of what is available"), _("Feed of the journal"), _("Feed of this project"))


def journal_link() -> str:
    """What leads to the journal."""
    return _("Everything else that happened, in the journal")


def journal_of(year: str) -> str:
    """The title of one year's page: ``Journal 2025``."""
    return _("Journal {year}").format(year=year)


def availability_title(site: str) -> str:
    """The title of the feed of what is on offer."""
    return _("Available at {site}").format(site=site)


def journal_title(site: str) -> str:
    """The title of the feed of all dated notes."""
    return _("Journal of {site}").format(site=site)


def project_title(project: str, site: str) -> str:
    """The title of a project's feed."""
    return _("{project}, a project of {site}").format(project=project, site=site)


def offer_heading(state: OfferState, name: str) -> str:
    """``Available: Sorrel``."""
    return {
        OfferState.AVAILABLE: _("Available: {name}"),
        OfferState.ON_HOLD: _("On hold: {name}"),
        OfferState.SOLD: _("Sold: {name}"),
        OfferState.NOT_FOR_SALE: _("Not for sale: {name}"),
    }[state].format(name=name)


def offers_heading(state: OfferState, count: int, litter: str) -> str:
    """``Three available of Juniper and Flint 2026`` for several young of one litter on one day."""
    told = {
        OfferState.AVAILABLE: ngettext("{count} available of {litter}", "{count} available of {litter}", count),
        OfferState.ON_HOLD: ngettext("{count} on hold of {litter}", "{count} on hold of {litter}", count),
        OfferState.SOLD: ngettext("{count} sold of {litter}", "{count} sold of {litter}", count),
        OfferState.NOT_FOR_SALE: ngettext(
            "{count} not for sale of {litter}", "{count} not for sale of {litter}", count
        ),
    }
    return capital(told[state].format(count=small_number(count), litter=litter))


@dataclass(frozen=True, slots=True)
class StageWords:
    """What happened to a litter before its young came."""

    paired: str
    laid: str


def stage_words() -> StageWords:
    """The words in the language of the site."""
    return StageWords(_("paired"), _("laid"))


def young_number(number: str) -> str:
    """A young by its number, where its litter is named beside it."""
    return _("No. {number}").format(number=number)


def decision_heading(project: str) -> str:
    """``Copper lace: a decision``."""
    return _("{project}: a decision").format(project=project)


def stage_heading(name: str, stage: str) -> str:
    """``Juniper and Flint 2026: hatched``."""
    return _("{name}: {stage}").format(name=name, stage=stage)


def litter_words(dam: Words, sires: Words, counted: str = "") -> Sentence:
    """``Juniper with Flint.``, and how many young there are."""
    told = said(_("{dam} with {sires}."), dam=dam, sires=sires)
    return said("{told} {counted}", told=told, counted=counted) if counted else told


def young_counted(count: int) -> str:
    """How many: ``14 living young.``."""
    return capital(ngettext("{count} living young.", "{count} living young.", count).format(count=small_number(count)))


def moved_heading(count: int) -> str:
    """``The odds of 15 animals changed``."""
    words = ngettext("The odds of {count} animal changed", "The odds of {count} animals changed", count)
    return words.format(count=small_number(count))


def moved_alone(animals: Sequence[Words], more: int) -> Sentence:
    """Whose odds changed, where nothing was settled on that day."""
    names = listed([*animals, ngettext("{count} more", "{count} more", more).format(count=more)] if more else animals)
    return said(_("{animals}. Each page says from what to what, and why."), animals=names)


def settled_heading(name: str) -> str:
    """``Basalt: what we came to know``."""
    return _("{name}: what we came to know").format(name=name)
