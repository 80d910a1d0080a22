"""What a pairing gives: what one young may be, and how likely a whole litter has at least so many."""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.content.genes import Judged
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.species import Births, Species
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import (
    both_sides,
    count_text,
    date_text,
    in_100,
    sides,
    small_number,
)
from sitegen.words.speech import Sentence, Words, _, listed, ngettext, plain, said


def looks_text(looks: Sequence[Words]) -> Sentence:
    """Several looks in one young: ``amelanistic and motley``; ``the normal look`` for none."""
    return listed(looks) if looks else said(_("the normal look"))


def chance_for_one(looks: Sequence[Words], chance: Fraction) -> Sentence:
    """The chance for one young: both sides, of young from these parents."""
    if chance == 0:
        return said(_("No young of these parents can show {looks}."), looks=looks_text(looks))
    if chance == 1:
        return said(_("Every young of these parents shows {looks}."), looks=looks_text(looks))
    words = _("One young: {chance} young from parents like these show {looks} and {others} do not{fraction}.")
    return said(words, looks=looks_text(looks), **sides(chance))


def at_least(looks: Sequence[Words], k: int, n_young: int, chance: Fraction, species: Species) -> Sentence:
    """The chance that at least ``k`` of the young of one litter show it: both sides, of such litters."""
    words = birth_words(species)
    told = ngettext(
        "At least {k}: {chance} {litters} of {n_young} have {k} or more showing {looks} and {others} do not.",
        "At least {k}: {chance} {litters} of {n_young} have {k} or more showing {looks} and {others} do not.",
        k,
    )
    if chance in (0, 1):
        sure = ngettext(
            "At least {k}: every {litter} of {n_young} has {k} or more showing {looks}.",
            "At least {k}: every {litter} of {n_young} has {k} or more showing {looks}.",
            k,
        )
        never = ngettext(
            "At least {k}: no {litter} of {n_young} can have {k} or more showing {looks}.",
            "At least {k}: no {litter} of {n_young} can have {k} or more showing {looks}.",
            k,
        )
        told = sure if chance else never
    return said(
        told,
        k=small_number(k),
        litter=words.litter,
        litters=words.litters,
        n_young=n_young,
        looks=looks_text(looks),
        **sides(chance),
    )


def at_least_in_litter(looks: Sequence[Words], k: int, chance: Fraction, species: Species) -> Sentence:
    """The chance of at least ``k`` in a litter of a size that is usual for the species: both sides, of such litters."""
    words = birth_words(species)
    size = species.litter_size
    told = ngettext(
        "In a {litter} of usual size ({low} to {high} young): {chance} {litters} have at least {k} showing {looks}, "
        "{others} do not.",
        "In a {litter} of usual size ({low} to {high} young): {chance} {litters} have at least {k} showing {looks}, "
        "{others} do not.",
        k,
    )
    return said(
        told,
        litter=words.litter,
        litters=words.litters,
        low=size.low,
        high=size.high,
        k=small_number(k),
        looks=looks_text(looks),
        **sides(chance),
    )


def young_needed(looks: Sequence[Words], n_young: int, wanted: Fraction, k: int = 1) -> Sentence:
    """How many young give at least a wanted chance of ``k`` or more."""
    words = ngettext(
        "With {n_young} young, at least {k} shows {looks} with a chance of {wanted} in 100 or more.",
        "With {n_young} young, at least {k} show {looks} with a chance of {wanted} in 100 or more.",
        k,
    )
    wanted_count = count_text(both_sides(wanted)[0])
    return said(words, n_young=n_young, wanted=wanted_count, looks=looks_text(looks), k=small_number(k))


def never_from_pair(looks: Sequence[Words], can_give: Fraction, wanted: Fraction) -> Sentence:
    """Why no number of young reaches a wanted chance: many such pairs cannot give such young at all."""
    words = _(
        "No number of young brings the chance to {wanted} in 100, because only {can_give} pairs like this one can give "
        "young showing {looks}."
    )
    wanted_count = count_text(both_sides(wanted)[0])
    return said(words, wanted=wanted_count, can_give=in_100(can_give), looks=looks_text(looks))


