"""Claims, offers, cautions, kinship and contact as templates see them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from urllib.parse import quote

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.site import Contact
from sitegen.evidence.joint import Littermates
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.offers import Caution, CautionKind
from sitegen.site.addresses import OPEN
from sitegen.site.material import Folio
from sitegen.site.parts import CautionView, ClaimView, IconArray, LabelRow, Line, OfferView, Span, words
from sitegen.site.staircase import claim_stairs
from sitegen.words.buying import caution_line, caution_sentences, caution_title, goes_text, readiness_text, waits_label
from sitegen.words.claims import HIDDEN, SEEN, basis_words
from sitegen.words.conditions import is_conditional
from sitegen.words.labels import no_answer, no_hidden_gene, no_parents, no_price, offer_state, since_text
from sitegen.words.numbers import Edge, about_in_100, both_sides, count_text, in_100, money_text
from sitegen.words.pairings import failed_sentence
from sitegen.words.reasons import Worded
from sitegen.words.relations import litter_sentence, parents_sentence
from sitegen.words.speech import Link, Sentence, Target, _, listed, plain, said, when_asked
from sitegen.words.together import together_sentences

_STRONGEST = 2
"""Claims on hidden genes that stand beside an animal's name: as many as the first screen of a phone has room for."""
_WITH_ODDS = {
    ClaimKind.MAY_CARRY: when_asked("carry {gene}"),
    ClaimKind.TOO_YOUNG: when_asked("will show {gene}"),
    ClaimKind.ONE_OR_TWO_COPIES: when_asked("have two copies of {gene}"),
}
"""What those do or have whom a claim's chance counts."""


def icon_array(claim: Claim, folio: Folio) -> IconArray | None:
    """The picture of a claim's odds; None where there is nothing uncertain.

    A chance within 1 of either end, but not there, has one mark of the rarer kind: it is never drawn as none.
    """
    if claim.kind not in _WITH_ODDS or claim.chance in (0, 1):
        return None
    meaning = _WITH_ODDS[claim.kind]().format(gene=folio.voice.gene(claim).text)
    title = _("{chance} {meaning}").format(chance=in_100(claim.chance), meaning=meaning)
    marks = _("A hundred marks in ten rows: {yes} filled for those that do, {no} open for those that do not.")
    return _hundred(claim.chance, title, marks)


def odds_label(claim: Claim, folio: Folio) -> str:
    """What stands beside a small picture of the odds: ``hypo: 67 in 100``."""
    odds = _("{count} in 100").format(count=count_text(about_in_100(claim.chance)))
    return f"{folio.voice.gene(claim).text}: {odds}"


def odds_picture(chance: Fraction) -> IconArray:
    """A chance as a picture of a hundred."""
    return _hundred(chance, in_100(chance), _("A hundred marks in ten rows: {yes} filled, {no} open."))


def _hundred(chance: Fraction, title: str, marks: str) -> IconArray:
    """A chance as a picture; ``marks`` describes it, with the places ``yes`` and ``no``."""
    count = about_in_100(chance)
    filled = count if isinstance(count, int) else {Edge.FEWER_THAN_1: 1, Edge.MORE_THAN_99: 99}[count]
    yes, no = both_sides(chance)
    return IconArray(filled, title, marks.format(yes=count_text(yes), no=count_text(no)))


@dataclass(frozen=True, slots=True)
class ClaimViews:
    """The claims of an animal as templates see them, by where they stand; ``first``: the strongest hidden ones."""

    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    ruled_out: tuple[ClaimView, ...]
    first: tuple[ClaimView, ...]


