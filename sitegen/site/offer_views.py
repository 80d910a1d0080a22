"""Offers, cautions and how to reach the breeder, as a template sees them."""

from collections.abc import Sequence
from urllib.parse import quote

from sitegen.content.animals import Animal
from sitegen.content.site import Contact
from sitegen.evidence.cautions import Caution, CautionKind
from sitegen.site.in_play import OPEN
from sitegen.site.material import Folio
from sitegen.site.parts import CautionView, Field, Line, OfferView, Span, words
from sitegen.words.buying import caution_sentences, caution_title, readiness_text, waits_label
from sitegen.words.labels import no_price, offer_state, since_text
from sitegen.words.numbers import money_text
from sitegen.words.speech import _


def offer_view(animal: Animal, folio: Folio) -> OfferView | None:
    """An animal's offer in words; None when it was never offered."""
    offer = folio.offer(animal)
    if offer is None:
        return None
    language = folio.collection.site.language
    still_open = offer.state in OPEN
    price = money_text(offer.price, language) if offer.price else (no_price() if still_open else "")
    return OfferView(
        state=offer.state.value,
        label=offer_state(offer.state),
        price=price,
        since=since_text(offer.since, language) if offer.since else "",
        ready=readiness_text(offer, folio.collection.site) if still_open else "",
        open=still_open,
        waits=waits_label() if offer.missing else "",
    )


def ask_line(animal: Animal, folio: Folio) -> Line:
    """How to ask about an offered animal; empty when it cannot be had or no address is given."""
    offer = folio.offer(animal)
    email = folio.collection.site.contact.email
    if offer is None or offer.state not in OPEN or not email:
        return ()
    name = folio.name(animal)
    return (Span(_("Ask about this animal"), f"mailto:{email}?subject={quote(name)}"),)


def paper_line(animal: Animal, folio: Folio) -> Line:
    """The link to the buyer's paper; empty for an animal that was never offered for sale."""
    address = folio.material.papers.get(animal.id)
    return (Span(_("Paper for the buyer"), folio.linker.to(address)),) if address else ()


def caution_views(cautions: Sequence[Caution], folio: Folio) -> tuple[CautionView, ...]:
    """Cautions in words; those in the breeder's own words stand together under one heading."""
    own = [caution for caution in cautions if caution.kind is CautionKind.OWN_WORDS]
    views = [
        CautionView(caution_title(caution.kind), folio.lines(caution_sentences(caution, folio.voice)))
        for caution in cautions
        if caution.kind is not CautionKind.OWN_WORDS
    ]
    if own:
        lines = tuple(line for caution in own for line in folio.lines(caution_sentences(caution, folio.voice)))
        views.append(CautionView(caution_title(CautionKind.OWN_WORDS), tuple(dict.fromkeys(lines))))
    return tuple(views)


def contact_fields(contact: Contact) -> tuple[Field, ...]:
    """How to reach the breeder, one line each; an e-mail address and a telephone number can be followed."""
    fields = (
        (_("E-mail"), (Span(contact.email, f"mailto:{contact.email}"),) if contact.email else ()),
        (_("Telephone"), (Span(contact.phone, "tel:" + "".join(contact.phone.split())),) if contact.phone else ()),
        (_("Where"), words(contact.place)),
    )
    return tuple(Field(label, value) for label, value in fields if value)
