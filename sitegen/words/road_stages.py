"""A stage of a project's road in words: what its young can be, how many to keep, and what its litters gave.

Chance for one young, expected number and chance in one litter are three statements, never one.
"""

import datetime as dt
from collections.abc import Sequence
from fractions import Fraction

from sitegen.content.species import Species
from sitegen.genetics.counts import MOST_YOUNG, Needed
from sitegen.plans.roads.kinds import Chance, Counted, StageState
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import (
    average_text,
    both_sides,
    count_text,
    date_text,
    in_100,
    sides,
    small_number,
)
from sitegen.words.roads import opened, told_chance
from sitegen.words.speech import Link, Sentence, Target, Words, _, listed, ngettext, said


def stage_title(number: int, total: int) -> str:
    """The heading of a stage."""
    return _("Stage {number} of {total}").format(number=number, total=total)


def stage_link(project: str, stage: str, number: int) -> Link:
    """A stage by its number, leading to its place on the project's page."""
    return Link(_("stage {number}").format(number=number), Target.PROJECT, f"{project}#{stage_anchor(stage)}")


def stage_anchor(stage: str) -> str:
    """The anchor of a stage on its project's page; the same for ids that differ only in signs is told apart."""
    return "stage-" + name_in_anchor(stage)


def name_in_anchor(name: str) -> str:
    """A name as part of an anchor: letters, digits and lines as they are, any other sign by its number."""
    return "".join(c if c.isalnum() or c in "-_" else f"_{ord(c):x}_" for c in name)


def state_words(state: StageState) -> str:
    """How far a stage is."""
    return {
        StageState.DONE: _("done"), StageState.BEGUN: _("begun"), StageState.NEXT: _("next"),
        StageState.LATER: _("later"),
    }[state]  # fmt: skip


# Who is meant.


def kind_words(looks: Sequence[Words], sex: str) -> Sentence:
    """Young as an eye sorts them: ``males that show amelanistic``, ``young that show motley``, ``females``."""
    nouns = {"female": _("females"), "male": _("males")}
    noun = nouns.get(sex, _("young"))
    return said(_("{noun} that show {looks}"), noun=noun, looks=listed(looks)) if looks else said(noun)


def nothing_but(looks: Sequence[Words]) -> Sentence:
    """What young show on which nothing else is to be seen: ``nothing but tessera``, ``the normal look``."""
    return said(_("nothing but {looks}"), looks=listed(looks)) if looks else said(_("the normal look"))


def wanted_words(count: int, sex: str, shows: Sequence[Words], carries: Sequence[Words]) -> Sentence:
    """What is to be kept: ``one male that shows tessera and carries caramel``, ``two females that carry hypo``."""
    noun = {
        "female": ngettext("{count} female", "{count} females", count),
        "male": ngettext("{count} male", "{count} males", count),
    }.get(sex, ngettext("{count} young", "{count} young", count))
    if shows and carries:
        tail = ngettext(" that shows {shows} and carries {carries}", " that show {shows} and carry {carries}", count)
    elif shows:
        tail = ngettext(" that shows {shows}", " that show {shows}", count)
    else:
        tail = ngettext(" that carries {carries}", " that carry {carries}", count) if carries else ""
    return said(noun + tail, count=small_number(count), shows=listed(shows), carries=listed(carries))


def planned_words(count: int, sex: str, stage: Words) -> Sentence:
    """Young that are not kept yet, as a parent: ``a male from stage 2``."""
    noun = {
        "female": ngettext("a female from {stage}", "females from {stage}", count),
        "male": ngettext("a male from {stage}", "males from {stage}", count),
    }.get(sex, ngettext("a young from {stage}", "young from {stage}", count))
    return said(noun, stage=stage)


# The three statements.


