"""Routes to a project's goal in words: the table, each route season by season, and what was not tried."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.content.projects import Goal, Project, Stage
from sitegen.content.species import Species
from sitegen.genetics.loci import Genome
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.kinds import HoldbackOutlook, RoadOutlook, StageOutlook
from sitegen.plans.roads.routes_kinds import Bounds, Found, LeftOut, Route, Why, Worth
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import (
    average_text,
    in_100,
    sides,
    small_number,
)
from sitegen.words.relations import relatedness_words
from sitegen.words.road_stages import carries_sentence, kind_words, planned_words, wanted_words
from sitegen.words.roads import chance_sentence, median_sentence, told_chance
from sitegen.words.speech import Sentence, Words, _, animal_name, listed, ngettext, said

_NAMES_TOLD = 6


def letter(number: int) -> str:
    """``A``, ``B``, ... ``Z``, ``AA``, ... for 0, 1, ..."""
    found = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        found = chr(ord("A") + rest) + found
    return found


def goal_words(goal: Goal, genome: Genome) -> Sentence:
    """What the goal animal is: ``shows amelanistic and motley and carries hypo``."""
    shows = [genome.look(look).name for look in goal.shows]
    carries = [_allele(allele, genome) for allele in goal.carries]
    if shows and carries:
        return said(_("shows {shows} and carries {carries}"), shows=listed(shows), carries=listed(carries))
    if shows:
        return said(_("shows {shows}"), shows=listed(shows))
    return said(_("carries {carries}"), carries=listed(carries))


def _allele(allele_id: str, genome: Genome) -> str:
    return next((a.name for locus in genome.loci for a in locus.alleles if a.id == allele_id), allele_id)


def head_sentence(project: Project, species: Species, found: Found) -> Sentence:
    """What is searched: the goal, the first season and the last that counts."""
    told = _("Routes to {project}: a {species} that {goal}. Seasons {first} to {horizon}.")
    return said(
        told,
        project=project.name,
        species=species.name,
        goal=goal_words(project.goal, species.genome),
        first=found.first_season,
        horizon=found.bounds.horizon,
    )


def already_sentence(certain: Sequence[Words], perhaps: Sequence[Words]) -> Sentence:
    """Who is the goal already, for certain or perhaps; empty if nobody."""
    sure = (
        said(ngettext("{who} is such an animal already.", "{who} are such animals already.", len(certain)),
             who=listed(certain))
        if certain
        else ()
    )  # fmt: skip
    maybe = said(_("{who} may be such an animal already."), who=listed(perhaps, either=True)) if perhaps else ()
    return (*sure, *said(" " if sure and maybe else ""), *maybe)


def nobody_sentence(alleles: Sequence[str], genome: Genome) -> Sentence:
    """That there is no route, because nobody may carry something of the goal."""
    told = _("There is no route: no animal that can be counted on may carry {genes}. An animal that does has to join.")
    return said(told, genes=listed([_allele(allele, genome) for allele in alleles], either=True))


def cannot_live_sentence() -> Sentence:
    """That there is no route, because no young can be the goal and live."""
    return said(_("There is no route: no living young can be that."))


def none_sentence(found: Found) -> Sentence:
    """That no route was found, and what would have to be otherwise."""
    if found.stopped:
        return said(_("The search was stopped before it had worked out a route."))
    if found.open:
        return said(_("No route was found as far as the search went; see below what was not tried."))
    told = _(
        "There is no route within {generations} that reaches the goal by the end of {horizon}{limit}. A later "
        "--horizon or more --generations may bring one."
    )
    limit = _(" and keeps to your relatedness limit") if found.bounds.relatedness is not None else ""
    return said(told, generations=_generations(found.bounds.generations), horizon=found.bounds.horizon, limit=limit)


def _generations(count: int) -> str:
    return ngettext("{count} generation", "{count} generations", count).format(count=small_number(count))


# The table.


def table_title(horizon: int) -> str:
    """The title over the routes."""
    return _("The best routes by season, young to raise and chance")


def table_columns(horizon: int, litters: str) -> tuple[str, ...]:
    """The heads of the table."""
    return (
        _("route"),
        _("half are there by"),
        _("young to raise"),
        _("there by the end of {season}").format(season=horizon),
        _("generations"),
        _("{litters} on average").format(litters=litters),
        _("closest parents"),
    )


def table_row(
    name: str, worth: Worth, young: int, generations: int, closest: Fraction, horizon: int
) -> tuple[str, ...]:
    """One route."""
    median = str(worth.median) if worth.median is not None else _("not by {season}").format(season=horizon)
    runs = worth.method.runs if worth.method else 0
    return (
        name,
        median,
        str(young),
        in_100(told_chance(worth.chance, runs)),
        str(generations),
        average_text(worth.litters),
        relatedness_words(closest),
    )


def plan_name() -> str:
    """What the project's own stages are called in the table."""
    return _("your plan")


