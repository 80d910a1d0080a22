"""The season in words: who can breed, for what, and what stands against it."""

from sitegen.content.collection import Collection
from sitegen.genetics.loci import Sex
from sitegen.plans.season import Breeder, Conflict, Reason, SeasonPlan, Serves, Trouble, Verdict
from sitegen.words.measures import weight_text
from sitegen.words.runs import plain
from sitegen.words.speech import _, listed, ngettext
from sitegen.words.voice import animal_name


def verdict_words(verdict: Verdict) -> str:
    """An animal in one season, for a cell of a table."""
    words = [_reason_words(reason, verdict) for reason in verdict.reasons]
    if verdict.can:
        return _("yes; {but}").format(but="; ".join(words)) if words else _("yes")
    return _("no: {why}").format(why="; ".join(words))


def _reason_words(reason: Reason, verdict: Verdict) -> str:
    match reason:
        case Reason.TOO_YOUNG:
            return _("too young until {season}").format(season=verdict.from_season)
        case Reason.HAS_LITTER:
            return _("has a litter this season")
        case Reason.RESTING:
            return _("rests until {season}").format(season=verdict.from_season)
        case Reason.TOO_LIGHT:
            return _("too light at the last weighing")
        case Reason.MUST_GAIN:
            return _("if heavy enough by then")
        case Reason.NO_WEIGHT:
            return _("no weight recorded")
        case Reason.NO_BIRTH:
            return _("birth not recorded, taken as old enough")


def serves_words(serves: Serves) -> str:
    """A stage that an animal serves."""
    told = _("{season} {project}, {stage}, on another route") if serves.route else _("{season} {project}, {stage}")
    return told.format(season=serves.season, project=serves.project, stage=serves.stage)


def weight_words(breeder: Breeder, collection: Collection) -> str:
    """The last weighing with its day, beside what is asked of a breeding animal where that is more."""
    weight, site = breeder.weight, collection.site
    if weight.grams is None or weight.on is None:
        return ""
    grams = weight_text(weight.grams, site.units, site.language)
    if weight.too_light and weight.asked is not None:
        asked = weight_text(weight.asked, site.units, site.language)
        return _("{grams} on {day}, {asked} asked").format(grams=grams, day=weight.on, asked=asked)
    return _("{grams} on {day}").format(grams=grams, day=weight.on)


def harm_words(breeder: Breeder, collection: Collection) -> str:
    """The looks of an animal that have a welfare note; empty for none."""
    genome = collection.species[breeder.species].genome
    names = [genome.look(look).name for look in breeder.harms]
    return _("welfare note: {genes}").format(genes=plain(listed(names))) if names else ""


def sex_words(sex: Sex) -> str:
    """The sex, for a cell."""
    return _("female") if sex is Sex.FEMALE else _("male")


def conflict_sentence(conflict: Conflict, plan: SeasonPlan, collection: Collection) -> str:
    """Promises that cannot be kept, or that are to be watched."""
    name = animal_name(collection, conflict.animal)
    promised = [each for each in conflict.stages if each.season == conflict.season]
    stages = plain(listed([f"{each.project}, {each.stage}" for each in promised]))
    breeder = next((each for each in plan.breeders if each.animal == conflict.animal), None)
    return _("{season}: {what}").format(
        season=conflict.season, what=_trouble(conflict, name, stages, breeder, collection)
    )  # fmt: skip


def _trouble(conflict: Conflict, name: str, stages: str, breeder: Breeder | None, collection: Collection) -> str:
    match conflict.trouble:
        case Trouble.SIRE_OF_SEVERAL:
            count = len(conflict.stages)
            told = ngettext(
                "{name} is promised to {count} stage ({stages}); one male may serve several dams, if you mean it so.",
                "{name} is promised to {count} stages ({stages}); one male may serve several dams, if you mean it so.",
                count,
            )
            return told.format(name=name, count=count, stages=stages)
        case Trouble.DAM_OF_SEVERAL:
            also = plain(listed(conflict.litters))
            if also:
                told = _("{name} is promised to {stages} and has a litter in this season already ({also}).")
                return told.format(name=name, stages=stages, also=also)
            return _("{name} is promised to more litters than she can have: {stages}.").format(
                name=name, stages=stages
            )  # fmt: skip
        case Trouble.TOO_YOUNG:
            first = _first_season(conflict, breeder)
            told = _("{name} is too young for {stages}; old enough in {first}.")
            return told.format(name=name, stages=stages, first=first)
        case Trouble.NO_REST:
            before = [f"{each.project}, {each.stage}" for each in conflict.stages if each.season != conflict.season]
            earlier = plain(listed([*before, *conflict.litters]))
            told = _("{name} is promised to {stages} and would have no rest after {earlier}.")
            return told.format(name=name, stages=stages, earlier=earlier)
        case Trouble.TOO_LIGHT:
            told = _("{name} is promised to {stages} and is too light to breed at the last weighing ({weight}).")
            weight = weight_words(breeder, collection) if breeder else ""
            return told.format(name=name, stages=stages, weight=weight)
        case Trouble.OFFERED:
            return _("{name} is promised to {stages} and is on offer.").format(name=name, stages=stages)
        case Trouble.GONE:
            return _("{name} is promised to {stages} and is no longer there.").format(name=name, stages=stages)


def _first_season(conflict: Conflict, breeder: Breeder | None) -> int:
    verdicts = breeder.verdicts if breeder else ()
    return next((each.from_season for each in verdicts if each.season == conflict.season), conflict.season)


def left_out_sentences(plan: SeasonPlan, collection: Collection) -> list[str]:
    """Who is not in the tables, and what was assumed."""
    found = []
    if plan.on_offer:
        told = ngettext(
            "{count} animal on offer is not listed.", "{count} animals on offer are not listed.", plan.on_offer
        )
        found.append(told.format(count=plan.on_offer))
    if plan.sexless:
        told = ngettext(
            "{count} animal of unknown sex is not listed.",
            "{count} animals of unknown sex are not listed.",
            plan.sexless,
        )
        found.append(told.format(count=plan.sexless))
    for species in plan.assumed:
        told = _("The months of pairing and birth of {species} are assumed: March and July, or what your litters tell.")
        found.append(told.format(species=collection.species[species].name))
    return found


def caution_sentence() -> str:
    """What the tables cannot tell."""
    return _(
        "Age, rest and the last weighing are all that is counted here. Whether an animal is fit to breed is for its "
        "keeper to judge, and for a veterinarian experienced with reptiles wherever you are in doubt."
    )
