"""The road of a project in words: where it stands, how likely its goal is, what comes next, what went otherwise.

A chance by season is a share of all plans like this one. Plans are drawn, so no number of this module says none or all
of something that was drawn, and none is rounded to it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.content.species import Births, Species
from sitegen.plans.roads.kinds import RoadOutlook, SeasonChance, StageState, Waits
from sitegen.words.inheritance import BirthWords
from sitegen.words.numbers import (
    about_in_100,
    average_text,
    count_text,
    month_names,
    sides,
    whole_text,
)
from sitegen.words.relations import relatedness_words
from sitegen.words.speech import Link, Sentence, Words, _, capital, capitalised, joined, listed, ngettext, said


def opened(sentence: Sentence) -> Sentence:
    """The sentence with a capital first letter, also where it begins with a link."""
    if not sentence or not isinstance(sentence[0], Link):
        return capitalised(sentence)
    return (replace(sentence[0], text=capital(sentence[0].text)), *sentence[1:])


def paragraph(sentences: Sequence[Sentence]) -> Sentence:
    """The sentences one after the other; empty ones leave nothing."""
    there = [each for each in sentences if each]
    return joined([part for each in there for part in (each, " ")][:-1])


# Chances that were drawn.


def told_chance(chance: Fraction, draws: int) -> Fraction:
    """A chance as it may be told: none or all of so many drawn plans says only that the rest is rare."""
    if draws == 0 or chance not in (0, 1):
        return chance
    # Half a plan, and at most half of one in 100, so that it reads "fewer than 1" however few plans were drawn.
    rest = min(Fraction(1, 2 * draws), Fraction(1, 200))
    return rest if chance == 0 else 1 - rest


def told_sides(chance: Fraction, draws: int) -> Mapping[str, str]:
    """A chance and its other side as places of a sentence; a drawn one has no fraction."""
    told = sides(told_chance(chance, draws))
    return {**told, "fraction": ""} if draws else told


def of_100(chance: Fraction, draws: int = 0) -> str:
    """``about 67``, ``fewer than 1``: a count of 100 that were named before."""
    told = told_chance(chance, draws)
    count = about_in_100(told)
    return count_text(count) if not isinstance(count, int) or told in (0, 1) else _("about {count}").format(count=count)


def first_possible(outlook: RoadOutlook) -> int | None:
    """The first season in which a young of an open stage can be the goal; None when none was."""
    can = (stage for stage in outlook.stages if stage.can_be_goal and stage.state is not StageState.DONE)
    return min((stage.earliest for stage in can if stage.earliest is not None), default=None)


def told_by_season(outlook: RoadOutlook) -> tuple[SeasonChance, ...]:
    """The chances by season as they may be told: nothing before the goal is possible, and see :func:`told_chance`."""
    possible, draws = first_possible(outlook), outlook.draws
    return tuple(
        each
        if each.born == 0 and (possible is None or each.season < possible)
        else SeasonChance(each.season, *(told_chance(one, draws) for one in (each.born, each.kept, each.known)))
        for each in outlook.by_season
    )


def kept_by(outlook: RoadOutlook, season: int) -> Fraction:
    """The chance that a goal animal is kept by the end of a season, as it may be told; 1 when it was reached."""
    if outlook.reached is not None:
        return Fraction(int(outlook.reached <= season))
    return next((each.kept for each in reversed(told_by_season(outlook)) if each.season <= season), Fraction(0))


def differing(outlook: RoadOutlook) -> tuple[bool, bool]:
    """Whether more goal animals are born than kept, and fewer known than kept, by any number that is told."""
    told = told_by_season(outlook)
    counts = [tuple(about_in_100(one) for one in (each.born, each.kept, each.known)) for each in told]
    return any(born != kept for born, kept, _known in counts), any(kept != known for _born, kept, known in counts)


def off_by(error: Fraction) -> int:
    """How far a number of 100 may be off: two standard errors, rounded up, and at least 1."""
    return max(1, -int(-200 * error // 1))


# Where it stands.


def reached_sentence(season: int | None, animals: Sequence[Words], among: Words) -> Sentence:
    """That the goal was reached, in which season and with whom (``among``: the animals, listed)."""
    if season is None:
        return said(_("The goal is reached."))
    told = _("The goal was reached in {season}, with {animals}.") if animals else _("The goal was reached in {season}.")
    return said(told, season=season, animals=among)


def given_up_sentence() -> Sentence:
    """That nothing more is expected."""
    return said(_("We gave this project up. What stands here is how far it came; nothing more is expected of it."))


def cannot_tell(animals: Sequence[Words]) -> Sentence:
    """What is said of a plan whose chances cannot be worked out, if too much is open about ``animals``."""
    if animals:
        told = _("The records leave too much open about {animals}, so we give no chances of this plan.")
        return said(told, animals=listed(animals))
    return said(_("The chances of this plan cannot be worked out as its record stands, so we give none."))


def hangs_on_hidden() -> Sentence:
    """What is said of a plan for which animals or litters are used that are kept off the site."""
    return said(_("This plan rests on animals not shown here, so we give no chances of it."))


def standing_sentence(done: int, total: int, *, begun: bool) -> Sentence:
    """How many stages have given what is kept from them."""
    if not begun:
        return said(_("Planned: nothing has been paired for it yet."))
    if done == 0:
        return said(_("Under way. The first stage has not yet given all that we want to keep from it."))
    told = ngettext(
        "Under way: of {total} stages, {done} has given what we keep from it.",
        "Under way: of {total} stages, {done} have given what we keep from them.",
        done,
    )
    return said(told, total=total, done=done)


def season_words(season: int, month: int, language: str) -> str:
    """``March 2028``, or the year alone when the month is 0."""
    if not month:
        return str(season)
    names = month_names(language)
    return _("{month} {year}").format(month=names[month], year=season)


def next_sentence(stage: Words, pair: Words, when: str, why: Words, *, again: bool) -> Sentence:
    """What comes next, when at the earliest, and why not before."""
    told = _("Next is {stage}: {pair}, in {when} at the earliest, because {why}.")
    if again:
        told = _("{stage} goes on: {pair} once more, in {when} at the earliest, because {why}.")
    return opened(said(told, stage=stage, pair=pair, when=when, why=why))


def coming_sentence(stage: Words, pair: Words, litter: Words, date: str) -> Sentence:
    """That a litter of the stage is on its way; ``date`` tells when it was paired, laid or is expected."""
    told = _("{stage} is under way: {litter} of {pair} is still to come ({date}).")
    return opened(said(told, stage=stage, pair=pair, litter=litter, date=date))


def on_its_way(litter: Words, date: str) -> Sentence:
    """The same on the stage's own card."""
    return opened(said(_("{litter} is still to come ({date})."), litter=litter, date=date))


