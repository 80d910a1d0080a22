"""Finding an animal in a list: a sentence with choices, and of each animal what they are compared with.

A script narrows, counts and sorts what stands on the page; without one the list stands whole.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.prices import Money
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.offers import goes_from
from sitegen.genetics.loci import look_id
from sitegen.site.material import Folio
from sitegen.words import finding as say
from sitegen.words.claims import HIDDEN, SEEN
from sitegen.words.conditions import is_conditional
from sitegen.words.numbers import money_text
from sitegen.words.speech import _

WORTH_IT = 4
"""A list shorter than this is read faster than it is narrowed."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice of a field: the word in the animals' data, and how it is called."""

    value: str
    text: str


@dataclass(frozen=True, slots=True)
class Field:
    """Choices of which one is made, and the words ``before`` it; ``later``: asked once the one before is chosen."""

    name: str
    label: str
    choices: tuple[Choice, ...]
    before: str = ""
    later: bool = False


@dataclass(frozen=True, slots=True)
class Clause:
    """A part of the sentence that stands by itself: words that lead to it, its fields, words after them.

    ``condition`` is False for what only puts the list in order.
    """

    before: str
    fields: tuple[Field, ...]
    after: str
    condition: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """The sentence by which a list is narrowed. ``counted`` has the places ``{shown}`` and ``{all}``.

    ``near`` says that none fits, for one near miss, two and so on; ``missed`` what such a one lacks, with the place
    ``{what}``. ``day`` is the day of the statement: no reader's clock is taken to be before it.
    """

    title: str
    clauses: tuple[Clause, ...]
    counted: str
    all_shown: str
    near: tuple[str, ...]
    missed: str
    day: str


def finding_of(animals: Sequence[Animal], folio: Folio, *, offers: bool) -> Finding | None:
    """The choices that fit some animals; None for a short list. In a list of offers price and day matter."""
    if len(animals) < WORTH_IT:
        return None
    fields = _fields(animals, folio, offers=offers)
    counted = _("{shown} of {all} shown")
    return Finding(
        title=_("Narrow the list"),
        clauses=tuple(_clauses(say.finding_sentence(), fields)),
        counted=counted,
        all_shown=counted.format(shown=len(animals), all=len(animals)),
        near=say.near_texts(),
        missed=say.missed_text(),
        day=str(folio.material.as_of),
    )


def _clauses(sentence: str, fields: dict[str, tuple[Field, ...]]) -> Iterator[Clause]:
    """The sentence in its parts; without those that have no field here."""
    for before, bracketed, alone in re.findall(r"([^\[{]*)(?:\[(.+?)\]|(\{\w+\}))", sentence):
        pieces = re.split(r"\{(\w+)\}", bracketed or alone)
        own = tuple(
            replace(field, before=lead + field.before)
            for words, name in zip(pieces[::2], pieces[1::2], strict=False)
            for lead, field in zip((words, *[""] * len(fields[name])), fields[name], strict=False)
        )
        if own:
            yield Clause(before, own, pieces[-1], bool(bracketed))


def _fields(animals: Sequence[Animal], folio: Folio, *, offers: bool) -> dict[str, tuple[Field, ...]]:
    """Place of the sentence to its fields; none where there is nothing to choose."""
    claims = [claim for animal in animals for claim in folio.claims(animal.id)]
    species = {animal.species: folio.collection.species[animal.species].name for animal in animals}
    looks = [pair for animal in animals for pair in _looks(animal, folio)]
    genes = _sorted((_allele_word(c, folio), folio.voice.allele(c).name) for c in claims if _holds(c))
    prices = [p for animal in animals if offers and (offer := folio.offer(animal)) and (p := offer.price)]
    chances = (
        ("1/2", _("at least 50 in 100")),
        ("2/3", _("at least about 67 in 100")),
        ("1", _("certainty or a keeper’s word")),
    )
    by_price = (("price", _("lowest price first")),) if offers else ()
    orders = (*by_price, ("young", _("youngest first")), ("name", _("by name")))
    limits, now = _limits(prices, folio), (("now", _("now")),)
    return {
        "sex": (_field("sex", _sorted((a.sex.value, say.wanted_sex(a.sex)) for a in animals)),),
        "species": (_field("species", _sorted(species.items())),) if len(species) > 1 else (),
        "shows": (_field("shows", _sorted(looks)),),
        "chance": (_field("chance", chances),),
        "gene": (_field("gene", genes), _field("gene2", genes, _(" and ")), _field("gene3", genes, _(" and "))),
        "price": (_field("price", limits),) if limits else (),
        "go": (_field("go", now),) if offers else (),
        "order": (_field("order", orders),),
    }


def _field(name: str, choices: Iterable[tuple[str, str]], before: str = "") -> Field:
    made = tuple(Choice(value, text) for value, text in (("", say.anything(name)), *choices))
    return Field(name, say.field_label(name), made, before, later=bool(before))


def _sorted(found: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """Each choice once, by name."""
    return sorted(dict(found).items(), key=lambda pair: pair[1].casefold())


def _limits(prices: Sequence[Money], folio: Folio) -> list[tuple[str, str]]:
    """Limits of the price; none where it is asked in several currencies."""
    if len(currencies := {price.currency for price in prices}) != 1:
        return []
    currency, language = currencies.pop(), folio.collection.site.language
    limits = say.price_limits(price.amount for price in prices)
    return [(f"{n:f}", _("for {price} at most").format(price=money_text(Money(n, currency), language))) for n in limits]


def _looks(animal: Animal, folio: Folio) -> Iterable[tuple[str, str]]:
    """Word and name of each look of an animal, and of each combination that these make."""
    seen = [claim for claim in folio.claims(animal.id) if claim.kind in SEEN]
    for claim in seen:
        yield look_id(name := folio.voice.gene(claim).text), name
    shown = {claim.look for claim in seen}
    for several in folio.collection.species[animal.species].genome.combinations:
        if several.looks and shown.issuperset(several.looks):
            yield look_id(several.name), several.name


def _holds(claim: Claim) -> bool:
    """True for a claim that says with what chance an animal has an allele."""
    return bool(claim.allele) and claim.kind in (*SEEN, *HIDDEN) and claim.kind is not ClaimKind.TOO_YOUNG


def _held_chance(claim: Claim) -> Fraction | int:
    """The chance by which a list is narrowed: what hangs on a condition is likely, and never among what is certain."""
    return 1 if claim.kind in SEEN else Fraction(99, 100) if is_conditional(claim) else claim.chance


def _allele_word(claim: Claim, folio: Folio) -> str:
    return look_id(folio.voice.allele(claim).name)


def found_by(animal: Animal, folio: Folio) -> tuple[tuple[str, str], ...]:
    """An animal's facts as data for the theme's script.

    Genes stand there by name, so that species can be mixed, and are parted by blanks: words for what it shows, and
    words each with an exact chance after a colon for what it may have. ``go`` is the day from which it can go; empty
    where no day is told, as for one that still lacks meals, and for one that is on hold.
    """
    offer = folio.offer(animal)
    held = [f"{_allele_word(c, folio)}:{_held_chance(c)}" for c in folio.claims(animal.id) if _holds(c)]
    return (
        ("sex", animal.sex.value),
        ("species", animal.species),
        ("born", str(animal.born) if animal.born else ""),
        ("shows", " ".join(dict.fromkeys(word for word, _name in _looks(animal, folio)))),
        ("carries", " ".join(held)),
        ("price", f"{offer.price.amount:f}" if offer and offer.price else ""),
        ("go", str(day) if offer and (day := goes_from(offer, folio.material.as_of)) else ""),
    )
