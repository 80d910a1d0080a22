"""How what could be said of an animal changed: until then, from then on, and because of which records."""

from fractions import Fraction

from sitegen.evidence.changes import Change, ChangeKind
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.words.claims import copies_words, short_phrase, tested_behind
from sitegen.words.conditions import is_conditional
from sitegen.words.numbers import about_in_100, date_text, in_100, small_number
from sitegen.words.speech import Link, Sentence, Voice, _, listed, ngettext, plain, said, said_of, when_asked

_NAMED = 3
"""Young that are named one by one; more are told as a number."""


def is_worth_telling(before: Fraction, after: Fraction) -> bool:
    """True when a chance that moved is another number in 100 than before."""
    return about_in_100(before) != about_in_100(after)


def change_label(change: Change) -> str:
    """How it changed, as a label."""
    return {
        ChangeKind.PROVED: _("Proved"),
        ChangeKind.RULED_OUT: _("Ruled out"),
        ChangeKind.COPIES_SETTLED: _("Copies settled"),
        ChangeKind.BECAME_VISIBLE: _("Became visible"),
        ChangeKind.MOVED: _("Odds changed"),
    }[change.kind]


changes_note = when_asked("Worked out by going through our records again by their dates, not written down afterwards.")
"""What stands below steps and changes: how they were found."""


def change_date(change: Change, language: str = "en") -> str:
    """The day on which the new records began to count, in words."""
    return date_text(change.day, language)


def is_told_otherwise(change: Change, voice: Voice) -> bool:
    """True when what was said until then and from then on are other words."""
    return plain(_statement(change, change.before, voice)) != plain(_statement(change, change.after, voice))


def change_sentence(change: Change, voice: Voice) -> Sentence:
    """Old and new with the date and the reason: ``Until 18 July 2026 our records said: may carry hypo ...``.

    What rests on a record that does not carry its day is told as what today's records say of that day.
    """
    nothing = change.before is None and change.chance_before == 0
    if change.dated and nothing:
        template = _("Until {date} our records said nothing of {gene}. From that day on: {after}, because {reasons}.")
    elif change.dated:
        template = _("Until {date} our records said: {before}. From that day on: {after}, because {reasons}.")
    elif nothing:
        template = _(
            "By today’s records we would have said nothing of {gene} until {date}. From that day on: {after}, because "
            "{reasons}."
        )
    else:
        template = _(
            "By today’s records we would have said until {date}: {before}. From that day on: {after}, because "
            "{reasons}."
        )
    return said(
        template,
        date=change_date(change, voice.collection.site.language),
        before=_statement(change, change.before, voice),
        gene=_gene(change, voice),
        after=_statement(change, change.after, voice),
        reasons=listed([because_clause(reason, change, voice) for reason in change.because])
        or said(_("of what is known by now at other genes")),
    )


def _gene(change: Change | Claim, voice: Voice) -> Link:
    return voice.gene_of(change.species, change.locus, change.allele)


def _statement(change: Change, claim: Claim | None, voice: Voice) -> Sentence:
    """What was or is said of the allele, in a few words."""
    chance = change.chance_before if claim is change.before else change.chance_after
    if claim is None:
        without = (
            _("does not carry {gene}") if change.kind is ChangeKind.RULED_OUT else _("is not known to have {gene}")
        )
        told = _("may have {gene} ({chance})") if chance else without
        return said(told, gene=_gene(change, voice), chance=in_100(chance))
    return statement(claim, voice)


def statement(claim: Claim, voice: Voice) -> Sentence:
    """The claim in a few words, with how sure it is where they do not say it."""
    words = short_phrase(claim, voice)
    match claim.kind:
        case ClaimKind.CARRIES if claim.basis is not Basis.PREVIOUS_KEEPER and not is_conditional(claim):
            return said(_("{words} for certain"), words=words)
        case ClaimKind.SHOWS if claim.copies > 0:
            return said(_("{words}, {copies}"), words=words, copies=copies_words(claim.copies))
    return words


def because_clause(reason: Reason, change: Change | Claim, voice: Voice) -> Sentence:
    """One new record as a clause, said of the animal and allele of a change or claim."""
    own = reason.animals == (change.animal,)
    animals = voice.animals(reason.animals)
    match reason.ground:
        case Ground.DNA_TEST:
            words = _("{he} was DNA-tested{told}") if own else _("{animals} was DNA-tested{told}")
            return said_of(change.animal, voice, words, animals=animals, told=tested_behind(reason, voice))
        case Ground.SHOWS_ITSELF if own:
            return said_of(change.animal, voice, _("{he} shows {looks}"), looks=_looks(reason, change, voice))
        case Ground.SHOWS_NOT if own:
            return said_of(change.animal, voice, _("{he} does not show it"))
        case Ground.YOUNG:
            whose = _("({his} own, if the sire is right)") if "perhaps" in dict(reason.detail) else _("of {his} own")
            return _of_young(reason, change, voice, whose)
        case Ground.SIBLINGS:
            return _of_young(reason, change, voice, _("of {his} parents"))
        case Ground.SHOWS_ITSELF:
            return _of_young(reason, change, voice, "")
    of_parents = said_of(change.animal, voice, _("of {his} parents"))
    return said(_("of what is written of {animals}"), animals=animals) if animals else of_parents


def _looks(reason: Reason, change: Change | Claim, voice: Voice) -> Sentence:
    """The looks that a reason names."""
    locus = voice.species(change.species).genome.locus(change.locus)
    return listed([locus.look(look).name for name, look in reason.detail if name == "look"])


def _of_young(reason: Reason, change: Change | Claim, voice: Voice, whose: str) -> Sentence:
    """What young of one litter show or do not show: the animal's own, other young of its parents, or of its kin."""
    facts = dict(reason.detail)
    showing, count = int(facts.get("showing", "0")), int(facts.get("count", "1"))
    where = voice.litter_behind(reason)
    of_whom = f" {plain(said_of(change.animal, voice, whose))}" if whose else ""
    if not showing:
        words = ngettext(
            "the {count} young{whose} that we looked at{where} does not show {gene}",
            "of {count} young{whose} that we looked at{where} none shows {gene}",
            count,
        )
        return said(words, count=small_number(count), whose=of_whom, where=where, gene=_gene(change, voice))
    looks = _looks(reason, change, voice)
    if reason.animals and len(reason.animals) == showing <= _NAMED:
        animals = voice.animals(reason.animals)
        words = ngettext("{animals}, young{whose}, shows {looks}", "{animals}, young{whose}, show {looks}", showing)
        if not whose:
            words = ngettext("{animals} shows {looks}", "{animals} show {looks}", showing)
        return said(words, animals=animals, whose=of_whom, looks=looks)
    words = ngettext(
        "{showing} of {count} young{whose}{where} shows {looks}",
        "{showing} of {count} young{whose}{where} show {looks}",
        showing,
    )
    return said(
        words, showing=small_number(showing), count=small_number(count), whose=of_whom, where=where, looks=looks
    )