def why_words(waits: Waits, season: int) -> str:
    """What decides the earliest season of a pairing that was just named, after "because"."""
    return {
        Waits.DAM_AGE: _("the dam will not be old enough before"),
        Waits.SIRE_AGE: _("the sire will not be old enough before"),
        Waits.REST: _("the dam rests until then"),
        Waits.READY: _("one of the parents will not be ready before"),
        Waits.TODAY: _("the season of {year} is the first that is still to come").format(year=season),
    }.get(waits, _("that is the season we plan for"))


def never_sentence(who: Words) -> Sentence:
    """That a pairing cannot be made any more; ``who`` has died, or is empty."""
    if who:
        return said(_("This pairing cannot be made any more: {who} has died."), who=who)
    return said(_("This pairing cannot be made any more as the plan stands."))


# How likely it is.


def kept_sentence(season: int, kept: Fraction, draws: str) -> Sentence:
    """The chance that a goal animal is kept by the end of a season: both sides, of plans like this one."""
    told = _(
        "If the animals live and breed as planned, {chance} plans like this one keep a goal animal by the end of "
        "{season}, and {others} do not."
    )
    if kept == 0:
        told = _("None of the {draws} plans that we drew keeps a goal animal by the end of {season}.")
    return said(told, season=season, draws=draws, **sides(kept))


