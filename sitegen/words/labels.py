"""The words around the sentences: navigation, headings, states, and what is said where nothing stands."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from importlib import resources

import yaml

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.site import DRAWINGS
from sitegen.content.values import PartialDate
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.words.numbers import age_text, date_text, decimal_text
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
    when_asked,
)


@dataclass(frozen=True, slots=True)
class Labels:
    """Short words of every page, in the language of the site."""

    start: str = field(default_factory=when_asked("Start"))
    collection: str = field(default_factory=when_asked("Collection"))
    litters: str = field(default_factory=when_asked("Litters"))
    projects: str = field(default_factory=when_asked("Projects"))
    available: str = field(default_factory=when_asked("Available"))
    genes: str = field(default_factory=when_asked("Genes"))
    odds: str = field(default_factory=when_asked("How to read our odds"))
    journal: str = field(default_factory=when_asked("Journal"))
    not_found: str = field(default_factory=when_asked("Page not found"))
    shows: str = field(default_factory=when_asked("What shows"))
    hidden: str = field(default_factory=when_asked("Carries or may carry"))
    ruled_out: str = field(default_factory=when_asked("Ruled out"))
    not_known: str = field(default_factory=when_asked("Not known"))
    reasons: str = field(default_factory=when_asked("Why we say so"))
    basis: str = field(default_factory=when_asked("Rests on"))
    parents: str = field(default_factory=when_asked("Parents"))
    dam: str = field(default_factory=when_asked("Dam"))
    sire: str = field(default_factory=when_asked("Sire"))
    possible_sires: str = field(default_factory=when_asked("Possible sires"))
    littermates: str = field(default_factory=when_asked("Littermates"))
    young: str = field(default_factory=when_asked("Young"))
    pedigree: str = field(default_factory=when_asked("Pedigree"))
    species: str = field(default_factory=when_asked("Species"))
    sex: str = field(default_factory=when_asked("Sex"))
    born: str = field(default_factory=when_asked("Born"))
    age: str = field(default_factory=when_asked("Age"))
    died: str = field(default_factory=when_asked("Died"))
    line: str = field(default_factory=when_asked("Line"))
    locality: str = field(default_factory=when_asked("Locality"))
    weight: str = field(default_factory=when_asked("Weight"))
    weights: str = field(default_factory=when_asked("Weights"))
    meals: str = field(default_factory=when_asked("Meals"))
    length: str = field(default_factory=when_asked("Length"))
    sheds: str = field(default_factory=when_asked("Sheds"))
    photos: str = field(default_factory=when_asked("Photographs"))
    acquired: str = field(default_factory=when_asked("Came to us"))
    price: str = field(default_factory=when_asked("Price"))
    ready: str = field(default_factory=when_asked("Can go from"))
    contact: str = field(default_factory=when_asked("Write to us"))
    cautions: str = field(default_factory=when_asked("Before you buy"))
    related: str = field(default_factory=when_asked("How the parents are related"))
    expected: str = field(default_factory=when_asked("Expected"))
    came: str = field(default_factory=when_asked("Came"))
    on_hold: str = field(default_factory=when_asked("On hold"))
    sold: str = field(default_factory=when_asked("Sold"))
    kept: str = field(default_factory=when_asked("Kept"))
    skip: str = field(default_factory=when_asked("Skip to the text"))


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


def ready_text(ready: PartialDate | dt.date | None, language: str = "en") -> str:
    """From when an offered animal can go."""
    return _("can go from {date}").format(date=date_text(ready, language)) if ready else _("can go now")


# What stands where there is nothing to show, and other fixed words.

nothing_available = when_asked("Nothing is available now.")
no_price = when_asked("price on request")
nothing_else = when_asked("Nothing else is known or claimed. “Not known to carry” does not mean “does not carry”.")
"""The last sentence under an animal's claims: what is not named is not promised to be absent."""
no_parents = when_asked("Not recorded")
stays_text = when_asked("stays with us")
no_hidden_gene = when_asked("No hidden gene is known.")
no_answer = when_asked("Nothing is claimed yet: our records do not give one answer.")
"""What stands where records give no answer yet."""
no_photograph = when_asked("No photograph")
no_genes = when_asked("No gene is described for this species.")
nobody_has_it = when_asked("No animal here is known to have it.")
no_litters = when_asked("No litter is recorded yet.")
none_living = when_asked("No living young recorded.")
none_came = when_asked("No young came.")
sold_text = when_asked("Their pages stay, and what we learn later about their genes is added there.")
"""What stands above the animals that were sold."""
evidence_text = when_asked(
    "Every claim about an animal’s genes is worked out from recorded evidence: looks, parents, young, tests and "
    "what earlier keepers stated. Only texts in the breeder’s own words are typed by hand."
)
"""Where the genetic statements of the site come from; at the foot of every page."""
not_found_text = when_asked(
    "There is no page at this address. An animal that has been sold keeps its page; the search finds it."
)