def views(animal: Animal, folio: Folio, *, linked: bool = True) -> ClaimViews:
    """The claims of an animal in their order, with links and staircases; without them for paper, which has none."""
    line, told = folio.line if linked else unlinked, folio.material.worded[animal.id]

    def whole(told: Worded) -> ClaimView:
        view = _view(told, folio, line)
        return replace(view, stairs=claim_stairs(told.claim, folio)) if linked else view

    def of(*kinds: ClaimKind) -> tuple[ClaimView, ...]:
        return tuple(whole(each) for each in told if each.claim.kind in kinds)

    hidden = sorted((each for each in told if each.claim.kind in HIDDEN), key=lambda each: _strength(each.claim))
    first = tuple(replace(_view(each, folio, line), odds=_dots(each.claim, folio)) for each in hidden[:_STRONGEST])
    return ClaimViews(of(*SEEN), of(*HIDDEN), of(ClaimKind.RULED_OUT), first)


def _strength(claim: Claim) -> tuple[bool, bool, bool, Fraction]:
    """The strongest first, as in the label line: certain, then what hangs on something, then by falling chance."""
    return claim.strained, claim.kind is not ClaimKind.CARRIES, _hangs(claim), -claim.chance


def _hangs(claim: Claim) -> bool:
    return claim.basis is Basis.PREVIOUS_KEEPER or is_conditional(claim)


def _dots(claim: Claim, folio: Folio) -> IconArray | None:
    """The picture of a claim's odds, all of it filled for what is certain and of which no other number is told."""
    certain = claim.kind is ClaimKind.CARRIES and claim.copies != -1 and not (claim.strained or _hangs(claim))
    return odds_picture(claim.chance) if certain else icon_array(claim, folio)


def unlinked(sentence: Sentence) -> Line:
    """The words of a sentence alone."""
    return words(plain(sentence))


def _view(told: Worded, folio: Folio, line: Callable[[Sentence], Line]) -> ClaimView:
    claim = told.claim
    return ClaimView(
        kind=claim.kind.value,
        gene=line((folio.voice.gene(claim),)),
        headline=line(told.headline),
        explanation=tuple(line(sentence) for sentence in told.explanation if sentence),
        basis=line(basis_sentence(claim.basis)) if claim.kind is not ClaimKind.NO_CLAIM else (),
        odds=icon_array(claim, folio),
    )


def basis_sentence(basis: Basis) -> Sentence:
    """What a claim rests on."""
    return said(_("Basis: {basis}."), basis=basis_words(basis))


def no_hidden(animal: Animal, folio: Folio) -> str:
    """What stands where no hidden gene is told of; empty where one is."""
    kinds = {claim.kind for claim in folio.claims(animal.id)}
    if kinds & set(HIDDEN):
        return ""
    return no_answer() if ClaimKind.NO_CLAIM in kinds else no_hidden_gene()


def together_lines(animal: Animal, folio: Folio) -> tuple[Sentence, ...]:
    """Which of its chances must not be multiplied."""
    found = folio.material.together.get(animal.id, ())
    return tuple(together_sentences(animal, found, folio.claims(animal.id), folio.voice))


def shared_doubts(litter: str, folio: Folio) -> tuple[Littermates, ...]:
    """The genes of a litter of which littermates share the doubt, where odds are told of them."""
    strained = folio.material.answers.strained
    found = folio.material.littermates.get(litter, ())
    return tuple(m for m in found if m.matters and all((young, m.gene.locus.id) not in strained for young in m.young))


def look_links(looks: Sequence[str], species: str, folio: Folio) -> tuple[Link, ...]:
    """Looks by name, each leading to its gene."""
    genome = folio.collection.species[species].genome
    found = [genome.look(look) for look in looks]
    return tuple(Link(look.name, Target.GENE, f"{species}/{look.locus}") for look in found)


def combination_sentence(animal: Animal, folio: Folio) -> Sentence:
    """``Together the trade calls this “snow”: amelanistic and anerythristic.``; empty when no name fits.

    Of several names that one is told which takes in most of what the animal shows.
    """
    seen = {claim.look for claim in folio.claims(animal.id) if claim.kind in SEEN}
    genome = folio.collection.species[animal.species].genome
    fitting = [named for named in genome.combinations if named.looks and seen.issuperset(named.looks)]
    if not fitting:
        return ()
    named = max(fitting, key=lambda named: len(named.looks))
    parts = listed(look_links(named.looks, animal.species, folio))
    return said(_("Together the trade calls this “{name}”: {parts}."), name=named.name, parts=parts)


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
        goes=goes_text(offer, folio.material.as_of, language),
    )


