"""The words around the sentences: navigation, headings, states, and what is said where nothing stands."""

from dataclasses import dataclass

from sitegen.content.animals import OfferState
from sitegen.content.bind_site import DRAWINGS
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.words.measures import date_text
from sitegen.words.runs import Sentence
from sitegen.words.speech import Words, _, ngettext, once_a_language, said, told_alike


@dataclass(frozen=True, slots=True)
class Labels:
    """Short words of every page, in the language of the site."""

    start: str
    collection: str
    litters: str
    projects: str
    available: str
    genes: str
    odds: str
    journal: str
    not_found: str
    shows: str
    hidden: str
    ruled_out: str
    not_known: str
    reasons: str
    basis: str
    parents: str
    dam: str
    sire: str
    possible_sires: str
    littermates: str
    young: str
    pedigree: str
    species: str
    sex: str
    born: str
    age: str
    died: str
    line: str
    locality: str
    weight: str
    weights: str
    meals: str
    photos: str
    acquired: str
    price: str
    ready: str
    contact: str
    cautions: str
    related: str
    expected: str
    came: str
    on_hold: str
    sold: str
    kept: str
    skip: str


@once_a_language
def labels() -> Labels:
    """The words in the language of the site."""
    return Labels(
        start=_("Start"), collection=_("Collection"), litters=_("Litters"), projects=_("Projects"),
        available=_("Available"), genes=_("Genes"), odds=_("How to read our odds"), journal=_("Journal"),
        not_found=_("Page not found"), shows=_("What it shows"), hidden=_("What it carries or may carry"),
        ruled_out=_("Ruled out"), not_known=_("Not known"), reasons=_("Why we say so"), basis=_("Rests on"),
        parents=_("Parents"), dam=_("Dam"), sire=_("Sire"), possible_sires=_("Possible sires"),
        littermates=_("Littermates"), young=_("Young"), pedigree=_("Pedigree"), species=_("Species"), sex=_("Sex"),
        born=_("Born"), age=_("Age"), died=_("Died"), line=_("Line"), locality=_("Locality"), weight=_("Weight"),
        weights=_("Weights"), meals=_("Meals"), photos=_("Photographs"), acquired=_("Came to us"), price=_("Price"),
        ready=_("Can go from"), contact=_("Write to us"), cautions=_("Before you buy"), related=_("How its parents "
        "are related"), expected=_("Expected"), came=_("Came"), on_hold=_("On hold"), sold=_("Sold"), kept=_("Kept"),
        skip=_("Skip to the text"),
    )  # fmt: skip


@told_alike
def offer_state(state: OfferState) -> str:
    """Where an offer stands, as a label."""
    return {
        OfferState.AVAILABLE: _("Available"),
        OfferState.ON_HOLD: _("On hold"),
        OfferState.SOLD: _("Sold"),
        OfferState.NOT_FOR_SALE: _("Not for sale"),
    }[state]


@told_alike
def sex_words(sex: Sex) -> str:
    """The sex as a label."""
    return {Sex.FEMALE: _("female"), Sex.MALE: _("male"), Sex.UNKNOWN: _("sex not known")}[sex]


def since_text(since: PartialDate, language: str = "en") -> str:
    """``since 4 October 2026``."""
    return _("since {date}").format(date=date_text(since, language))


def ready_text(ready: PartialDate | None, language: str = "en") -> str:
    """From when an offered animal can go."""
    return _("can go from {date}").format(date=date_text(ready, language)) if ready else _("can go now")


def nothing_available() -> str:
    """What the page of offers says when it is empty."""
    return _("Nothing is available now.")


def next_litter(litter: Words, word: str, date: str) -> Sentence:
    """That young are on their way, and when: said where nothing is available."""
    if date:
        return said(_("The next {word} is expected {date}: {litter}."), word=word, date=date, litter=litter)
    return said(_("A {word} is on its way: {litter}."), word=word, litter=litter)


def no_price() -> str:
    """What stands for a price that is not stated."""
    return _("price on request")


def nothing_else() -> str:
    """The last sentence under an animal's claims: what is not named is not promised to be absent."""
    return _("Nothing else is known or claimed. “Not known to carry” does not mean “does not carry”.")


def no_parents() -> str:
    """What stands where no parent is recorded."""
    return _("Not recorded")


def stays_text() -> str:
    """That an animal is kept for good."""
    return _("stays with us")


def no_hidden_gene() -> str:
    """What stands where no hidden gene is claimed."""
    return _("No hidden gene is known.")


def no_answer() -> str:
    """What stands where records give no answer yet."""
    return _("Nothing is claimed yet: our records do not give one answer.")


def no_photograph() -> str:
    """What stands in place of a picture."""
    return _("No photograph")


def no_genes() -> str:
    """What a species says that has no gene in its file."""
    return _("No gene is described for this species.")


def nobody_has_it() -> str:
    """What the page of a gene says that no animal has."""
    return _("No animal here is known to have it.")


def unanswered_text(count: int) -> str:
    """Of how many animals nothing is claimed at a gene."""
    return _("Of {animals} our records do not give one answer yet.").format(animals=animals_count(count))


def nobody_kept(*, recorded: bool) -> str:
    """What the page of the collection says that shows no animal; ``recorded`` is True when records have any."""
    return _("No animal is kept here now.") if recorded else _("No animal is recorded yet.")


def no_litters() -> str:
    """What the ledger of litters says that is empty."""
    return _("No litter is recorded yet.")


def none_living() -> str:
    """What a litter says that has no living young in its record."""
    return _("No living young recorded.")


def sold_text() -> str:
    """What stands above the animals that were sold."""
    return _("Their pages stay, and what we learn later about their genes is added there.")


def evidence_text() -> str:
    """Where the genetic statements of the site come from; at the foot of every page."""
    return _(
        "Every claim about an animal’s genes is worked out from recorded evidence: looks, parents, young, tests and "
        "what earlier keepers stated. Only texts in the breeder’s own words are typed by hand."
    )


def drawings_text(own: str) -> str:
    """That pictures are drawn, in the breeder's words or, for ``drawings: true``, in ours."""
    return _("The pictures on this site are drawings, not photographs.") if own == DRAWINGS else own


def animals_count(count: int) -> str:
    """``14 animals``."""
    return ngettext("{count} animal", "{count} animals", count).format(count=count)


def offers_count(count: int) -> str:
    """``3 animals are available.``, or that none is."""
    if not count:
        return nothing_available()
    words = ngettext("{count} animal is available.", "{count} animals are available.", count)
    return words.format(count=count)


def not_found_text() -> str:
    """What the page says that stands for an address that is not there."""
    return _("There is no page at this address. An animal that has been sold keeps its page; the search finds it.")


def project_state_text(state: str) -> str:
    """How far a project is, in the language of the site; ``state`` as in its record."""
    words = {
        "planned": _("planned"),
        "under way": _("under way"),
        "reached": _("reached"),
        "given up": _("given up"),
    }
    return words[state]
