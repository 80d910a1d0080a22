"""The machine form of a season: what ``season --json`` prints."""

from sitegen.evidence.answers import Json
from sitegen.plans.readiness import Readiness
from sitegen.plans.season import Breeder, Conflict, SeasonPlan, Serves


def season_json(plan: SeasonPlan) -> Json:
    """Seasons, every animal with its verdicts and stages, and the conflicts."""
    found: Json = {
        "seasons": [plan.season, plan.season + 1],
        "as_of": plan.as_of.isoformat(),
        "conflicts": [_conflict(each) for each in plan.conflicts],
        "animals": {each.animal: _breeder(each) for each in plan.breeders},
        "left_out": {"on_offer": plan.on_offer, "sex_unknown": plan.sexless},
    }
    if plan.assumed:
        found["months_assumed"] = list(plan.assumed)
    return found


def _breeder(breeder: Breeder) -> Json:
    found: Json = {
        "species": breeder.species,
        "sex": breeder.sex.value,
        "seasons": {str(verdict.season): _verdict(verdict) for verdict in breeder.verdicts},
        "serves": [_serves(each) for each in breeder.serves],
    }
    if breeder.weight.grams is not None:
        found["weight"] = {"grams": breeder.weight.grams, "on": str(breeder.weight.on)}
    if breeder.weight.asked is not None:
        found["breeding_weight"] = breeder.weight.asked
    if breeder.last:
        found["last_litter"] = {"litter": breeder.last[0], "season": breeder.last[1]}
    if breeder.harms:
        found["welfare"] = list(breeder.harms)
    return found


def _verdict(verdict: Readiness) -> Json:
    found: Json = {"can": verdict.can, "reasons": [reason.value for reason in verdict.reasons]}
    return found if verdict.can else found | {"from": verdict.first}


def _serves(serves: Serves) -> Json:
    found: Json = {"project": serves.project, "stage": serves.stage, "season": serves.season}
    return found | ({"alternative": serves.route} if serves.route else {})


def _conflict(conflict: Conflict) -> Json:
    found: Json = {
        "animal": conflict.animal,
        "season": conflict.season,
        "what": conflict.trouble.value,
        "grave": conflict.grave,
        "stages": [_serves(each) for each in conflict.stages],
    }
    return found | ({"litters": list(conflict.litters)} if conflict.litters else {})
