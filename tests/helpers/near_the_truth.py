"""What the simulator tells of a road beside the exact numbers: within four standard errors, or not."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from helpers.slow_told import Number, Told
from sitegen.plans.roads.kinds import RoadOutlook

DRAWS = 20_000
NONE = Fraction(0)


@dataclass(frozen=True)
class Share:
    """A number of the simulator beside the exact one.

    ``of`` so many plans were counted; ``variance`` is that of one plan.
    """

    what: str
    told: Fraction
    exact: Fraction
    variance: Fraction
    of: Fraction

    @property
    def is_near(self) -> bool:
        """Within four standard errors; equal where nothing is left to chance."""
        return (self.told - self.exact) ** 2 * self.of <= 16 * self.variance


def chance(what: str, told: Fraction, exact: Fraction, of: Fraction = Fraction(DRAWS)) -> Share:
    return Share(what, told, exact, exact * (1 - exact), of)


def mean(what: str, told: Fraction, exact: Number) -> Share:
    return Share(what, told, exact.mean, exact.variance, Fraction(DRAWS))


def beside(found: RoadOutlook, exact: Told) -> Iterator[Share]:
    """Everything that both tell."""
    told = {each.season: each for each in found.by_season}
    loads = {each.season: each for each in found.loads}
    for season in exact.kept:
        each, load = told.get(season), loads.get(season)
        if each is None or load is None:  # nothing can be bred so early
            for what, none in (("born", exact.born), ("kept", exact.kept), ("known", exact.known)):
                yield chance(f"{what} {season}", NONE, none[season])
            yield mean(f"young {season}", NONE, exact.young[season])
            continue
        yield chance(f"born {season}", each.born, exact.born[season])
        yield chance(f"kept {season}", each.kept, exact.kept[season])
        yield chance(f"known {season}", each.known, exact.known[season])
        yield mean(f"young {season}", load.young.mean, exact.young[season])
        yield mean(f"new {season}", load.kept.mean, exact.new[season])
        yield mean(f"held {season}", load.held.mean, exact.held[season])
    for stage in found.stages:
        own = exact.bred[stage.id]
        bred = dict(stage.bred)
        for season, by_then in own.items():
            yield chance(f"{stage.id} bred {season}", bred.get(season, NONE), by_then)
        given = exact.kept_given_bred(stage.id)
        if given is not None and stage.kept_given_bred is not None:
            of = DRAWS * max(bred.values())
            yield chance(f"{stage.id} kept given bred", stage.kept_given_bred, given, of)
        else:
            assert (stage.kept_given_bred is None) == (not any(bred.values()))
        ended = {how.value: share for how, share in stage.ended.items()}
        for how in ("goal", "kept", "partly", "else", "stuck"):
            yield chance(f"{stage.id} ended {how}", ended.get(how, NONE), exact.ended[stage.id].get(how, NONE))


def far_off(shares: Iterable[Share]) -> list[tuple[str, float, float]]:
    """Those that are not near, with both numbers."""
    return [(each.what, float(each.told), float(each.exact)) for each in shares if not each.is_near]
