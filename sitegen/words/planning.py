"""Plans in words: who can breed in a season and for what, and which plans are impossible or doubtful."""

import datetime as dt
from collections.abc import Iterable

from sitegen.content.collection import Collection
from sitegen.content.litters import gravid
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.loci import Sex
from sitegen.plans import doubts_kinds as doubts
from sitegen.plans.doubts import doubts_of_all
from sitegen.plans.readiness import Hindrance, Readiness
from sitegen.plans.season import Breeder, Conflict, SeasonPlan, Serves, Trouble
from sitegen.words.numbers import in_100, weight_text
from sitegen.words.relations import kin_words
from sitegen.words.speech import _, animal_name, listed, ngettext, plain, when_asked
from sitegen.year.due import HELD


def verdict_words(verdict: Readiness) -> str:
    """An animal in one season, for a cell of a table."""
    words = [_reason_words(reason, verdict) for reason in verdict.reasons]
    if verdict.can:
        return _("yes; {but}").format(but="; ".join(words)) if words else _("yes")
    return _("no: {why}").format(why="; ".join(words))


def _reason_words(reason: Hindrance, verdict: Readiness) -> str:
    match reason:
        case Hindrance.TOO_YOUNG:
            return _("too young until {season}").format(season=verdict.until.get(reason, verdict.first))
        case Hindrance.HAS_LITTER:
            return _("has a litter this season")
        case Hindrance.RESTING:
            return _("rests until {season}").format(season=verdict.until.get(reason, verdict.first))
        case Hindrance.TOO_LIGHT:
            return _("too light at the last weighing")
        case Hindrance.MUST_GAIN:
            return _("if heavy enough by then")
        case Hindrance.NO_WEIGHT:
            return _("no weight recorded")
        case Hindrance.NO_BIRTH:
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
        told = _("{grams} on {day}, {asked} asked").format(grams=grams, day=weight.on, asked=asked)
        if weight.growth is None or (middle := weight.growth.day(0.5)) is None:
            return told
        early, late = (weight.growth.day((1 + side * HELD) / 2) for side in (-1, 1))
        return _("{told}, about {middle} at this rate ({early} to {late})").format(
            told=told,
            middle=f"{middle:%Y-%m}",
            early=f"{early:%Y-%m}",
            late=f"{late:%Y-%m}" if late else _("never"),
        )
    return _("{grams} on {day}").format(grams=grams, day=weight.on)


def harm_words(breeder: Breeder, collection: Collection) -> str:
    """The looks of an animal that have a welfare note; empty for none."""
    genome = collection.species[breeder.species].genome
    names = [genome.look(look).name for look in breeder.harms]
    return _("welfare note: {genes}").format(genes=plain(listed(names))) if names else ""


def conflict_sentence(conflict: Conflict, plan: SeasonPlan, collection: Collection) -> str:
    """Promises that cannot be kept, or that are to be watched."""
    breeder = next((each for each in plan.breeders if each.animal == conflict.animal), None)
    verdicts = breeder.verdicts if breeder else ()
    now = [f"{each.project}, {each.stage}" for each in conflict.stages if each.season == conflict.season]
    before = [f"{each.project}, {each.stage}" for each in conflict.stages if each.season != conflict.season]
    what = _trouble(conflict).format(
        name=animal_name(collection, conflict.animal),
        stages=plain(listed(now)),
        count=len(conflict.stages),
        also=plain(listed(conflict.litters)),
        earlier=plain(listed([*before, *conflict.litters])),
        first=next(
            (each.until.get(Hindrance.TOO_YOUNG, each.first) for each in verdicts if each.season == conflict.season),
            conflict.season,
        ),
        weight=weight_words(breeder, collection) if breeder else "",
    )
    return _("{season}: {what}").format(season=conflict.season, what=what)


