"""Small rooms from a number, as the text of records: a species, its animals, past litters, and the wishes.

Everything that the decision problem knows comes in somewhere: odds of genotypes, past litters that tie two parents,
age, rest, pairings that do not take, goals that cannot be seen, several goals, goals for sooner, limits of every kind.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from helpers.rooms import Plan

DAMS, SIRES = ("fern", "sage"), ("clove", "thyme")
STATED = ("certain", "66%", "50%", "33%", "1/4", "", "", "tested", "shows")


def random_room(number: int) -> tuple[str, Plan]:
    """The records of a room, and its wishes as ``content/plan.yaml`` writes them."""
    dice = random.Random(f"room {number}")
    loci = _loci(dice)
    genes = [name for name, _ in loci]
    seasons = dice.choice((2, 3, 3, 3, 4))
    dams, sires = DAMS[: dice.choice((1, 2, 2, 2))], SIRES[: dice.choice((1, 2, 2, 2))]
    grown = {"female": dice.choice((8, 20, 20)), "male": dice.choice((8, 8, 20))}
    sizes = dice.choice(((1, 1, 1), (1, 1, 2), (1, 2, 2), (2, 2, 2), (1, 2, 3), (3, 3, 3)))
    text = ["=== species/snake.yaml", "sexes: ZW", "births: live"]
    text.append("litter_size: {{low: {}, usual: {}, high: {}}}".format(*sizes))
    text.append(f"breeding_age: {{female: {grown['female']} months, male: {grown['male']} months}}")
    text.append("breeding_season: {paired: March, born: July}")
    if takes := dice.choice(("", "", "", "3/4", "1/2")):
        text.append(f"takes: {takes}")
    if dice.random() < 0.4:
        text.append("rest: 1")
    text.append("loci:")
    text += [f"  {name}: {how}" for name, how in loci]
    if len(loci) == 2 and "sex_linked" not in loci[0][1] and dice.random() < 0.15:
        text.append("linked: [{{loci: [{}, {}], recombination: 1/10}}]".format(*genes))
    for name in (*dams, *sires):
        text += _animal(dice, name, "female" if name in dams else "male", loci)
    for dam in dams:
        if dice.random() < 0.2:
            sire = dice.choice(sires)
            text += [f"=== litters/2025-{dam}-{sire}/litter.yaml", f"dam: {dam}", f"sire: {sire}", "born: 2025-07-10"]
            text.append(f"others: [{{count: {dice.choice((1, 2, 4))}, shows: []}}]")
    return "\n".join(text) + "\n", _plan(dice, loci, seasons, len(dams) + len(sires), sizes[2])


def _loci(dice: random.Random) -> list[tuple[str, str]]:
    kinds = ["{inheritance: recessive}"] * 5
    kinds += ["{inheritance: recessive, sex_linked: true}", "{inheritance: dominant}"]
    kinds += ["{inheritance: incomplete_dominant, two_copies: super NAME}"]
    found = [(name, dice.choice(kinds).replace("NAME", name)) for name in ("amel", "hypo")[: dice.choice((1, 1, 2))]]
    if len(found) == 2 and found[1][1] == kinds[0] and dice.random() < 0.2:
        found[1] = ("hypo", "{inheritance: recessive, hidden_by: [amel]}")
    return found


def _animal(dice: random.Random, name: str, sex: str, loci: list[tuple[str, str]]) -> list[str]:
    born = "2025-07-01" if dice.random() < 0.15 else "2020-07-01"
    text = [f"=== animals/{name}/animal.yaml", "species: snake", f"sex: {sex}", f"born: {born}"]
    shows, stated, tests = [], [], []
    for gene, how in loci:
        known = dice.choice(STATED)
        if "recessive" not in how:
            shows += [gene] if dice.random() < 0.4 else []
        elif known == "shows" and not ("hidden_by" in how and "amel" in shows):
            shows.append(gene)
        elif "sex_linked" in how and sex == "female":
            pass
        elif known == "tested":
            tests.append(f"{{locus: {gene}, result: +/{gene}}}")
        elif known and known != "shows":
            stated.append(f"{gene}: {known}")
    text.append(f"shows: [{', '.join(shows)}]")
    if stated:
        text.append(f"stated: {{{', '.join(stated)}}}")
    if tests:
        text.append(f"tests: [{', '.join(tests)}]")
    return text


def _plan(dice: random.Random, loci: list[tuple[str, str]], seasons: int, animals: int, most: int) -> Plan:
    goals: dict[str, object] = {}
    for rank in range(dice.choice((1, 1, 1, 2))):
        genes = [gene for gene, _ in loci]
        dice.shuffle(genes)
        shows: list[str] = []
        carries: list[str] = []
        for place, gene in enumerate(genes):
            how = dict(loci)[gene]
            if place and dice.random() < 0.4:
                continue
            if "incomplete" in how and dice.random() < 0.5:
                shows.append(f"super {gene}")
            elif "recessive" in how and dice.random() < 0.3:
                carries.append(gene)
            else:
                shows.append(gene)
        own: dict[str, object] = {"species": "snake", "shows": shows, "carries": carries}
        own["count"] = dice.choice((1, 1, 1, 1, 2))
        own["weight"] = dice.choice((1, 1, 2, 3))
        goals["PQ"[rank]] = own
    plan: Plan = {"season": 2026, "last": 2025 + seasons, "litters": dice.choice((1, 1, 1, 2)), "goals": goals}
    if dice.random() < 0.8:
        plan["keep"] = dice.choice((1, 1, 2)) if most > 1 else 1
    if dice.random() < 0.2:
        plan["places"] = animals + dice.choice((1, 2))
    if dice.random() < 0.25:
        plan["sooner"] = True
    if dice.random() < 0.1:
        plan["relatedness"] = dice.choice(("0", "1/8"))
    return plan


@dataclass(frozen=True)
class Draft:
    """A room to be changed a little: what :func:`written` makes of it are records and wishes.

    ``animals`` are (name, grown up one season late, what is known of each gene); ``past`` a litter of 2025 of young
    that show nothing: (dam, sire, how many).
    """

    sizes: tuple[int, int, int]
    ages: tuple[int, int]
    takes: str
    rest: int
    genes: tuple[str, ...]
    animals: tuple[tuple[str, bool, tuple[str, ...]], ...]
    past: tuple[str, str, int] | None
    goals: tuple[tuple[tuple[str, ...], tuple[str, ...], int, int], ...]
    seasons: int
    keep: int
    sooner: bool
    places: int | None
    relatedness: str


_KNOWN = ("shows", "shows", "certain", "certain", "66%", "50%", "1/4", "")
_GENES = ("", "", "", "", ", sex_linked: true", ", hidden_by: [amel]")


def draft(dice: random.Random) -> Draft:
    """A room in which what is best now may well not be best in the end.

    One litter a season, a dam that rests, animals that grow up later, a goal that takes two generations beside one that
    may come at once, and many possible carriers.
    """
    n_genes = dice.choice((1, 2, 2))
    rest = dice.choice((0, 1))
    ages = dice.choice(((8, 8), (8, 20), (20, 8), (20, 20)))
    names = dice.choice(((*DAMS, *SIRES), (*DAMS, *SIRES), (*DAMS, SIRES[0]), (DAMS[0], *SIRES)))
    genes = tuple(dice.choice(_GENES) for _ in range(n_genes))
    animals = tuple(
        (name, dice.random() < (0.5 if rest else 0.2), tuple(dice.choice(_KNOWN) for _ in genes)) for name in names
    )
    return Draft(
        sizes=dice.choice(((1, 1, 1), (1, 1, 1), (1, 1, 2), (2, 2, 2), (3, 3, 3))),
        ages=ages,
        takes=dice.choice(("", "", "", "3/4", "1/2")),
        rest=rest,
        genes=genes,
        animals=animals,
        past=_past(dice, names) if dice.random() < 0.25 else None,
        goals=_goals(dice, n_genes),
        seasons=dice.choice((2, 2, 3) if ages[0] == 8 else (2, 3, 3, 3, 4)),
        keep=dice.choice((1, 1, 2)),
        sooner=dice.random() < 0.15,
        places=len(names) + dice.choice((1, 2)) if dice.random() < 0.1 else None,
        relatedness="1/8" if dice.random() < 0.1 else "",
    )


_OFTEN = ("animals",) * 3


def changed(room: Draft, dice: random.Random) -> Draft:
    """The same room with one thing otherwise."""
    other = draft(dice)
    names = [name for name, _, _ in room.animals]
    part = dice.choice(
        (
            "sizes",
            "ages",
            "takes",
            "rest",
            "seasons",
            "keep",
            "sooner",
            "animals",
            "animals",
            "animals",
            "past",
            "goals",
        )
    )
    if part == "animals":
        at = dice.randrange(len(names))
        known = tuple(dice.choice(_KNOWN) for _ in room.genes)
        own = (names[at], dice.random() < 0.4, known)
        return replace(room, animals=(*room.animals[:at], own, *room.animals[at + 1 :]))
    if part == "past":
        return replace(room, past=None if room.past else _past(dice, names))
    if part == "goals":
        return replace(room, goals=_goals(dice, len(room.genes)))
    return replace(room, **{part: getattr(other, part)})


def written(room: Draft) -> tuple[str, Plan]:
    """The records of the room and its wishes."""
    genes = ("amel", "hypo")[: len(room.genes)]
    text = ["=== species/snake.yaml", "sexes: ZW", "births: live"]
    text.append("litter_size: {{low: {}, usual: {}, high: {}}}".format(*room.sizes))
    text.append("breeding_age: {{female: {} months, male: {} months}}".format(*room.ages))
    text.append("breeding_season: {paired: March, born: July}")
    text += [f"takes: {room.takes}"] if room.takes else []
    text += [f"rest: {room.rest}"] if room.rest else []
    text.append("loci:")
    hides = ["" if "hidden" in how and gene == "amel" else how for gene, how in zip(genes, room.genes, strict=True)]
    text += [f"  {gene}: {{inheritance: recessive{how}}}" for gene, how in zip(genes, hides, strict=True)]
    for name, late, known in room.animals:
        female = name in DAMS
        text += [f"=== animals/{name}/animal.yaml", "species: snake", f"sex: {'female' if female else 'male'}"]
        text.append(f"born: {'2025' if late else '2020'}-07-01")
        shows, stated = [], []
        for gene, how, own in zip(genes, hides, known, strict=True):
            if own == "shows":
                shows += [] if "hidden" in how and shows else [gene]
            elif own and not ("sex_linked" in how and female):
                stated.append(f"{gene}: {own}")
        text.append(f"shows: [{', '.join(shows)}]")
        text += [f"stated: {{{', '.join(stated)}}}"] if stated else []
    if room.past:
        dam, sire, n = room.past
        text += [f"=== litters/2025-{dam}-{sire}/litter.yaml", f"dam: {dam}", f"sire: {sire}", "born: 2025-07-10"]
        text.append(f"others: [{{count: {n}, shows: []}}]")
    goals: dict[str, object] = {}
    for name, (shows_, carries, count, weight) in zip("PQ", room.goals, strict=False):
        own_ = {"species": "snake", "shows": list(shows_), "carries": list(carries)}
        goals[name] = {**own_, "count": count, "weight": weight}
    plan: Plan = {"season": 2026, "last": 2025 + room.seasons, "litters": 1, "keep": room.keep, "goals": goals}
    plan |= {"sooner": True} if room.sooner else {}
    plan |= {"places": room.places} if room.places else {}
    plan |= {"relatedness": room.relatedness} if room.relatedness else {}
    return "\n".join(text) + "\n", plan


def _past(dice: random.Random, names: Sequence[str]) -> tuple[str, str, int]:
    dams, sires = [each for each in names if each in DAMS], [each for each in names if each in SIRES]
    return dice.choice(dams), dice.choice(sires), dice.choice((1, 2, 3))


def _goals(dice: random.Random, n_genes: int) -> tuple[tuple[tuple[str, ...], tuple[str, ...], int, int], ...]:
    genes = ("amel", "hypo")[:n_genes]
    kinds: list[tuple[tuple[str, ...], tuple[str, ...]]] = [((gene,), ()) for gene in genes]
    kinds += [((), (gene,)) for gene in genes]
    if n_genes == 2:
        kinds += [(genes, ())] * 3 + [((genes[0],), (genes[1],)), ((genes[1],), (genes[0],))]
    chosen = dict.fromkeys(dice.sample(kinds, dice.choice((1, 2, 2))))
    return tuple((shows, carries, dice.choice((1, 1, 1, 2)), dice.choice((1, 2, 3))) for shows, carries in chosen)


def _by_hand(*animals: tuple[str, bool, tuple[str, ...]], goals: object, **more: object) -> Draft:
    plain = {
        "sizes": (2, 2, 2), "ages": (20, 20), "takes": "", "rest": 0, "past": None, "seasons": 2, "keep": 1,
        "sooner": False, "places": None, "relatedness": "",
    }  # fmt: skip
    genes = ("",) * len(animals[0][2])
    return Draft(genes=genes, animals=animals, goals=goals, **(plain | more))  # type: ignore[arg-type]


HAND_MADE = (
    # A better sire grows up while the dam would rest.
    _by_hand(
        ("fern", False, ("certain",)), ("clove", False, ("certain",)), ("thyme", True, ("shows",)),
        goals=((("amel",), (), 2, 1),), sizes=(1, 1, 1), rest=1,
    ),
    _by_hand(
        ("fern", False, ("certain",)), ("sage", False, ("50%",)), ("clove", False, ("certain",)),
        ("thyme", True, ("shows",)), goals=((("amel",), (), 2, 1),), rest=1,
    ),
    # A goal that may come at once, and one that takes two generations.
    _by_hand(
        ("fern", False, ("certain", "")), ("sage", False, ("shows", "")), ("clove", False, ("certain", "")),
        ("thyme", False, ("", "shows")), goals=((("amel",), (), 1, 1), (("amel", "hypo"), (), 1, 3)), ages=(8, 8),
    ),
    _by_hand(
        ("fern", False, ("1/4", "shows")), ("clove", True, ("shows", "50%")), ("thyme", False, ("shows", "")),
        goals=((("hypo",), ("amel",), 1, 3), (("amel",), ("hypo",), 1, 1)), sizes=(3, 3, 3), rest=1, seasons=4,
    ),
    # Two parents whom one litter of the past ties together.
    _by_hand(
        ("fern", False, ("shows", "certain")), ("sage", False, ("1/4", "certain")), ("clove", False, ("50%", "1/4")),
        ("thyme", False, ("certain", "")), goals=((("amel", "hypo"), (), 1, 2),), ages=(8, 20), rest=1, seasons=3,
        past=("fern", "thyme", 2),
    ),
    # A test mating before the dam grows up that is to have the goal.
    _by_hand(
        ("fern", False, ("shows", "certain")), ("sage", True, ("shows", "shows")), ("clove", False, ("50%", "shows")),
        ("thyme", False, ("66%", "66%")), goals=((("amel", "hypo"), (), 2, 1),), sizes=(1, 1, 1),
    ),
)  # fmt: skip
"""Rooms made by hand in which waiting, investing or testing is right; the search for hard ones starts there."""
