"""A stage of a project's road in words: what its young can be, how many to keep, and what its litters gave.

Chance for one young, expected number and chance in one litter are three statements, never one.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from fractions import Fraction

from sitegen.content.litters import FailedAs
from sitegen.content.species import Species
from sitegen.plans.roads.kinds import Counted, Ending, StageState
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import (
    average_text,
    date_text,
    sides,
    small_number,
)
from sitegen.words.roads import of_100, opened, paragraph, told_sides
from sitegen.words.speech import Link, Sentence, Target, Words, _, listed, ngettext, said


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


def harm_sentence(genes: Sequence[Words], *, goal: bool) -> Sentence:
    """That the goal has, or young of a stage can have, genes with a known harm; empty without any."""
    if not genes:
        return ()
    if goal:
        told = ngettext(
            "Please read first: the goal has {genes}, a gene with a known harm.",
            "Please read first: the goal has {genes}, genes with a known harm.",
            len(genes),
        )
    else:
        told = ngettext(
            "Please read first: young of this pairing can show {genes}, a gene with a known harm.",
            "Please read first: young of this pairing can show {genes}, genes with a known harm.",
            len(genes),
        )
    return said(told, genes=listed(genes))


# The three statements. Where parents are not kept yet, ``drawn`` plans were counted.


def one_young(looks: Sequence[Words], sex: str, chance: Fraction, drawn: int = 0) -> Sentence:
    """The chance for one young."""
    kind = kind_words(looks, sex)
    if chance == 0 and drawn:
        return said(_("One young: in the plans that we drew, none was among {kind}."), kind=kind)
    if chance == 0:
        return said(_("One young: these parents cannot give {kind}."), kind=kind)
    if chance == 1 and not looks and not sex:
        return said(_("One young: any will do by its looks."))
    if chance == 1 and not drawn:
        told = _("One young: all young of these parents are {kind}.") if sex else ""
        return said(told or _("One young: all young of these parents show {looks}."), kind=kind, looks=listed(looks))
    told = (
        _("One young: {chance} young from parents like these are {kind} and {others} are not{fraction}.")
        if sex or not looks
        else _("One young: {chance} young from parents like these show {looks} and {others} do not{fraction}.")
    )
    return said(told, kind=kind, looks=listed(looks), **told_sides(chance, drawn))


def on_average(expected: Fraction, species: Species) -> Sentence:
    """The expected number in a litter of usual size."""
    births, size = birth_words(species), species.litter_size
    told = (
        _("A whole {litter} of {low} young has on average {expected} like that.")
        if size.low == size.high
        else _("A whole {litter} of {low} to {high} young has on average {expected} like that.")
    )
    return said(told, litter=births.litter, low=size.low, high=size.high, expected=average_text(expected))


def at_least_in_one(k: int, chance: Fraction, species: Species, drawn: int = 0) -> Sentence:
    """The chance that one litter of usual size has ``k`` or more."""
    words = birth_words(species)
    told = ngettext(
        "At least {k}: {chance} {litters} of usual size have that many and {others} do not.",
        "At least {k}: {chance} {litters} of usual size have that many and {others} do not.",
        k,
    )
    if chance == 0 and not drawn:
        told = ngettext(
            "At least {k}: no {litter} of usual size can have that many.",
            "At least {k}: no {litter} of usual size can have that many.",
            k,
        )
    if chance == 1 and not drawn:
        told = ngettext(
            "At least {k}: every {litter} of usual size has that many.",
            "At least {k}: every {litter} of usual size has that many.",
            k,
        )
    return said(told, k=small_number(k), litter=words.litter, litters=words.litters, **told_sides(chance, drawn))


def drawn_note(litter: str) -> Sentence:
    """Where the three statements are from, of parents that are not kept yet."""
    return said(_("Counted in the plans that get so far, in their first {litter}."), litter=litter)


# What cannot be seen.


def unseen_sentence(unseen: Sequence[Words], kind: Words, sure: Fraction, drawn: int = 0) -> Sentence:
    """What the eye cannot choose by; ``sure``: the chance that one young has all of it."""
    if sure == 1 and not drawn:
        told = _("All {kind} of this pairing carry {unseen}, though nobody can see it.")
        return said(told, unseen=listed(unseen), kind=kind)
    return said(_("Nobody can see {unseen} in {kind}, so we cannot choose by it."), unseen=listed(unseen), kind=kind)


def carries_sentence(gene: Words, chance: Fraction, drawn: int = 0) -> Sentence:
    """Of young that look right, how many carry what cannot be seen."""
    told = _("Of 100 that look right, {count} carry {gene} and {others} do not{fraction}.")
    if chance == 0 and not drawn:
        told = _("None of them carries {gene}: these parents do not pass it on.")
    if chance == 1 and not drawn:
        told = _("All of them carry {gene}.")
    return said(told, count=of_100(chance, drawn), gene=gene, **told_sides(chance, drawn))


# How the stage goes.


def tries_sentence(tries: int | None, *, branches: bool, until_else: bool) -> Sentence:
    """For how many seasons a pairing is tried, and when the other branch is taken; empty without a bound."""
    if branches and until_else:
        soon = said(_("As soon as what else we keep is there, we stop trying and go on with it."))
        return soon if tries is None else paragraph([tries_sentence(tries, branches=False, until_else=False), soon])
    if tries is None:
        return ()
    told = ngettext(
        "We try this pairing in {count} season only.", "We try this pairing in at most {count} seasons.", tries
    )
    if branches and tries > 1:
        told = _("We try this pairing in at most {count} seasons; only then do we go on with what else we kept.")
    return said(told, count=small_number(tries))


def bred_sentence(bred: Sequence[tuple[int, Fraction]], draws: int) -> Sentence:
    """In how many plans a stage had a litter: by the first season in which some had, and by the last."""
    some = [(season, share) for season, share in bred if share]
    if not some:
        return said(_("None of the plans that we drew came as far as this stage.")) if bred and draws else ()
    (first, share), (last, most) = some[0], bred[-1]
    told = _("{count} of 100 plans like this one have bred this stage by the end of {season}.")
    if first != last and share != most:
        told = _(
            "{early} of 100 plans like this one have bred this stage by the end of {first}, and {count} by the end "
            "of {season}."
        )
    return opened(said(told, early=of_100(share, draws), first=first, count=of_100(most, draws), season=last))


def given_bred_sentence(kept: Fraction, draws: int) -> Sentence:
    """In how many of the plans that bred a stage a goal animal of it is kept."""
    if kept == 0:
        return ()
    told = _("Of 100 that did, {count} keep a goal animal from it and {others} do not.")
    return said(told, count=of_100(kept, draws), others=told_sides(kept, draws)["others"])


def ended_sentence(
    ended: Mapping[Ending, Fraction], horizon: int, draws: int, *, is_last: bool, by_looks: bool = False
) -> Sentence:
    """How a stage ends, as shares of all plans; empty where none ended.

    ``is_last``: nothing comes after it. ``by_looks``: what is kept as the goal may lack what nobody can see.
    """
    goal = (
        _("in {count} we keep one here that looks like the goal") if by_looks else _("in {count} the goal is kept here")
    )
    stuck = _("in {count} our tries run out first") if is_last else _("in {count} there is not enough to go on")
    told = {
        Ending.GOAL: goal,
        Ending.KEPT: _("in {count} we keep all that we want from it"),
        Ending.PARTLY: _("in {count} we go on with fewer than we wanted"),
        Ending.ELSE: _("in {count} we go on with what else we kept"),
        Ending.STUCK: stuck,
    }
    ways = [said(told[way], count=of_100(share, draws)) for way in Ending if (share := ended.get(way, Fraction(0)))]
    if not ways:
        return ()
    rest = 1 - sum(ended.values(), Fraction(0))
    if rest:
        left = _("in {count} it is not bred, or not over, by the end of {season}")
        ways.append(said(left, count=of_100(rest, draws), season=horizon))
    return said(_("Of 100 plans like this one, {ways}."), ways=listed(ways))


# What came.


def came_words(litter: str, young: int) -> Sentence:
    """A litter of a stage, by the number of its living young."""
    told = ngettext("{young} living young", "{young} living young", young).format(young=young)
    return (Link(told, Target.LITTER, litter),)


def came_to_nothing(litter: str, what: FailedAs) -> Sentence:
    """What became of a pairing of a stage that gave no living young."""
    told = {
        FailedAs.NOT_GRAVID: _("did not come: not gravid"),
        FailedAs.SLUGS: _("did not come: slugs"),
        FailedAs.REABSORBED: _("did not come: reabsorbed"),
        FailedAs.STILLBORN: _("did not come: stillborn"),
    }[what]
    return (Link(told, Target.LITTER, litter),)


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