def lesson(parent: Words, gene: Words, n_young: int, before: Fraction, after: Fraction) -> Sentence:
    """What a result would teach: how far the chance falls or rises."""
    if after == 1:
        words = _("If one of {n_young} young shows it, {parent} carries {gene} for certain ({before} before).")
    elif after < before:
        words = _(
            "If {n_young} young show nothing, the chance that {parent} carries {gene} falls from {before} to "
            "{after}{fraction}."
        )
    else:
        words = _("The chance that {parent} carries {gene} rises from {before} to {after}{fraction}.")
    now = {"after": in_100(after), "fraction": sides(after)["fraction"]}
    return said(words, n_young=n_young, parent=parent, gene=gene, before=in_100(before), **now)


def litter_counts(
    species: Species, living: int, eggs: int | None = None, infertile: int | None = None, stillborn: int | None = None
) -> str:
    """The counts of a litter: ``18 eggs, 2 infertile, 16 hatched alive``."""
    words = birth_words(species)
    parts = [
        ngettext("{count} egg", "{count} eggs", eggs).format(count=eggs) if eggs is not None else "",
        _("{count} infertile").format(count=infertile) if infertile else "",
        _("{count} stillborn").format(count=stillborn) if stillborn else "",
        _("{count} {came} alive").format(count=living, came=words.came),
    ]
    return ", ".join(part for part in parts if part)


def failed_sentence(failed: Failed, dam: Words, species: Species, language: str) -> Sentence:
    """That no living young came of a pairing, and what became of it; ``dam`` may be empty."""
    eggs = species.births is Births.EGGS
    told = _("This clutch did not come: {why}.") if eggs else _("This litter did not come: {why}.")
    if failed.what is FailedAs.STILLBORN:
        told = _("None of this clutch lived: {why}.") if eggs else _("None of this litter lived: {why}.")
    why = {
        FailedAs.NOT_GRAVID: _("{dam} was not gravid, as we saw {when}"),
        FailedAs.SLUGS: _("{dam} laid slugs {when}") if eggs else _("{dam} passed slugs {when}"),
        FailedAs.REABSORBED: _("{dam} reabsorbed it, as we saw {when}"),
        FailedAs.STILLBORN: _("the young were stillborn {when}"),
    }[failed.what]
    date = date_text(failed.date, language)
    when = _("on {date}") if failed.date.day else _("in {month}") if failed.date.month else _("in {year}")
    because = said(why, dam=dam or _("the dam"), when=when.format(date=date, month=date, year=date))
    return said(told, why=because)


def others_text(count: int, looks: Sequence[Words], judged: Judged) -> Sentence:
    """Young that are not listed one by one: ``4 more show the normal look``; none is denied that was not judged."""
    if not looks and not judged.written:
        return said(_("{count} more, not described yet"), count=count)
    if not looks and judged.unsure_all:
        return said(_("{count} more, not judged yet"), count=count)
    if not looks and judged.unsure:
        none = ngettext(
            "{count} more looks normal, as far as it could be judged",
            "{count} more look normal, as far as they could be judged",
            count,
        )
        return said(none, count=count)
    words = ngettext("{count} more shows {looks}", "{count} more show {looks}", count)
    return said(words, count=count, looks=looks_text(looks))


def sires_sentence(sires: Sequence[tuple[Words, Fraction]], *, each_its_own: bool, species: Species) -> Sentence:
    """Who may be the sire, with the chance of each; one answer for the litter or one for each young."""
    told = [said(_("{name}, {chance}"), name=name, chance=in_100(chance)) for name, chance in sires if chance]
    if len(told) == 1:
        return said(_("The sire is {name}."), name=next(name for name, chance in sires if chance))
    litter = birth_words(species).litter
    words = (
        _("Each young may have its own sire: {sires}.") if each_its_own else _("One sire for the {litter}: {sires}.")
    )
    spread: list[Words] = []
    for rank, sentence in enumerate(told):
        spread.append(sentence if rank == 0 else said(_("; or {sentence}"), sentence=sentence))
    runs = tuple(run for sentence in spread if isinstance(sentence, tuple) for run in sentence)
    return said(words, litter=litter, sires=runs)


def unrecorded_words(genes: Sequence[str], *, sure: bool) -> str:
    """What is said of a parent that is not recorded, and the genes that its young show it to have, or perhaps so."""
    if not genes:
        return _("not recorded")
    words = _("not recorded; its young show that it may have {genes}")
    if sure:
        words = _("not recorded; its young show that it has {genes}")
    return words.format(genes=plain(listed(genes)))