def next_litter(litter: Words, word: str, date: str) -> Sentence:
    """That young are on their way, and when: said where nothing is available."""
    if date:
        return said(_("The next {word} is expected {date}: {litter}."), word=word, date=date, litter=litter)
    return said(_("A {word} is on its way: {litter}."), word=word, litter=litter)


def unanswered_text(count: int) -> str:
    """Of how many animals nothing is claimed at a gene."""
    return _("Of {animals} our records do not give one answer yet.").format(animals=animals_count(count))


def nobody_kept(*, recorded: bool) -> str:
    """What the page of the collection says that shows no animal; ``recorded`` is True when records have any."""
    return _("No animal is kept here now.") if recorded else _("No animal is recorded yet.")


def drawings_text(own: str) -> str:
    """That pictures are drawn, in the breeder's words or, for ``drawings: true``, in ours."""
    return _("The pictures on this site are drawings, not photographs.") if own == DRAWINGS else own


def animals_count(count: int) -> str:
    """``14 animals``."""
    return ngettext("{count} animal", "{count} animals", count).format(count=count)


def alike_words(animals: Sequence[Animal], voice: Voice) -> Sentence:
    """An animal by name; of several young of one litter their numbers, and that they are alike."""
    if len(animals) == 1:
        return (voice.animal(animals[0].id),)
    numbers = listed([animal.number for animal in animals])
    return said(_("Nos. {numbers} of {litter}, alike"), numbers=numbers, litter=voice.litter(animals[0].litter))


def offers_count(count: int) -> str:
    """``3 animals are available.``, or that none is."""
    if not count:
        return nothing_available()
    words = ngettext("{count} animal is available.", "{count} animals are available.", count)
    return words.format(count=count)


def project_state_text(state: str) -> str:
    """How far a project is, in the language of the site; ``state`` as in its record."""
    return {
        "planned": _("planned"),
        "under way": _("under way"),
        "reached": _("reached"),
        "given up": _("given up"),
    }[state]


# The words that a template may bring along itself: headings, labels, and what buttons and links are called. A statement
# is none of them: what states a fact is a field of the page, made where it is known to be true. So a theme reaches the
# program's words for these alone, and its own catalogue answers for nothing else.

HEADINGS, LABELS, BUTTONS = (
    frozenset(words)
    for words in yaml.safe_load((resources.files("sitegen") / "words" / "theme_words.yaml").read_text("utf-8")).values()
)
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


def video_text(seconds: int, n_bytes: int, *, sound: bool, language: str) -> str:
    """``Video: 12 seconds, with sound, 3.4 MB``."""
    length = ngettext("{count} second", "{count} seconds", seconds).format(count=seconds)
    if seconds >= 60:
        length = _("{time} minutes").format(time=f"{seconds // 60}:{seconds % 60:02}")
    size = decimal_text(max(1, round(n_bytes / 100_000)), language)
    told = _("Video: {length}, with sound, {size} MB") if sound else _("Video: {length}, without sound, {size} MB")
    return told.format(length=length, size=size)


def litter_alt_text(photo: PhotoRecord, litter: Litter) -> str:
    """The text alternative of a photograph of a whole litter; before the young are here it may show eggs or a pair."""
    born = litter.born
    if born is None or (photo.date and photo.date.latest < born.earliest):
        return (_("Drawing for {name}") if photo.drawing else _("Photograph for {name}")).format(name=litter.name)
    words = _("Drawing of the young of {litter}") if photo.drawing else _("The young of {litter}")
    return words.format(litter=litter.name)
