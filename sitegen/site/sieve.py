"""What lists of animals can be narrowed and sorted by, in browsers with scripts."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import look_id
from sitegen.site.claim_views import HIDDEN, SEEN
from sitegen.site.material import Folio
from sitegen.site.parts import Choice, Sieve
from sitegen.words.claims import gene_name
from sitegen.words.labels import offer_state, sex_words
from sitegen.words.speech import _, capital

WORTH_IT = 4
"""A list shorter than this is read faster than it is narrowed."""


def _holds(claim: Claim) -> bool:
    """True for a claim that says with what chance an animal has an allele."""
    return bool(claim.allele) and claim.kind in (*SEEN, *HIDDEN) and claim.kind is not ClaimKind.TOO_YOUNG


def _allele_word(claim: Claim, folio: Folio) -> str:
    return look_id(folio.voice.allele(claim).name)


@dataclass(frozen=True, slots=True)
class Held:
    """The genes of an animal as data: words for what it shows, and words each with an exact chance after a colon."""

    shows: str
    carries: str


def held_by(animal: Animal, folio: Folio) -> Held:
    """The genes of an animal by name, so that species can be mixed; parted by blanks."""
    claims = folio.claims(animal.id)
    shown = [look_id(gene_name(claim, folio.voice)) for claim in claims if claim.kind in SEEN]
    held = [f"{_allele_word(c, folio)}:{1 if c.kind in SEEN else c.chance}" for c in claims if _holds(c)]
    return Held(" ".join(shown), " ".join(held))


def sieve_values(animal: Animal, held: Held, folio: Folio) -> tuple[tuple[str, str], ...]:
    """An animal's facts as data for the theme's script."""
    offer = folio.offer(animal)  # what is no longer asked is not told
    return (
        ("name", folio.name(animal)),
        ("sex", animal.sex.value),
        ("born", str(animal.born) if animal.born else ""),
        ("shows", held.shows),
        ("carries", held.carries),
        ("state", look_id(offer.state.value) if offer else ""),
        ("price", str(offer.price.amount) if offer and offer.price else ""),
    )


def sieve_of(animals: Sequence[Animal], folio: Folio, *, offers: bool) -> Sieve | None:
    """The choices that fit some animals; None for a short list.

    Args:
        animals: Those in the list.
        folio: The page.
        offers: The list is of offers, so that state and price matter.
    """
    if len(animals) < WORTH_IT:
        return None
    claims = [claim for animal in animals for claim in folio.claims(animal.id)]
    states = [animal.offer.state for animal in animals if animal.offer] if offers else []
    counted = _("{shown} of {all} shown")
    by_price = (Choice("price", _("lowest price first")),) if offers else ()
    return Sieve(
        shows=_choices((look_id(name), name) for c in claims if c.kind in SEEN for name in [gene_name(c, folio.voice)]),
        carries=_choices((_allele_word(c, folio), folio.voice.allele(c).name) for c in claims if _holds(c)),
        chances=(
            Choice("", _("with any chance")),
            Choice("1/2", _("at least 50 in 100")),
            Choice("2/3", _("at least about 67 in 100")),
            Choice("1", _("for certain, or by a keeper’s word")),
        ),
        sexes=_choices((animal.sex.value, sex_words(animal.sex)) for animal in animals),
        states=_choices((look_id(state.value), offer_state(state)) for state in states),
        orders=(
            Choice("", _("as listed")),
            *by_price,
            Choice("young", _("youngest first")),
            Choice("name", _("by name")),
        ),
        counted=counted,
        all_shown=counted.format(shown=len(animals), all=len(animals)),
    )


def _choices(found: Iterable[tuple[str, str]]) -> tuple[Choice, ...]:
    """Each choice once, by name; none where there is nothing to choose between."""
    unique = sorted(dict.fromkeys((value, capital(text)) for value, text in found), key=lambda pair: pair[1])
    return tuple(Choice(value, text) for value, text in unique) if len(unique) > 1 else ()