def ask_line(animal: Animal, folio: Folio) -> Line:
    """How to ask about an offered animal; empty when it cannot be had or neither address nor number is given."""
    offer, contact = folio.offer(animal), folio.collection.site.contact
    if offer is None or offer.state not in OPEN or not (contact.email or contact.phone):
        return ()
    written = f"mailto:{contact.email}?subject={quote(folio.name(animal))}"
    return (Span(_("Ask about this animal"), written if contact.email else _called(contact.phone)),)


def _called(phone: str) -> str:
    return "tel:" + "".join(phone.split())


def paper_line(animal: Animal, folio: Folio) -> Line:
    """The link to the buyer's paper; empty for an animal that was never offered for sale."""
    address = folio.addresses.papers.get(animal.id)
    return (Span(_("Paper for the buyer"), folio.linker.to(address)),) if address else ()


def caution_views(cautions: Sequence[Caution], folio: Folio) -> tuple[CautionView, ...]:
    """Cautions in words; those in the breeder's own words stand together under one heading."""
    own = [caution for caution in cautions if caution.kind is CautionKind.OWN_WORDS]
    views = [
        CautionView(
            caution_title(caution.kind),
            folio.lines(caution_sentences(caution, folio.voice)),
            folio.line(caution_line(caution.kind)),
        )
        for caution in cautions
        if caution.kind is not CautionKind.OWN_WORDS
    ]
    if own:
        lines = tuple(line for caution in own for line in folio.lines(caution_sentences(caution, folio.voice)))
        views.append(CautionView(caution_title(CautionKind.OWN_WORDS), tuple(dict.fromkeys(lines))))
    return tuple(views)


def contact_fields(contact: Contact) -> tuple[LabelRow, ...]:
    """How to reach the breeder, one line each; an e-mail address and a telephone number can be followed."""
    fields = (
        (_("E-mail"), (Span(contact.email, f"mailto:{contact.email}"),) if contact.email else ()),
        (_("Telephone"), (Span(contact.phone, _called(contact.phone)),) if contact.phone else ()),
        (_("Where"), words(contact.place)),
    )
    return tuple(LabelRow(label, value) for label, value in fields if value)


def dam_words(born: Animal | Litter, folio: Folio, unknown: str = "") -> Sentence:
    """The dam of an animal or a litter; ``unknown`` is said when none is recorded."""
    return (folio.voice.animal(born.dam),) if born.dam else said(unknown or no_parents())


def sires_words(born: Animal | Litter, folio: Folio, unknown: str = "") -> Sentence:
    """The sire or the possible ones; ``unknown`` is said when none is recorded."""
    names = folio.voice.animals([sire for sire, _share in born.sires], either=True)
    return names or said(unknown or no_parents())


def failed_words(litter: Litter, folio: Folio) -> Sentence:
    """That no living young came of a litter; empty where that is not so."""
    species, language = folio.collection.species[litter.species], folio.collection.site.language
    dam = folio.voice.animal(litter.dam) if litter.dam else ""
    return failed_sentence(litter.failed, dam, species, language) if litter.failed else ()


def inbreeding_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """How an animal's parents are related; empty when not both are recorded."""
    related = folio.material.answers.relations.get(animal.id)
    return (folio.line(parents_sentence(related, animal.id, folio.voice)),) if related else ()


def litter_lines(litter: Litter, folio: Folio) -> tuple[Line, ...]:
    """How a litter's parents are related; empty when not both are recorded or nothing is known."""
    relations, plan = folio.material.answers.relations, folio.material.pairings.get(litter.id)
    known = next((relations[young] for young in litter.young if young in relations), None)
    related = plan.related if known is None and plan else known
    if related is None or litter.dam is None or not litter.sires:
        return ()
    return (folio.line(litter_sentence(related, litter.young, folio.voice)),)