# One route.


def route_title(name: str) -> str:
    """The heading of a route."""
    return _("Route {name}").format(name=name)


def pairing_sentence(number: int, stage: Stage, stages: Sequence[Stage], collection: Collection) -> Sentence:
    """A pairing by its number and season: ``1. 2028: pair Tansy with Basalt``."""
    told = _("{number}. {season}: pair {dam} with {sire}.")
    dam, sire = (_parent(parent, stages, collection) for parent in (stage.dam, stage.sire))
    return said(told, number=number, season=stage.season, dam=dam, sire=sire)


def _parent(parent: str, stages: Sequence[Stage], collection: Collection) -> Sentence:
    if parent in collection.animals:
        return said("{name}", name=animal_name(collection, parent))
    stage_id, _dot, kept = parent.partition(".")
    for number, stage in enumerate(stages, 1):
        for holdback in stage.keep:
            if (stage.id, holdback.id) == (stage_id, kept):
                return planned_words(holdback.count, holdback.sex, _("pairing {number}").format(number=number))
    return said("{name}", name=parent)


def keep_sentences(kept: HoldbackOutlook, stage: Stage, species: Species) -> tuple[Sentence, ...]:
    """What to keep of a pairing, how many young are so, and what of it cannot be seen."""
    genome = species.genome
    holdback = next(each for each in stage.keep if each.id == kept.id)
    shows = [genome.look(look).name for look in holdback.shows]
    sure = [_allele(allele, genome) for allele in holdback.carries if kept.each.get(allele) == 1]
    what = wanted_words(kept.count, kept.sex, shows, sure)
    told = (
        _("Keep {what}: {chance} young are {kind} that look so{fraction}, on average {expected} in a whole {litter}.")
        if shows
        else _("Keep {what}: {chance} young are {kind}{fraction}, on average {expected} in a whole {litter}.")
    )
    keep = said(
        told,
        what=what,
        kind=kind_words((), kept.sex),
        expected=average_text(kept.expected),
        litter=birth_words(species).litter,
        **sides(kept.looks_right),
    )
    doubtful = [
        carries_sentence(_allele(allele, genome), chance)
        for allele, chance in kept.each.items()
        if allele in holdback.carries and chance != 1
    ]
    return (keep, *doubtful)


def goal_sentence(chance: Fraction, *, last: bool) -> Sentence:
    """How many young of a pairing truly are the goal; empty for a pairing on the way that cannot give it."""
    if chance == 0 and not last:
        return ()
    told = (
        _("The goal: {chance} young are it and {others} are not{fraction}. Breed until one is there.")
        if last
        else _("With luck the goal itself: {chance} young are it and {others} are not{fraction}.")
    )
    return said(told, **sides(chance))


def end_sentences(route: Route, outlook: RoadOutlook, species: Species) -> tuple[Sentence, ...]:
    """When it is there, what it takes, and how related the closest parents are."""
    runs = outlook.method.runs
    chance = told_chance(route.worth.chance, runs)
    closest = said(
        _("The closest parents on the way are {words}."),
        words=relatedness_words(route.inbreeding),
    )
    effort = said(
        _("On average it takes {n_litters} {litters} and {kept} kept young, the goal animal counted."),
        n_litters=average_text(route.worth.litters),
        litters=birth_words(species).litters,
        kept=average_text(route.worth.kept),
    )
    return (
        median_sentence(route.worth.median, outlook.horizon),
        chance_sentence(outlook.horizon, chance),
        effort,
        closest,
    )


def alike_sentences(route: Route, collection: Collection) -> tuple[Sentence, ...]:
    """Who would serve as well as an animal of the route."""
    return tuple(
        said(
            _("{others} would serve as well as {animal} for the genes of the goal."),
            others=_named(others, collection, either=True),
            animal=animal_name(collection, animal),
        )
        for animal, others in route.alike.items()
        if others
    )


def stage_outlook(outlook: RoadOutlook, stage: Stage) -> StageOutlook:
    """The outlook of a stage of the route."""
    return next(each for each in outlook.stages if each.id == stage.id)


# What was not tried.


def untried_title() -> str:
    """The heading over what was not tried."""
    return _("What was not tried")