def beside_sentence(last: SeasonChance, unseen: Words) -> Sentence:
    """How many bear a goal animal, and how many know theirs, where that differs from how many keep one."""
    born, kept, known = (about_in_100(each) for each in (last.born, last.kept, last.known))
    parts: list[Sentence] = []
    if born != kept and unseen:
        told = _("One is born in {count} of 100, but nobody can see {unseen}, so we may keep another in its place.")
        parts.append(said(told, count=of_100(last.born), unseen=unseen))
    elif born != kept:
        told = _("One is born in {count} of 100, but it is not among those that we keep in all of them.")
        parts.append(said(told, count=of_100(last.born)))
    if known != kept:
        parts.append(said(_("It is also proved by then in {count} of 100."), count=of_100(last.known)))
    return paragraph(parts)


def half_sentence(season: int) -> Sentence:
    """The season by which half of such plans are there."""
    return said(_("By the end of {season}, half of such plans or more have kept one."), season=season)


def nothing_left() -> Sentence:
    """That nothing can be bred any more."""
    return said(_("As the plan stands, nothing more can be bred for it."))


# What is decided next.


def decision_sentence(litter: Words, what: Sentence, count: int, then: Words) -> Sentence:
    """What is kept if it comes; ``litter`` says of which litter, ``then`` what it leads to."""
    told = ngettext("If {litter} has {what}, we keep it{then}.", "If {litter} has {what}, we keep them{then}.", count)
    return opened(said(told, litter=litter, what=what, then=then))


def litter_of(species: Species, season: int) -> str:
    """``the clutch of 2027``: the litter that a decision waits for."""
    told = _("the clutch of {season}") if species.births is Births.EGGS else _("the litter of {season}")
    return told.format(season=season)


def goes_on(stage: Words, season: int | None) -> Sentence:
    """What for something is kept, after "we keep it"."""
    told = _(" for {stage}") if season is None else _(" for {stage}, in {season} at the earliest")
    return said(told, stage=stage, season=season or 0)


def goal_then(unseen: Words) -> Sentence:
    """The same of what may be the goal."""
    if unseen:
        return said(_(": it may be the goal, though nobody can see {unseen}"), unseen=unseen)
    return said(_(": that is the goal"))


def otherwise_sentence(what: Words, then: Words, *, last: bool) -> Sentence:
    """What is kept if that does not come: the other branch; ``last`` where the pairing is not tried again first."""
    if not what:
        return said(_("If not, that was the last try that we planned.") if last else _("If not, we try again."))
    told = _("If not, we keep {what}{then}.") if last else _("If not, we keep {what}{then}, but try again first.")
    return said(told, what=what, then=then)


def also_sentence(what: Words, then: Words) -> Sentence:
    """What is kept beside the goal."""
    return said(_("We also keep {what}{then}."), what=what, then=then) if what else ()


# Other ways.


def better_sentence(way: Words, gain: Fraction, error: Fraction, season: int, more: Words = "") -> Sentence:
    """Another way that keeps the goal more often: by how many of 100, and how far that may be off."""
    told = _(
        "{way} is better by these numbers: {count} more of 100 plans keep a goal animal by the end of {season} "
        "(give or take {error}){more}."
    )
    return opened(said(told, way=way, count=of_100(gain), season=season, error=off_by(error), more=more))


def exchanged(animal: Words, stage: Words, *, is_dam: bool) -> Sentence:
    """A plan with one parent exchanged."""
    told = _("{animal} as the dam of {stage}") if is_dam else _("{animal} as the sire of {stage}")
    return said(told, animal=animal, stage=stage)


def sooner_words(half_by: int | None, before: int | None) -> Sentence:
    """By when half of the better plans are there, where that is sooner."""
    if half_by is None or (before is not None and half_by >= before):
        return ()
    return said(_(", half of them by {season}"), season=half_by)


def closer_words(inbreeding: Fraction, before: Fraction) -> Sentence:
    """How the parents of the goal animal are related there, where that is closer."""
    if inbreeding <= before:
        return ()
    return said(_("; but the parents of the goal animal would be {words}"), words=relatedness_words(inbreeding))


# Season by season.


def table_sentence(litters: Fraction, births: BirthWords) -> Sentence:
    """What the columns of the table count, and how many litters a plan takes."""
    count = average_text(litters)
    told = _(
        "Of 100 plans like this one, so many have kept a goal animal by the end of the season. The rest are averages, "
        "and below them what 80 of 100 plans stay within. On average a plan takes {count} more {litters}."
    )
    return said(told, count=count, litters=births.litter if count == "1" else births.litters)


