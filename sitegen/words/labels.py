"""The words around the sentences: navigation, headings, states, and what is said where nothing stands."""

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal, OfferState, PhotoRecord
from sitegen.content.bind_site import DRAWINGS
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.words.numbers import age_text, date_text
from sitegen.words.speech import (
    Sentence,
    Voice,
    Words,
    _,
    animal_name,
    capital,
    claimed_name,
    listed,
    ngettext,
    own_word,
    plain,
    said,
)


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


def offer_state(state: OfferState) -> str:
    """Where an offer stands, as a label."""
    return {
        OfferState.AVAILABLE: _("Available"),
        OfferState.ON_HOLD: _("On hold"),
        OfferState.SOLD: _("Sold"),
        OfferState.NOT_FOR_SALE: _("Not for sale"),
    }[state]


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


HEADINGS = frozenset((
    "As it grew", "Carries it unseen", "Chance by season", "Copies and looks", "Family", "Family of the goal",
    "From the collection", "From the projects", "Genes", "Gone to new homes", "Here", "How the parents are related",
    "How we know", "How we speak of genes", "In combination", "Latest litters", "Litters and clutches",
    "Look here instead", "Looked into and ruled out", "May carry it", "More", "Names for several genes together",
    "No longer here", "Not listed one by one", "Notes", "On offer now", "Other ways to the same goal", "Plates",
    "Shows it", "The animals", "The collection", "The road", "The story", "To ask about an animal",
    "Weight and meals", "Welfare", "What came, beside what was expected", "What cannot be seen", "What changed",
    "What these numbers take for granted", "What we decided", "What went wrong", "Where we are now",
))  # fmt: skip
LABELS = frozenset((
    "any", "anything", "By the end of", "Came", "Carries", "Copies", "Date", "Expected", "First letters", "Gene",
    "Here", "How it is inherited", "How sure", "in that very season", "Look", "Main", "new in that season",
    "Of 100 young, about", "of 100 plans like this one, about", "Offered", "On average", "On this page", "Order",
    "Other ways to the same goal", "Parents", "Passed on", "Sex", "Shows", "State", "Taken",
    "there by the season before", "Weight", "What shows", "What we looked for", "with",
))  # fmt: skip
BUTTONS = frozenset((
    "All projects, and how far they are", "Everything that is available, with its evidence", "How to read our odds",
    "Its genes", "Menu", "Show all", "The collection", "The published facts as data", "The whole collection",
    "The whole ledger", "What is available",
))  # fmt: skip
_WORDS = HEADINGS | LABELS | BUTTONS


def theme_word(words: str) -> str:
    """A template's words in the language of the site: by the theme's own catalogue, or as one of the words above."""
    own = own_word(words)
    return _(words) if own == words and words in _WORDS else own


def alt_text(photo: PhotoRecord, animal: Animal, claims: Sequence[Claim], voice: Voice) -> str:
    """The text alternative of an animal's photograph: ``Juniper, a female corn snake showing amel, 3 years old``.

    A drawing is called a drawing. The age is told only when both dates are known.
    """
    shown = [c for c in claims if c.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)]
    looks = [claimed_name(voice.locus(claim), claim) for claim in shown]
    species = voice.species(animal.species).name
    whom = _("{name}, a {species}") if animal.sex is Sex.UNKNOWN else _("{name}, a {sex} {species}")
    sex = {Sex.FEMALE: _("female"), Sex.MALE: _("male")}.get(animal.sex, "")
    told = whom.format(name=animal_name(voice.collection, animal.id), sex=sex, species=species)
    if looks:
        told = _("{whom} showing {looks}").format(whom=told, looks=plain(listed(looks)))
    age = age_text(animal.born, photo.date.latest) if animal.born and photo.date else ""
    told = _("{whom}, {age} old").format(whom=told, age=age) if age else told
    return _("Drawing of {whom}").format(whom=told) if photo.drawing else capital(told)


def litter_alt_text(photo: PhotoRecord, litter: Litter) -> str:
    """The text alternative of a photograph of a whole litter; before the young are here it may show eggs or a pair."""
    born = litter.born
    if born is None or (photo.date and photo.date.latest < born.earliest):
        return (_("Drawing for {name}") if photo.drawing else _("Photograph for {name}")).format(name=litter.name)
    words = _("Drawing of the young of {litter}") if photo.drawing else _("The young of {litter}")
    return words.format(litter=litter.name)
