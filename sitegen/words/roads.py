"""The road of a project in words: where it stands, when its goal can be there, what that takes and assumes.

A chance by season is a share of all courses that the plan may take. One that was found by drawing courses is never
told as none or all, and no number of this module is rounded to certainty.
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.plans.roads.kinds import Chance, Method, RoadOutlook, StageState, Waits
from sitegen.words.numbers import average_text, in_100, month_names, sides, whole_text
from sitegen.words.relations import relatedness_words
from sitegen.words.speech import Link, Sentence, Words, _, capital, capitalised, ngettext, said


def opened(sentence: Sentence) -> Sentence:
    """The sentence with a capital first letter, also where it begins with a link."""
    if not sentence or not isinstance(sentence[0], Link):
        return capitalised(sentence)
    return (replace(sentence[0], text=capital(sentence[0].text)), *sentence[1:])


def told_chance(chance: Fraction, runs: int) -> Fraction:
    """A chance as it may be told: none or all of so many drawn courses says only that the rest is rare."""
    if runs == 0 or chance not in (0, 1):
        return chance
    # Half a course, and at most half of one in 100, so that it reads "fewer than 1" however few courses were drawn.
    rest = min(Fraction(1, 2 * runs), Fraction(1, 200))
    return rest if chance == 0 else 1 - rest


def first_possible(outlook: RoadOutlook) -> int | None:
    """The first season in which a young of an open stage can be the goal; None when none of them can."""
    can = (stage for stage in outlook.stages if stage.goal_each and stage.state is not StageState.DONE)
    return min((stage.earliest for stage in can if stage.earliest is not None), default=None)


def told_by_season(outlook: RoadOutlook) -> tuple[Chance, ...]:
    """The chances by season as they may be told: nothing before the goal is possible, and see :func:`told_chance`."""
    possible, runs = first_possible(outlook), outlook.method.runs
    return tuple(
        each
        if each.by == 0 and (possible is None or each.season < possible)
        else Chance(each.season, told_chance(each.then, runs), told_chance(each.by, runs))
        for each in outlook.by_season
    )


def chance_by(outlook: RoadOutlook, season: int) -> Fraction:
    """The chance that the goal is reached by the end of a season, as it may be told; 1 when it was reached."""
    if outlook.reached is not None:
        return Fraction(int(outlook.reached <= season))
    return next((each.by for each in reversed(told_by_season(outlook)) if each.season <= season), Fraction(0))


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
    """``March 2028`` for the month of pairing, or the year alone when the month is 0."""
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


def why_words(waits: Waits, who: Words, season: int) -> Sentence:
    """What decides the earliest season, after "because"."""
    if waits in (Waits.DAM_AGE, Waits.SIRE_AGE):
        return said(_("{who} will not be old enough before"), who=who or _("one of the two"))
    if waits is Waits.REST:
        return said(_("{who} rests until then"), who=who or _("the dam"))
    if waits is Waits.TODAY:
        return said(_("the season of {year} is the first that is still to come"), year=season)
    return said(_("that is the season we plan for"))


def never_sentence(who: Words) -> Sentence:
    """That a pairing cannot be made any more; ``who`` has died, or is empty."""
    if who:
        return said(_("This pairing cannot be made any more: {who} has died."), who=who)
    return said(_("This pairing cannot be made any more as the plan stands."))


def chance_sentence(season: int, chance: Fraction) -> Sentence:
    """The chance of the goal by the end of a season: both sides, of plans like this one."""
    told = _(
        "If the animals live and breed as planned, {chance} plans like this one have the goal by the end of {season} "
        "and {others} do not."
    )
    if chance == 0:
        told = _("By the end of {season} the goal cannot be there as the plan stands.")
    if chance == 1:
        told = _("If the animals live and breed as planned, the goal is there by the end of {season}.")
    return said(told, season=season, **sides(chance))


def median_sentence(median: int | None, horizon: int) -> Sentence:
    """The season by which half of such plans are there."""
    if median is None:
        return said(_("By the end of {season}, fewer than half of such plans have the goal."), season=horizon)
    return said(_("By the end of {season}, half of such plans or more have the goal."), season=median)


def ever_sentence(ever: Fraction) -> Sentence:
    """The most that any number of seasons can bring; empty when that is every plan."""
    if ever == 1:
        return ()
    if ever == 0:
        return said(_("As the plan stands it cannot give the goal: the parents do not have what it takes."))
    told = _(
        "However long we try, {chance} such plans get there. The others run out of the seasons that we mean to try, "
        "or rely on an animal that lacks what it should pass on, which nobody can see."
    )
    return said(told, chance=in_100(ever))


def effort_sentence(litters: Fraction, kept: Fraction, litters_word: str, horizon: int) -> Sentence:
    """How many litters and kept young a plan takes on average."""
    told = _(
        "On average such a plan takes {n_litters} more {litters} and {kept} more young kept back, the goal itself "
        "counted, until it is there or {horizon} is over."
    )
    return said(told, n_litters=average_text(litters), litters=litters_word, kept=average_text(kept), horizon=horizon)


def cannot_tell() -> Sentence:
    """What is said of a plan whose chances cannot be worked out."""
    return said(_("The chances of this plan cannot be worked out as its record stands, so we give none."))


# Pictures.


def chart_title(project: str) -> str:
    """The name of the chart of chances."""
    return _("{project}: chance that the goal is there, by season").format(project=project)


def chart_description(told: Sequence[Chance]) -> str:
    """The chart in words: its first chance that is not nothing, and its last."""
    first = next((each for each in told if each.by), told[-1])
    words = _("One bar a season, its height the number in 100. {first_season}: {first}. {last_season}: {last}.")
    return words.format(
        first_season=first.season, first=in_100(first.by), last_season=told[-1].season, last=in_100(told[-1].by)
    )


def timeline_title(project: str) -> str:
    """The name of the picture of the road."""
    return _("{project}: the road over the years").format(project=project)


def timeline_description(first: int, last: int) -> str:
    """What the picture of the road shows; the list below it has all of it."""
    words = _("Years {first} to {last} from left to right, one line a stage and one for the goal. The list has it all.")
    return words.format(first=first, last=last)


def stage_event(stage: Words, pair: Words, litter: Words = "", young: int | None = None, date: str = "") -> Sentence:
    """A pairing of a stage, with the litter that came of it, or is to come (``date``)."""
    told = _("{stage}, {pair}: {litter} is still to come ({date}).") if date else _("{stage}, {pair}.")
    if young is not None:
        told = ngettext(
            "{stage}, {pair}: {litter}, {young} living young.",
            "{stage}, {pair}: {litter}, {young} living young.",
            young,
        )
    return opened(said(told, stage=stage, pair=pair, litter=litter, date=date, young=young or 0))


def reached_event(animals: Words) -> Sentence:
    """That the goal was reached; ``animals`` may be empty."""
    return said(_("The goal: {animals}."), animals=animals) if animals else said(_("The goal is reached."))


def median_event() -> Sentence:
    """That half of such plans are there by the end of this season."""
    return said(_("Half of such plans have the goal by the end of this season."))


def horizon_event(chance: Fraction) -> Sentence:
    """The chance at the last season that is looked at."""
    told = _("The last season we look at: {chance} such plans have the goal by its end.")
    if chance == 0:
        told = _("The last season we look at. The goal cannot be there by its end as the plan stands.")
    if chance == 1:
        told = _("The last season we look at. By its end the goal is there.")
    return said(told, chance=in_100(chance))


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


def method_sentences(method: Method, language: str) -> tuple[Sentence, ...]:
    """How the chances by season were found."""
    if method.runs == 0:
        return (said(_("Every course that the plan can take was added up; none was left out.")),)
    told = _(
        "The plan can take too many courses to add up, so {runs} of them were drawn by chance, and the same ones are "
        "drawn again as long as the records are the same. The number in 100 of a season may be off by {error} either "
        "way, which is one standard error."
    )
    runs = whole_text(method.runs, language)
    return (said(told, runs=runs, error=average_text(method.error * 100)),)


def most_sentence(litters: str) -> Sentence:
    """What "most litters" means beside an expected number."""
    return said(_("Where we say most {litters}, we mean at least 80 in 100."), litters=litters)


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


def standing_assumptions() -> tuple[Sentence, ...]:
    """What is taken for granted on every road."""
    return (
        said(_("No animal is lost, sold or ill in this sum. In life that happens, and then the road is longer.")),
        said(_("We keep the first young that look right. What cannot be seen is left to chance; the plan goes on.")),
        said(_("Age is part of the sum. Weight is not: a dam that is too light waits, whatever is planned.")),
    )


def goal_relatedness(inbreeding: Fraction, limit: Fraction | None) -> Sentence:
    """How the parents of the goal animal are related, beside the limit that the breeder set."""
    words = relatedness_words(inbreeding)
    sentence = said(_("The parents of the goal animal are {words}."), words=words)
    if limit is None:
        return sentence
    against = (
        _(" Our own limit is {limit}, and that is above it.") if inbreeding > limit else _(" Our own limit is {limit}.")
    )
    return (*sentence, *said(against, limit=limit))
