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
from sitegen.genetics.loci import WILD, Genome
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
SCREENED, SECOND, THIRD, BESIDE = 20, 100, 600, 300
"""Courses in which choices with an animal are screened, looked at again and, for the most promising animals, chosen
from; and those from which is told what the others would add."""
N_SECOND, N_THIRD, N_PAIRS = 2, 4, 3
SEARCHED = 0.2
"""The share of the usual courses in which the first season's pairings are searched without the animal."""
MOST_BOUGHT = 12


def buying(
    asked: Asked, species: str, wishes: Wishes, as_of: dt.date, *, progress: Progress | None = None
) -> BuyingPlan:
    """What one animal more would add: those of the wishes, else each gene of the goals in an animal of either sex.

    Without the animal a small search chooses the first season's pairings. With it they are the best of these, the
    rule's own for the larger room, and those in which one pairing is exchanged for a promising one of the animal's, or
    that one is made as well. What is told comes from courses that chose nothing.

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

    def player(luck: int, *bought: str) -> Player:
        room = room_of(known, species, wishes, as_of, frozenset(ids) - set(bought), bought)
        return Player(known, room, COURSES, Dice(luck))

    def step(at: float) -> None:
        if progress:
            progress(at / (2 * len(offered)))

    without = player(TELLING)
    room, search = without.room, Search(player(SEARCHING), SEARCHED)
    search.run(lambda _: None)
    now = search.best[0]
    promising: list[tuple[float, list[Choice], WishedAnimal]] = []
    for at, each in enumerate(offered):
        step(at)
        promising.append((*_promising(player(SEARCHING, each.animal.id), now), each))
    promising.sort(key=lambda each: (-each[0], each[2].animal.id))
    before = without.results([now], COURSES)[0]
    total, found = float(sum(goal.weight for goal in room.goals)), []
    for at, (_, choices, each) in enumerate(promising):
        step(len(promising) + at)
        n, searched, errors = (COURSES, THIRD, 1.0) if at < N_THIRD else (BESIDE, SECOND, 2.0)
        best = first_unless_better(_values(player(SEARCHING, each.animal.id), choices, searched), errors)
        result = player(TELLING, each.animal.id).results([choices[best]], n)[0]
        gain, wrong = difference(result.values(room), before.values(room)[:n])
        found.append(Purchase(each, total * gain, total * wrong, by_goal(room, result, before, n)))
    found.sort(key=lambda each: (-each.gain, each.animal.animal.id))
    return BuyingPlan(species, tuple(found), tuple(dear), COURSES, total)


def _promising(player: Player, now: Choice) -> tuple[float, list[Choice]]:
    """In a room whose last animal is new: about the best value, and that choice for the first season beside ``now``."""
    room, new = player.room, len(player.room.ids) - 1
    choices = [now, aligned(player.own_choice(), now)]
    pairs = [pair for pair in player.first_pairs(PAIRS)[0] if new in pair]
    for pair in pairs[:N_PAIRS]:
        ways = [(*now[:at], pair, *now[at + 1 :]) for at in range(len(now))]
        ways += [(*now, pair)] if len(now) < room.litters else []
        choices += [way for way in ways if len({dam for dam, _ in way}) == len(way)]
    choices = list(dict.fromkeys(choices))
    values = _values(player, choices, SCREENED)
    order = sorted(range(1, len(choices)), key=lambda at: (-mean(values[at]), len(choices[at]), choices[at]))
    choices = [now, *(choices[at] for at in order[:N_SECOND])]
    means = [mean(each) for each in _values(player, choices, SECOND)]
    best = max(range(len(choices)), key=lambda at: (at > 0, means[at]))
    return max(means), [now, choices[best]] if best else [now]


def _values(player: Player, choices: Sequence[Choice], courses: int) -> list[Floats]:
    return [each.values(player.room) for each in player.results(choices, courses)]


def hypothetical(species: Species, wishes: Wishes) -> list[WishedAnimal]:
    """Grown animals of either sex, at most 12; the genes of the heaviest goals first.

    For each goal of several genes one that has all of them for certain, the recessive ones unseen; then for each gene
    one that shows it, a certain carrier and a likely one (2/3).
    """
    genome, place = species.genome, wishes.place
    goals = sorted((goal for goal in wishes.goals if goal.species == species.id), key=lambda each: -each.weight)
    wants = [want_of(genome, goal.goal) for goal in goals]
    looks = dict.fromkeys(look for want in wants for look in (*want.seen, *want.hidden))
    unseen = {look: allele for look in looks if (allele := _unseen(genome, look))}

    def genes(shown: Sequence[str], carried: Sequence[str], chance: Fraction = Fraction(1)) -> Genes:
        stated = []
        for allele in carried:
            locus = next(each for each in genome.loci if any(own.id == allele for own in each.alleles))
            odds = {locus.genotype(WILD, allele): chance, locus.genotype(WILD, WILD): 1 - chance}
            words = "certain" if chance == 1 else str(chance)
            stated.append(Stated(locus.id, {genotype: own for genotype, own in odds.items() if own}, words, place))
        seen = (SeenLook(look=look, locus=genome.look(look).locus, place=place, as_written=look) for look in shown)
        return Genes(Judged(tuple(seen), (), place), tuple(stated))

    kinds = []
    for want in wants:
        own = (*want.seen, *want.hidden)
        both = genes([look for look in own if look not in unseen],
                     [*(unseen[look] for look in own if look in unseen), *want.carries])  # fmt: skip
        loci = [each.locus for each in both.judged.seen] + [each.locus for each in both.stated]
        kinds += [both] if 1 < len(loci) == len(set(loci)) else []
    carried = list(dict.fromkeys((*(allele for want in wants for allele in want.carries), *unseen.values())))
    kinds += [genes([look], ()) for look in looks]
    kinds += [genes((), [allele], chance) for chance in (Fraction(1), Fraction(2, 3)) for allele in carried]
    possible = [
        (own, sex) for own, sex in product(kinds, SEXES)
        if all(genome.locus(each.locus).copies(sex) > 1 for each in own.stated)  # with one copy it would show
    ]  # fmt: skip
    return [
        WishedAnimal(price=None, animal=Animal(id=f"buy {at}", species=species.id, sex=sex, genes=(own,), place=place))
        for at, (own, sex) in enumerate(possible[:MOST_BOUGHT], 1)
    ]


def _unseen(genome: Genome, look: str) -> str | None:
    """The allele that shows a look in two copies and nothing in one."""
    locus = genome.locus(genome.look(look).locus)
    return next((each.id for each in locus.alleles if locus.shown.get(locus.genotype(each.id, each.id)) == look
                 and set(looks_of(locus, locus.genotype(WILD, each.id))) == {""}), None)  # fmt: skip