def draws_sentence(draws: int, error: Fraction, language: str) -> Sentence:
    """How the numbers by season were found, and how far they may be off."""
    told = _("Drawn {draws} times; each number of 100 may be off by {error}.")
    return said(told, draws=whole_text(draws, language), error=off_by(error)) if draws else ()


# What went otherwise.


def setback_sentence(
    animals: Sequence[Words], among: Words, gene: Words, stage: Words, again: int | None, years: int | None
) -> Sentence:
    """Kept young that do not carry what they were kept for, and what that costs."""
    told = ngettext(
        "{animals} was kept from {stage} to carry {gene}, and does not carry it.",
        "{animals} were kept from {stage} to carry {gene}, and none of them carries it.",
        len(animals),
    )
    if again is None or years is None:
        cost = _("That stage cannot be repeated, so the plan has to change.")
    elif years <= 0:
        cost = _("Young of the same pairing can take that place in {again}, so it costs no season.")
    else:
        cost = ngettext(
            "Young of the same pairing can take that place in {again} at the earliest: it costs {years} year.",
            "Young of the same pairing can take that place in {again} at the earliest: it costs {years} years.",
            years,
        )
    return opened(said(f"{told} {cost}", animals=among, stage=stage, gene=gene, again=again or "", years=years or ""))


def missed_sentence(litter: Words, season: int, then: int, *, came: bool) -> Sentence:
    """A litter that could have had the goal and had not, and the season in which it came, or can come now."""
    years = then - season
    if came:
        told = ngettext(
            "{litter} could have had the goal and did not. It came in {then}, {years} year later.",
            "{litter} could have had the goal and did not. It came in {then}, {years} years later.",
            years,
        )
    else:
        told = ngettext(
            "{litter} could have had the goal and did not. Now it can come in {then} at the "
            "earliest, {years} year later.",
            "{litter} could have had the goal and did not. Now it can come in {then} at the "
            "earliest, {years} years later.",
            years,
        )
    return opened(said(told, litter=litter, then=then, years=years))


def late_sentence(stage: Words, planned: int, season: int, why: Words, *, done: bool) -> Sentence:
    """A stage that comes, or came, later than planned; ``why`` follows "because", or is empty."""
    years = season - planned
    if done:
        told = ngettext(
            "{stage} was planned for {planned} and bred in {season}, {years} year later.",
            "{stage} was planned for {planned} and bred in {season}, {years} years later.",
            years,
        )
    else:
        told = ngettext(
            "{stage} was planned for {planned}. It comes in {season} at the earliest, {years} year later{because}.",
            "{stage} was planned for {planned}. It comes in {season} at the earliest, {years} years later{because}.",
            years,
        )
    because = said(_(", because {why}"), why=why) if why and not done else ()
    return opened(said(told, stage=stage, planned=planned, season=season, years=years, because=because))


# What it rests on.


def standing_assumptions() -> tuple[Sentence, ...]:
    """What is taken for granted on every road."""
    return (
        said(_("No animal is lost, sold or ill in this sum. In life that happens, and then the road is longer.")),
        said(_("We keep the first young that look right. What cannot be seen is left to chance; the plan goes on.")),
        said(_("Age, rest and the last weighing are part of the sum. How young to come will grow is not.")),
    )


def unknown_ages_sentence(animals: Sequence[Words], among: Words) -> Sentence:
    """Parents without a birth date; empty when there are none."""
    if not animals:
        return ()
    told = ngettext(
        "We do not know when {animals} was born, and take it as old enough.",
        "We do not know when {animals} were born, and take them as old enough.",
        len(animals),
    )
    return said(told, animals=among)


def goal_relatedness(inbreeding: Fraction, limit: Fraction | None, stage: Words = "") -> Sentence:
    """How the parents of the goal animal are related, beside the limit that the breeder set."""
    words = relatedness_words(inbreeding)
    told = _("The parents of a goal animal of {stage} are {words}.") if stage else ""
    sentence = said(told or _("The parents of the goal animal are {words}."), words=words, stage=stage)
    if limit is None:
        return sentence
    against = (
        _(" Our own limit is {limit}, and that is above it.") if inbreeding > limit else _(" Our own limit is {limit}.")
    )
    return (*sentence, *said(against, limit=limit))