def one_young(looks: Sequence[Words], sex: str, chance: Fraction) -> Sentence:
    """The chance for one young."""
    kind = kind_words(looks, sex)
    if chance == 0:
        return said(_("One young: these parents cannot give {kind}."), kind=kind)
    if chance == 1 and not looks and not sex:
        return said(_("One young: any will do by its looks."))
    if chance == 1:
        return said(_("One young: all young of these parents are {kind}."), kind=kind)
    told = (
        _("One young: {chance} young from parents like these are {kind} and {others} are not{fraction}.")
        if sex or not looks
        else _("One young: {chance} young from parents like these show {looks} and {others} do not{fraction}.")
    )
    return said(told, kind=kind, looks=listed(looks), **sides(chance))


def on_average(expected: Fraction, between: tuple[int, int], species: Species) -> Sentence:
    """The expected number in a litter of usual size, and the range that most such litters stay in."""
    births, size = birth_words(species), species.litter_size
    told = (
        _("A whole {litter} of {low} young has on average {expected} like that.")
        if size.low == size.high
        else _("A whole {litter} of {low} to {high} young has on average {expected} like that.")
    )
    average = said(told, litter=births.litter, low=size.low, high=size.high, expected=average_text(expected))
    fewest, most = between
    words = _("Most {litters} have {low} to {high}.") if fewest != most else _("Most {litters} have {low}.")
    range_ = said(words, litters=births.litters, low=fewest, high=most)
    return said("{average} {range}", average=average, range=opened(range_))


def at_least_in_one(k: int, chance: Fraction, species: Species) -> Sentence:
    """The chance that one litter of usual size has ``k`` or more."""
    words = birth_words(species)
    told = ngettext(
        "At least {k}: {chance} {litters} of usual size have that many and {others} do not.",
        "At least {k}: {chance} {litters} of usual size have that many and {others} do not.",
        k,
    )
    if chance == 0:
        told = ngettext(
            "At least {k}: no {litter} of usual size can have that many.",
            "At least {k}: no {litter} of usual size can have that many.",
            k,
        )
    if chance == 1:
        told = ngettext(
            "At least {k}: every {litter} of usual size has that many.",
            "At least {k}: every {litter} of usual size has that many.",
            k,
        )
    return said(told, k=small_number(k), litter=words.litter, litters=words.litters, **sides(chance))


def young_needed(needed: Needed) -> Sentence:
    """How many young bring the chance of ``k`` to a level, or why no number does."""
    wanted = count_text(both_sides(needed.level)[0])
    k = small_number(needed.k)
    if needed.n_young is not None:
        told = ngettext(
            "With {n_young} young the chance of at least {k} reaches {wanted} in 100.",
            "With {n_young} young the chance of at least {k} reaches {wanted} in 100.",
            needed.n_young,
        )
        return said(told, n_young=needed.n_young, k=k, wanted=wanted)
    if needed.ceiling == 0:
        return ()
    if needed.never:
        told = _(
            "No number of young brings that to {wanted} in 100: only {ceiling} pairs like this one can give such young."
        )
        return said(told, ceiling=in_100(needed.ceiling), k=k, wanted=wanted)
    told = _("More than {most} young would be needed to bring that to {wanted} in 100.")
    return said(told, most=MOST_YOUNG, k=k, wanted=wanted)


# What cannot be seen.


def unseen_sentence(unseen: Sequence[Words], kind: Words, sure: Fraction) -> Sentence:
    """What the eye cannot choose by; ``sure``: the chance that one young has all of it."""
    if sure == 1:
        told = _("All {kind} of this pairing carry {unseen}, though nobody can see it.")
        return said(told, unseen=listed(unseen), kind=kind)
    return said(_("Nobody can see {unseen} in {kind}, so we cannot choose by it."), unseen=listed(unseen), kind=kind)


def carries_sentence(gene: Words, chance: Fraction) -> Sentence:
    """Of young that look right, how many carry what cannot be seen."""
    told = _("Of 100 that look right, {count} carry {gene} and {others} do not{fraction}.")
    if chance == 0:
        told = _("None of them carries {gene}: these parents do not pass it on.")
    if chance == 1:
        told = _("All of them carry {gene}.")
    this, _other = both_sides(chance)
    count = _("about {count}").format(count=this) if isinstance(this, int) else count_text(this)
    return said(told, count=count, gene=gene, **sides(chance))