def _trouble(conflict: Conflict) -> str:
    """What is wrong with promises, with places for who, what and when."""
    match conflict.trouble:
        case Trouble.SIRE_OF_SEVERAL:
            return ngettext(
                "{name} is promised to {count} stage ({stages}); one male may serve several dams, if you mean it so.",
                "{name} is promised to {count} stages ({stages}); one male may serve several dams, if you mean it so.",
                len(conflict.stages),
            )
        case Trouble.DAM_OF_SEVERAL if conflict.litters:
            return _("{name} is promised to {stages} and has a litter in this season already ({also}).")
        case Trouble.DAM_OF_SEVERAL:
            return _("{name} is promised to more litters than she can have: {stages}.")
        case Trouble.TOO_YOUNG:
            return _("{name} is too young for {stages}; old enough in {first}.")
        case Trouble.NO_REST:
            return _("{name} is promised to {stages} and would have no rest after {earlier}.")
        case Trouble.TOO_LIGHT:
            return _("{name} is promised to {stages} and is too light to breed at the last weighing ({weight}).")
        case Trouble.OFFERED:
            return _("{name} is promised to {stages} and is on offer.")
        case Trouble.GONE:
            return _("{name} is promised to {stages} and is no longer there.")


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


caution_sentence = when_asked(
    "Age, rest and the last weighing are all that is counted here. Whether an animal is fit to breed is for its "
    "keeper to judge, and for a veterinarian experienced with reptiles wherever you are in doubt."
)
"""What the tables cannot tell."""


def plan_findings(asked: Asked, as_of: dt.date) -> tuple[Finding, ...]:
    """Everything that is impossible (an error) or doubtful (a notice) in the plans of a collection."""
    collection = asked.evidence.collection
    return tuple(_ProjectDoubts(collection, doubt.where).finding(doubt) for doubt in doubts_of_all(asked, as_of))


