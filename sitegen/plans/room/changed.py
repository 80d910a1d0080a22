"""The same room with one animal more, or with other young of a litter kept: what that changes, on common worlds.

The animals that are compared stand behind all others, so that whatever is drawn of these stays as it is.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

from sitegen.content.animals import Animal
from sitegen.content.genes import Genes, Judged, SeenLook, Stated
from sitegen.content.species import Species
from sitegen.content.wishes import WishedAnimal, Wishes
from sitegen.evidence.asking import Asked, ask, members_with_sires
from sitegen.evidence.gather import gather
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import WILD, Genome, Sex
from sitegen.genetics.observations import looks_of
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.wants import want_of
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Room, is_there, room_of
from sitegen.plans.room.kinds import AS_GOOD, BuyingPlan, HoldbackPlan, Purchase, RankedYoung
from sitegen.plans.room.plan import TELLING, Progress
from sitegen.plans.room.played import Result
from sitegen.plans.room.search import difference, mean

COURSES = 1000
MOST_BOUGHT = 12
_USUALLY_KEPT = 2


def buying(
    asked: Asked, species: str, wishes: Wishes, as_of: dt.date, *, effort: float = 1.0, progress: Progress | None = None
) -> BuyingPlan:
    """What one animal more would add: those of the wishes, else each gene of the goals in an animal of either sex.

    The first season's pairings are the rule's own, with and without the animal.

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
    n = max(50, round(COURSES * effort))

    def played(present: Sequence[AnimalId]) -> tuple[Room, Result]:
        room = room_of(known, species, wishes, as_of, frozenset(ids) - set(present), present)
        return room, Player(known, room, n, Dice(TELLING)).rule_alone(n)

    room, without = played(())
    total = float(sum(goal.weight for goal in room.goals))
    found = []
    for at, each in enumerate(offered):
        if progress:
            progress(at / len(offered))
        result = played((each.animal.id,))[1]
        gain, wrong = difference(result.values(room), without.values(room))
        found.append(Purchase(each, total * gain, total * wrong, _by_goal(room, result, without)))
    found.sort(key=lambda each: (-each.gain, each.animal.animal.id))
    return BuyingPlan(species, tuple(found), tuple(dear), n, total)


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


def holdback(
    asked: Asked, litter: str, wishes: Wishes, as_of: dt.date, *, effort: float = 1.0, progress: Progress | None = None
) -> HoldbackPlan:
    """Which young of a born litter to keep, across all goals.

    One after the other the young is taken that adds most to what is kept already; the room without them plays the
    coming seasons by the rule. Young of unknown sex cannot be planned with and are not ranked.

    Raises:
        SitegenError: There is no goal of the species, or its animals have no answer at a locus that matters.
    """
    collection = asked.evidence.collection
    species = collection.litters[litter].species
    young = sorted(
        each.id
        for each in collection.animals.values()
        if each.litter == litter and is_there(each) and each.sex is not Sex.UNKNOWN
    )
    n = max(50, round(COURSES * effort))
    known: dict[frozenset[AnimalId], tuple[Room, Result]] = {}
    steps = max(1, 4 * len(young))

    def played(kept: Sequence[AnimalId]) -> Result:
        key = frozenset(kept)
        if key not in known:
            room = room_of(asked, species, wishes, as_of, frozenset(young) - key, sorted(key))
            known[key] = room, Player(asked, room, n, Dice(TELLING)).rule_alone(n)
            if progress:
                progress(min(1.0, len(known) / steps))
        return known[key][1]

    played(())
    room = known[frozenset()][0]
    total = float(sum(goal.weight for goal in room.goals))

    def value(kept: Sequence[AnimalId]) -> float:
        return mean(played(kept).values(room))

    kept: list[AnimalId] = []
    for _ in range(min(wishes.keep or _USUALLY_KEPT, len(young))):
        rest = [each for each in young if each not in kept]
        kept.append(min(rest, key=lambda each: (-value([*kept, each]), each)))
    others = [each for each in young if each not in kept]
    ranked, as_good = [], []
    for each in kept:
        less = [own for own in kept if own != each]
        instead = max((value([*less, other]), other) for other in others)[1] if others else None
        against = played([*less, instead] if instead else less)
        ranked.append(_ranked(asked, room, species, each, True, played(kept), against, total))
    for other in others:
        ranked.append(_ranked(asked, room, species, other, False, played([*kept, other]), played(kept), total))
        if kept and value(kept) - value([*kept[:-1], other]) < AS_GOOD:
            as_good.append(other)
    order = sorted(ranked, key=lambda each: (not each.keep, -each.gain, each.animal))
    return HoldbackPlan(species, litter, tuple(order), tuple(as_good), n, total)


def _ranked(
    asked: Asked, room: Room, species: str, animal: AnimalId, keep: bool, result: Result, against: Result, total: float
) -> RankedYoung:
    gain, wrong = difference(result.values(room), against.values(room))
    genome = asked.evidence.collection.species[species].genome
    carries: dict[str, float] = {}
    for want in room.wants:
        wanted = {*want.carries, *(a for look in want.seen for a in _makers(genome, look))}
        for locus in genome.loci:
            odds = asked.posterior(animal, locus.id)
            for allele in (own.id for own in locus.alleles if own.id in wanted):
                chance = sum((own for genotype, own in odds.items() if allele in genotype), Fraction(0))
                if 0 < chance < 1:
                    carries[allele] = float(chance)
    sex = asked.evidence.collection.animals[animal].sex
    kin = Kinship(members_with_sires(asked, species))
    mates = [each.animal for each in room.beasts if SEXES[each.sex] is not sex]
    related = [kin.pair(animal, each) for each in mates]
    return RankedYoung(
        animal, keep, total * gain, total * wrong, _by_goal(room, result, against), carries,
        sum(related, Fraction(0)) / len(related) if related else None,
    )  # fmt: skip


def _makers(genome: Genome, look: str) -> set[str]:
    locus = genome.locus(genome.look(look).locus)
    return {allele for genotype, own in locus.shown.items() if own == look for allele in genotype}


def _by_goal(room: Room, result: Result, against: Result) -> Mapping[str, float]:
    found = {}
    for at, goal in enumerate(room.goals):
        gain, _ = difference(result.kept[at][-1].astype(float), against.kept[at][-1].astype(float))
        if gain:
            found[goal.id] = gain
    return found