def keep_sentence(needed: Needed) -> Sentence:
    """How many that look right to keep so that at least one truly has what cannot be seen."""
    wanted = count_text(both_sides(needed.level)[0])
    if needed.n_young is not None:
        told = ngettext(
            "If we keep {count} that looks right, it truly has that in at least {wanted} of 100 cases.",
            "If we keep {count} that look right, at least one truly has that in at least {wanted} of 100 cases.",
            needed.n_young,
        )
        return said(told, count=small_number(needed.n_young), wanted=wanted)
    if needed.ceiling == 0:
        return ()
    if needed.never:
        told = _(
            "However many we keep, we never reach {wanted} of 100 cases: only {ceiling} pairs like this one can pass "
            "it on."
        )
        return said(told, wanted=wanted, ceiling=in_100(needed.ceiling))
    told = _("More than {most} would have to be kept to reach {wanted} of 100 cases.")
    return said(told, most=MOST_YOUNG, wanted=wanted)


def folded_looks(count: int) -> str:
    """The line that opens a long table of looks."""
    return ngettext("{count} look, with its number", "{count} looks, with their numbers", count).format(count=count)


def goal_each_sentence(chance: Fraction) -> Sentence:
    """The chance that one young of a stage truly is the goal."""
    if chance == 0:
        return ()
    if chance == 1:
        return said(_("All young of this stage are what we aim for."))
    told = _("The goal itself: {chance} young of this stage truly are it and {others} are not{fraction}.")
    return said(told, **sides(chance))


def yielded_sentence(yielded: Sequence[Chance], runs: int) -> Sentence:
    """The chance that a stage has given all it is to give by the last season that is looked at."""
    last = next(iter(reversed(yielded)), None)
    if last is None:
        return ()
    chance = told_chance(last.by, runs)
    told = _(
        "By the end of {season}, {chance} plans like this one have all that they need from this stage, or the goal "
        "itself, and {others} do not."
    )
    if chance == 0:
        told = _("By the end of {season} this stage cannot have given all that it is to give.")
    if chance == 1:
        told = _("By the end of {season} this stage has given all that it is to give.")
    return said(told, season=last.season, **sides(chance))


def tries_sentence(tries: int | None) -> Sentence:
    """For how many seasons a pairing is tried; empty without a bound."""
    if tries is None:
        return ()
    told = ngettext(
        "We try this pairing in {count} season only.", "We try this pairing in at most {count} seasons.", tries
    )
    return said(told, count=small_number(tries))


# What came.


def how_unusual(counted: Counted, species: Species) -> Sentence:
    """How (un)usual a result is: the smaller tail, both sides, of litters of as many judged young."""
    if counted.as_few == 0 or counted.as_many == 0:
        return said(_("By what we knew the day before, that could not come. It came, and so we learned something."))
    if counted.as_few == 1 and counted.as_many == 1:
        return said(_("It could not have been otherwise."))
    few = counted.as_few <= counted.as_many
    chance = counted.as_few if few else counted.as_many
    if few and counted.came == 0:
        told = _("{chance} such {litters} of {n_young} would have none and {others} would have some.")
    elif few:
        told = _("{chance} such {litters} of {n_young} would have as few or fewer and {others} would have more.")
    else:
        told = _("{chance} such {litters} of {n_young} would have as many or more and {others} would have fewer.")
    litters = birth_words(species).litters
    sentence = said(told, litters=litters, n_young=counted.n_young, **sides(chance))
    return opened(sentence)


def result_note(as_of: dt.date, language: str) -> Sentence:
    """As of which day the expectation beside a result is."""
    return said(_("Expected by what we knew on {date}, the day before they came."), date=date_text(as_of, language))


def unlucky_sentence(litter: Words, kind: Words, counted: Counted, species: Species) -> Sentence:
    """A litter that gave none of a wanted kind, as what went wrong."""
    told = (
        _("{litter} did not give the goal among {n_young} young. {luck}")
        if counted.kind == "goal"
        else _("{litter} gave no {kind} among {n_young} young. {luck}")
    )
    luck = how_unusual(counted, species)
    return opened(said(told, litter=litter, kind=kind, n_young=counted.n_young, luck=luck))