class _ProjectDoubts:
    """Tells the doubts about one project."""

    def __init__(self, collection: Collection, where: doubts.Where) -> None:
        self.collection = collection
        self.where = where
        self.species: Species = collection.species[collection.projects[where.project].species]

    def finding(self, doubt: doubts.Doubt) -> Finding:
        match doubt:
            case doubts.TooYoung():
                return self._too_young(doubt)
            case doubts.Gone():
                return self._gone(doubt)
            case doubts.Rushed():
                return self._rushed(doubt)
            case doubts.Overbooked():
                return self._overbooked(doubt)
            case doubts.Unlisted():
                return self._unlisted(doubt)
            case doubts.TooRelated():
                return self._too_related(doubt)
            case doubts.NotCarried():
                return self._not_carried(doubt)
            case doubts.LookAlike():
                return self._look_alike(doubt)
            case doubts.TooShort():
                return self._too_short(doubt)
            case doubts.AlwaysSeen():
                return self._always_seen(doubt)
            case doubts.Lethal():
                return self._lethal(doubt)
            case doubts.Unweighed():
                return self._unweighed(doubt)
            case doubts.NotReached():
                return self._not_reached(doubt)

    def _told(
        self,
        kind: Kind,
        message: str,
        expected: str,
        remedy: str,
        *more: Place,
        grave: bool = True,
        nearest: str = "",
    ) -> Finding:
        """What is impossible (``grave``) or doubtful, at its place in the project."""
        level, place = Level.ERROR if grave else Level.NOTICE, self.where.place
        route = f" (alternative {self.where.route})" if self.where.route else ""
        return Finding(level, kind, place, message + route, expected, nearest=nearest, remedy=remedy, others=more)

    def _name(self, who: str) -> str:
        if who in self.collection.animals:
            return animal_name(self.collection, who)
        return f"the young kept as {who}"

    def _names(self, them: Iterable[str], *, either: bool = False) -> str:
        return plain(listed([self._name(who) for who in them], either=either))

    def _gene(self, named: str) -> str:
        """The name of a look, else of an allele."""
        genome = self.species.genome
        for locus in genome.loci:
            for look in locus.looks:
                if look.id == named:
                    return look.name
        return next(own.name for locus in genome.loci for own in locus.alleles if own.id == named)

    @property
    def _what(self) -> str:
        """What is wanted: a holdback, or the goal."""
        where = self.where
        return f"{where.stage}.{where.holdback}" if where.holdback else "the goal"

    def _too_young(self, doubt: doubts.TooYoung) -> Finding:
        word = _word(doubt.sex)
        animal = doubt.parent in self.collection.animals
        name = self._name(doubt.parent) if animal else f"young of {doubt.parent}"
        born = f"born {doubt.born}" if animal else f"born in {doubt.born} at the earliest"
        return self._told(
            Kind.PLAN_TOO_YOUNG,
            f"{name} ({born}) cannot be bred for {doubt.season}, the season of stage {self.where.stage}",
            f"a {word} of at least {doubt.months} months on the first day of the month of pairing, as "
            f"{self.species.name} has it under breeding_age",
            f"plan the stage for {doubt.first} or later, or name another {word}",
            self.species.place,
        )

    def _gone(self, doubt: doubts.Gone) -> Finding:
        word, name = _word(doubt.sex), self._name(doubt.animal)
        since = f" on {doubt.since}" if doubt.since else ""
        remedy = f"name another {word}, or give the project up"
        match doubt.why:
            case doubts.Left.DIED:
                message = f"{name}, the {word} of stage {self.where.stage}, died{since}"
            case doubts.Left.SOLD:
                message = f"{name}, the {word} of stage {self.where.stage}, was sold{since}"
                remedy = f"name another {word}; or, if the animal is still with you, correct its offer"
            case doubts.Left.OFFERED:
                message = f"{name}, the {word} of stage {self.where.stage}, is on offer"
                remedy = f"close the offer, or name another {word}"
        return self._told(
            Kind.PLAN_PARENT_GONE,
            message,
            f"a {word} that is there when the stage is bred",
            remedy,
            doubt.record,
            grave=doubt.why is doubts.Left.DIED and doubt.only,
        )

    def _rushed(self, doubt: doubts.Rushed) -> Finding:
        name = self._name(doubt.dam)
        seasons = "a season" if doubt.rest == 1 else f"{doubt.rest} seasons"
        litter = self.collection.litters.get(doubt.before)
        key = "rest" if litter is None or gravid(litter) else "rest_after_failure"
        return self._told(
            Kind.PLAN_NO_REST,
            f"{name} is to be bred in {doubt.season} without her rest: she has a litter in {doubt.earlier} "
            f"({doubt.before})",
            f"{seasons} of rest after each litter, as you have it under {key}",
            f"plan the stage for {doubt.earlier + doubt.rest + 1} or later, or name another dam",
            doubt.place,
            grave=False,
        )

    def _overbooked(self, doubt: doubts.Overbooked) -> Finding:
        name = self._name(doubt.dam)
        can = "one litter" if doubt.litters_a_year == 1 else f"{doubt.litters_a_year} litters"
        of = self.species.name
        why = f"{of} has it" if "litters_a_year" in self.species.written else f"is taken where {of} has none"
        return self._told(
            Kind.PLAN_PROMISED_TWICE,
            f"{name} is promised to {1 + len(doubt.others)} litters in {doubt.season}: stage {self.where.stage} here, "
            f"and {plain(listed(doubt.others))}",
            f"at most {can} from her in a season, as {why} under litters_a_year",
            "plan one of them for another season, or name another dam",
            *doubt.places,
        )

    def _unlisted(self, doubt: doubts.Unlisted) -> Finding:
        stage = self.where.stage
        return self._told(
            Kind.PLAN_LITTER_UNLISTED,
            f"litters/{doubt.litter} is of the pair of stage {stage} and is not listed under litters, so the plan does "
            "not know of it",
            "the litters that came of a stage, under litters",
            f"add {doubt.litter} to the litters of stage {stage}; or leave it, if it was bred for something else",
            doubt.place,
            grave=False,
        )

    def _too_related(self, doubt: doubts.TooRelated) -> Finding:
        related = dict.fromkeys(kin_words(case.value, self._name) for case in doubt.related)
        return self._told(
            Kind.PLAN_TOO_RELATED,
            f"{self._name(doubt.dam)} and {self._name(doubt.sire)} are {' or '.join(related)}: "
            f"their young would have an inbreeding coefficient of {doubt.inbreeding}",
            f"at most {doubt.limit}, as you have it under relatedness_limit",
            "name a parent that is less related, or raise the limit if you stand by this pairing",
            grave=False,
        )

    def _lacking(self, kind: Kind, message: str, allele: str, doubt: doubts.NotCarried | doubts.LookAlike) -> Finding:
        """That another parent is needed, and who may carry the allele."""
        told = [f"{self._name(animal)} {in_100(chance)}" for animal, chance in doubt.nearest]
        carriers = f"chance of carrying it by your records: {', '.join(told)}"
        carriers = carriers if told else "no other animal of yours can carry it by your records"
        nearest = ", ".join(animal for animal, _chance in doubt.nearest)
        expected = f"a parent that may carry {allele}"
        return self._told(kind, message, expected, f"name another parent; {carriers}", nearest=nearest)

    def _not_carried(self, doubt: doubts.NotCarried) -> Finding:
        gene, allele = self._gene(doubt.wanted), self._gene(doubt.allele)
        needs = "" if allele == gene else f", which needs {allele}"
        names = [self._name(parent) for parent in doubt.parents]
        nobody = f"none of {plain(listed(names))} can carry it"
        if len(names) == 2:
            nobody = f"neither {names[0]} nor {names[1]} can carry it"
        message = f"{self._what} is to have {gene}{needs}, and by your records {nobody}"
        return self._lacking(Kind.PLAN_NOT_CARRIED, message, allele, doubt)

    def _look_alike(self, doubt: doubts.LookAlike) -> Finding:
        gene, other = self._gene(doubt.allele), self._gene(doubt.other)
        message = (
            f"{self._what} is to have {self._gene(doubt.wanted)}, and {self._name(doubt.animal)} has {other}, which "
            f"looks like {gene} and is another gene: a copy of one does not stand in for a copy of the other"
        )
        return self._lacking(Kind.PLAN_LOOK_ALIKE, message, gene, doubt)

    def _too_short(self, doubt: doubts.TooShort) -> Finding:
        told = [
            f"{self._names(parents, either=True)} cannot give {self._gene(wanted)}"
            if parents
            else f"{self._gene(wanted)} cannot come together with the rest"
            for wanted, parents in doubt.missing.items()
        ]
        what = f"what {self._what} asks for" if self.where.holdback else self._what
        where = f"stage {self.where.stage}" if self.where.stage else "any stage"
        stages = "1 stage" if doubt.stages == 1 else f"{doubt.stages} stages"
        return self._told(
            Kind.PLAN_TOO_SHORT,
            f"no young of {where} can be {what}, though all of it is carried on this road: {plain(listed(told))}",
            f"more generations than this road has ({stages})",
            "keep young that carry what is missing, and add a stage that pairs them with each other or back to a "
            "parent that carries it",
        )

    def _always_seen(self, doubt: doubts.AlwaysSeen) -> Finding:
        looks = plain(listed([self._gene(look) for look in doubt.looks], either=len(doubt.looks) > 1))
        return self._told(
            Kind.PLAN_ALWAYS_SEEN,
            f"no young of stage {self.where.stage} can be chosen by eye as {self._what}: all that have what it asks "
            f"for show {looks}",
            "young that show nothing that hides what is asked for, and nothing else at all where only is true",
            "add the look under shows, leave only out, or name a parent that can have young without it",
        )

    def _lethal(self, doubt: doubts.Lethal) -> Finding:
        return self._told(
            Kind.PLAN_LETHAL,
            f"{self._what} is to show {self._gene(doubt.look)}, which only embryos have that do not live",
            "a look that living animals have",
            "ask for the one-copy form, or correct two_copies_lethal in the species file",
            doubt.gene,
        )

    def _unweighed(self, doubt: doubts.Unweighed) -> Finding:
        if doubt.animal:
            who = f"stage {self.where.stage} breeds from {self._name(doubt.animal)}, who shows"
        else:
            who = f"{self._what} asks for"
        return self._told(
            Kind.PLAN_WELFARE,
            f"{who} {self._gene(doubt.allele)}, which has a welfare note, and the project says nothing of it",
            "welfare: why you breed for it all the same, and what you do for the animals",
            "add welfare to the project, after a talk with a veterinarian experienced with reptiles; or plan without "
            "the gene",
            doubt.gene,
            grave=False,
        )

    def _not_reached(self, doubt: doubts.NotReached) -> Finding:
        if doubt.best is None:
            nobody = "no animal of its litters can be the goal"
        else:
            nobody = (
                f"no animal of its litters is certain to be the goal; the nearest is {self._name(doubt.best)}, with a "
                f"chance of {in_100(doubt.chance)}"
            )
        return self._told(
            Kind.PLAN_NOT_REACHED,
            f"the project is called reached, and {nobody}",
            "an animal among the kept ones, or a young of its litters, that is the goal for certain",
            "record what it shows or was tested for, name it under animals, or write state: under way",
            *([self.collection.animals[doubt.best].place] if doubt.best else []),
        )


def _word(sex: Sex) -> str:
    return "dam" if sex is Sex.FEMALE else "sire"