def effort_sentences(found: Found) -> tuple[Sentence, ...]:
    """How far the search went, and what it left."""
    bounds = found.bounds
    ways = ngettext("{shapes} way to cross the animals", "{shapes} ways to cross the animals", found.shapes).format(
        shapes=found.shapes
    )
    related = (
        _(" ({count} more would, but some of their young would be more inbred than your limit of {limit})").format(
            count=found.too_related, limit=bounds.relatedness
        )
        if found.too_related
        else ""
    )
    told = ngettext(
        "Of {ways}, {possible} can give the goal in time{related}. {estimated} ways to choose young were estimated; "
        "the {worked_out} that seemed best was worked out in full.",
        "Of {ways}, {possible} can give the goal in time{related}. {estimated} ways to choose young were estimated; "
        "the {worked_out} that seemed best were worked out in full.",
        found.worked_out,
    )
    sentences = [
        said(
            told,
            ways=ways,
            possible=found.possible,
            related=related,
            estimated=found.estimated,
            worked_out=small_number(found.worked_out),
        )
    ]
    if found.stopped:
        stopped = _("You stopped the search before its end: these are the best so far.")
        sentences.append(said(stopped if found.routes else _("You stopped the search before its end.")))
    elif found.open:
        left = _(
            "{count} ways might be as good and were left, because the search ends there. With fewer --generations or a "
            "nearer --horizon fewer are left."
        )
        sentences.append(said(left, count=found.open))
    else:
        sentences.append(said(_("None that was left can be better even at best.")))
    return tuple(sentences)


def bounds_sentences(bounds: Bounds, most_of_a_kind: int, most_young: int) -> tuple[Sentence, ...]:
    """Which ways the search knows."""
    known = _(
        "Ways of at most {generations} and {animals} animals of today were looked at. Young of a pairing are crossed "
        "with each other, with an animal, with the parent that was itself kept back, or, once in a route, with young "
        "of a second first pairing. Anything else was not tried."
    )
    kept = _(
        "Daughters and sons of one pairing are chosen by the same looks. At most {of_a_kind} of a kind and {young} "
        "altogether are kept."
    )
    same = _(
        "Routes that agree in the season, the number of young and the chance in whole hundredths count as equal; one "
        "of them is told. Weight, health and temper are not known to the search."
    )
    return (
        said(known, generations=_generations(bounds.generations), animals=small_number(bounds.animals)),
        said(kept, of_a_kind=small_number(most_of_a_kind), young=small_number(most_young)),
        said(same),
    )


def left_out_sentences(left_out: Sequence[LeftOut], collection: Collection) -> tuple[Sentence, ...]:
    """Who had no part in the search, and why."""
    heads: Mapping[Why, str] = {
        Why.DEAD: _("Dead: {who}."),
        Why.SOLD: _("Sold: {who}."),
        Why.ON_HOLD: _("On hold for a buyer: {who}."),
        Why.UNSAID: _("Listed in an older litter, and nothing says that they are still here (kept: true): {who}."),
        Why.NO_SEX: _("Of unknown sex: {who}."),
        Why.UNANSWERED: _("Without an answer, see sitegen check: {who}."),
        Why.CARRIES_NOTHING: _("Carry nothing of the goal as far as we know: {who}."),
        Why.TOO_YOUNG: _("Too young until after the last season: {who}."),
        Why.BEYOND: _(
            "Not looked at, for there are too many of their sex to try all; those with most of the goal were: {who}."
        ),
    }
    found: list[Sentence] = []
    for why, head in heads.items():
        animals = [each.animal for each in left_out if each.why is why]
        if animals:
            counted = why is Why.SOLD and len(animals) > _NAMES_TOLD
            who: Words = (
                ngettext("{count} animal", "{count} animals", len(animals)).format(count=len(animals))
                if counted
                else _named(animals, collection)
            )
            found.append(said(head, who=who))
    behind: dict[AnimalId, list[AnimalId]] = {}
    for each in left_out:
        if each.why is Why.BEHIND:
            behind.setdefault(each.beside, []).append(each.animal)
    for better, animals in behind.items():
        told = ngettext(
            "{who} has nothing of the goal that {better} does not have for certain, is ready no sooner and is no less "
            "related to the others.",
            "{who} have nothing of the goal that {better} does not have for certain, are ready no sooner and are no "
            "less related to the others.",
            len(animals),
        )
        found.append(said(told, who=_named(animals, collection), better=animal_name(collection, better)))
    return tuple(found)


def _named(animals: Sequence[AnimalId], collection: Collection, *, either: bool = False) -> Sentence:
    """Names; of many the first ones and how many more."""
    return listed([animal_name(collection, animal) for animal in animals], either=either, most=_NAMES_TOLD)


def more_sentence(count: int) -> Sentence:
    """That there are more routes than are told."""
    told = ngettext(
        "{count} more route is as good in its way; --most tells more.",
        "{count} more routes are as good in their way; --most tells more.",
        count,
    )
    return said(told, count=small_number(count))


def record_sentence(name: str) -> Sentence:
    """How to get a route as a record."""
    return said(_("--as-record {name} prints the stages of route {name}, ready for a project’s record."), name=name)
