"""What one animal more would add to a room, on common worlds.

An animal that might be bought stands behind all others, so that whatever is drawn of these stays as it is.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

from sitegen.content.animals import Animal
from sitegen.content.genes import Genes, Judged, SeenLook, Stated
from sitegen.content.species import Species
from sitegen.content.wishes import WishedAnimal, Wishes
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.loci import WILD
from sitegen.genetics.observations import looks_of
from sitegen.plans.roads.wants import want_of
from sitegen.plans.room.choosing import aligned
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, room_of
from sitegen.plans.room.kinds import BuyingPlan, Purchase
from sitegen.plans.room.plan import SEARCHING, TELLING, Progress
from sitegen.plans.room.played import Choice
from sitegen.plans.room.search import PAIRS, Search, by_goal, difference, first_unless_better, mean

COURSES = 1000
SCREENED, SECOND, BESIDE = 30, 150, 300
"""Courses in which choices with an animal are screened and looked at again; and those from which is told what the less
promising half of the animals would add."""
N_SECOND, N_PAIRS = 2, 3
SEARCHED = 0.2
"""The share of the usual courses in which the first season's pairings are searched without the animal."""
MOST_BOUGHT = 12


def buying(
    asked: Asked, species: str, wishes: Wishes, as_of: dt.date, *, effort: float = 1.0, progress: Progress | None = None
) -> BuyingPlan:
    """What one animal more would add: those of the wishes, else each gene of the goals in an animal of either sex.

    Without the animal a small search chooses the first season's pairings. With it they are the best of those that this
    left, the rule's own for the larger room, and those in which one pairing is exchanged for a promising one of the
    animal's, or that one is made as well. What is told comes from courses that chose nothing.

    Raises:
        SitegenError: There is no goal of the species, or its animals have no answer at a locus that matters.
    """
    collection = asked.evidence.collection
    own = [each for each in wishes.buy if each.animal.species == species]
    dear = [each for each in own if wishes.budget and each.price and each.price.amount > wishes.budget.amount]
    offered = [each for each in own if each not in dear] if own else hypothetical(collection.species[species], wishes)
    ids = [each.animal.id for each in offered]
    more = replace(collection, animals={**collection.animals, **{each.animal.id: each.animal for each in offered}})
    known = ask(gather(more))
    n, fewer = (max(50, round(courses * effort)) for courses in (COURSES, BESIDE))

    def player(luck: int, *bought: str) -> Player:
        room = room_of(known, species, wishes, as_of, frozenset(ids) - set(bought), bought)
        return Player(known, room, n, Dice(luck))

    def step(at: float) -> None:
        if progress:
            progress(at / (2 * len(offered)))

    without = player(TELLING)
    room, search = without.room, Search(player(SEARCHING), SEARCHED * effort)
    search.run(lambda _: None)
    usual = [aligned(each, search.best[0]) for each in search.best]
    chosen: list[tuple[float, WishedAnimal, Choice]] = []
    for at, each in enumerate(offered):
        step(at)
        value, choice = _best(player(SEARCHING, each.animal.id), usual, effort)
        chosen.append((value, each, choice))
    chosen.sort(key=lambda each: (-each[0], each[1].animal.id))
    before = without.results(usual[:1], n)[0]
    total, found = float(sum(goal.weight for goal in room.goals)), []
    for at, (_, each, choice) in enumerate(chosen):
        step(len(chosen) + at)
        courses = n if 2 * at < len(chosen) else min(n, fewer)
        result = player(TELLING, each.animal.id).results([choice], courses)[0]
        gain, wrong = difference(result.values(room), before.values(room)[:courses])
        found.append(Purchase(each, total * gain, total * wrong, by_goal(room, result, before, courses)))
    found.sort(key=lambda each: (-each.gain, each.animal.animal.id))
    return BuyingPlan(species, tuple(found), tuple(dear), n, total)


def _best(player: Player, usual: Sequence[Choice], effort: float) -> tuple[float, Choice]:
    """The best choice for the first season in a room whose last animal is new, and about its value."""
    room, new, now = player.room, len(player.room.ids) - 1, usual[0]
    choices = [*usual, aligned(player.own_choice(), now)]
    pairs = [pair for pair in player.first_pairs(PAIRS)[0] if new in pair]
    for pair in pairs[:N_PAIRS]:
        ways = [(*now[:at], pair, *now[at + 1 :]) for at in range(len(now))]
        ways += [(*now, pair)] if len(now) < room.litters else []
        choices += [way for way in ways if len({dam for dam, _ in way}) == len(way)]
    choices = list(dict.fromkeys(choices))
    values = _values(player, choices, SCREENED, effort)
    order = sorted(range(1, len(choices)), key=lambda at: (-mean(values[at]), len(choices[at]), choices[at]))
    choices = [now, *(choices[at] for at in order[:N_SECOND])]
    values = _values(player, choices, SECOND, effort)
    best = first_unless_better(values)
    return mean(values[best]), choices[best]


def _values(player: Player, choices: Sequence[Choice], courses: int, effort: float) -> list[Floats]:
    results = player.results(choices, max(20, min(player.n, round(courses * effort))))
    return [each.values(player.room) for each in results]


def hypothetical(species: Species, wishes: Wishes) -> list[WishedAnimal]:
    """For each gene of the goals and each sex a grown animal that shows it, a certain carrier and a likely one (2/3).

    At most 12; the genes of the heaviest goals first.
    """
    genome, place = species.genome, wishes.place
    found: list[WishedAnimal] = []
    goals = sorted((goal for goal in wishes.goals if goal.species == species.id), key=lambda each: -each.weight)
    wants = [want_of(genome, goal.goal) for goal in goals]
    looks = dict.fromkeys(look for want in wants for look in (*want.seen, *want.hidden))
    carried = dict.fromkeys(allele for want in wants for allele in want.carries)
    kinds: list[tuple[str, Genes]] = []
    for look in looks:
        locus = genome.locus(genome.look(look).locus)
        seen = (SeenLook(look=look, locus=locus.id, place=place, as_written=look),)
        kinds.append((f"shows {look}", Genes(Judged(seen, (), place))))
        hidden = [a.id for a in locus.alleles if set(looks_of(locus, locus.genotype(WILD, a.id))) == {""}]
        carried.update(dict.fromkeys(a for a in hidden if locus.shown.get(locus.genotype(a, a)) == look))
    for allele in carried:
        locus = next(each for each in genome.loci if any(own.id == allele for own in each.alleles))
        one, none = locus.genotype(WILD, allele), locus.genotype(WILD, WILD)
        for odds, words in (({one: Fraction(1)}, "certain"), ({one: Fraction(2, 3), none: Fraction(1, 3)}, "2/3")):
            stated = Stated(locus.id, odds, words, place)
            kinds.append((f"{allele} {words}", Genes(Judged((), (), place), (stated,))))
    for (_, genes), sex in product(kinds, SEXES):
        if any(genome.locus(own.locus).copies(sex) == 1 for own in genes.stated):
            continue  # it would show
        animal = Animal(id=f"buy {len(found) + 1}", species=species.id, sex=sex, genes=(genes,), place=place)
        found.append(WishedAnimal(animal=animal, price=None))
    return found[:MOST_BOUGHT]
