"""When an animal may be bred: said once more in plain numbers, and the same for roads, the room and the list."""

import datetime as dt
from dataclasses import dataclass, replace

from helpers.from_text import bound
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.content.wishes import Wishes, open_goals
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex
from sitegen.plans.readiness import readiness
from sitegen.plans.roads.plan import road_plan
from sitegen.plans.room.facts import room_of
from sitegen.plans.season import season_plan
from sitegen.words.planning import verdict_words

TODAY = dt.date(2026, 10, 31)  # the season of 2026 can be paired no more: March has passed
NEXT = 2027
GRAVID = ("slugs", "reabsorbed", "stillborn")


@dataclass(frozen=True)
class Herd:
    """A dam and a sire: their ages and weights, her litters by season and how they ended, the species' figures."""

    ages: tuple[int, int]
    born: tuple[int | None, int | None]
    grams: tuple[int | None, int | None]
    litters: tuple[tuple[int, str], ...]
    rest: int
    after_failure: int
    a_year: int

    def text(self) -> str:
        female, male = self.ages
        text = (
            "=== species/corn-snake.yaml\nsexes: ZW\nbreeding_season: {paired: March, born: July}\n"
            f"breeding_age: {{female: {female} years, male: {male} years}}\n"
            "breeding_weight: {female: 300 g, male: 200 g}\n"
            f"rest: {self.rest}\nrest_after_failure: {self.after_failure}\nlitters_a_year: {self.a_year}\n"
            "loci: {amel: {inheritance: recessive}}\n"
        )
        for name, sex, born, grams in zip(("d", "s"), ("female", "male"), self.born, self.grams, strict=True):
            weight = f"weights: {{2026-09-01: {grams} g}}\n" if grams else ""
            text += f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nshows: [amel]\n{weight}"
            text += f"born: {born}-01-15\n" if born else ""
        for number, (season, ending) in enumerate(self.litters):
            text += f"=== litters/l{number}/litter.yaml\ndam: d\npaired: {season}-03-05\n"
            text += f"born: {season}-07-10\n" if not ending else f"failed: {{date: {season}-06-01, what: {ending}}}\n"
        return (
            text + "=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\n"
            f"stages: {{only: {{season: {NEXT}, dam: d, sire: s}}}}\n"
        )

    def can(self, who: int, season: int) -> bool:
        """Whether nothing forbids a season, from the sentences of the guide."""
        born, grams = self.born[who], self.grams[who]
        if born is not None and season < born + self.ages[who]:
            return False
        if season == NEXT and grams is not None and grams < (300, 200)[who]:
            return False
        if who == 1:
            return True
        if sum(one == season and not ending for one, ending in self.litters) >= self.a_year:
            return False
        for one, ending in self.litters:
            if ending in GRAVID and one <= season <= one + self.rest:
                return False
            if one < season <= one + (self.after_failure if ending == "not-gravid" else self.rest):
                return False
        return True


def _possible(herd: Herd) -> Herd:
    """Without litters that she was too young for; the check tells these."""
    grown = (herd.born[0] or 0) + herd.ages[0]
    return replace(herd, litters=tuple(each for each in herd.litters if each[0] >= grown))


herds = st.builds(
    Herd,
    ages=st.tuples(st.integers(1, 4), st.integers(1, 4)),
    born=st.tuples(st.none() | st.integers(2018, 2026), st.none() | st.integers(2018, 2026)),
    grams=st.tuples(st.sampled_from((None, 150, 250, 350)), st.sampled_from((None, 150, 250))),
    litters=st.lists(
        st.tuples(st.integers(2023, 2026), st.sampled_from(("", "not-gravid", *GRAVID))), max_size=3
    ).map(tuple),
    rest=st.integers(0, 3),
    after_failure=st.integers(0, 2),
    a_year=st.integers(1, 2),
).map(_possible)  # fmt: skip


def entries(collection: Collection) -> dict[str, int]:
    plan = road_plan(collection, collection.projects["p"], collection.projects["p"].stages, TODAY)
    return {animal: entry.first for (animal, _), entry in plan.entries.items() if entry}


@settings(max_examples=150, deadline=None)
@given(herds)
def test_roads_the_room_and_the_list_say_the_same(herd: Herd) -> None:
    collection = bound(herd.text())
    said = {each.animal: each.verdicts[0] for each in season_plan(collection, TODAY).breeders}
    room = room_of(ask(gather(collection)), "corn-snake", Wishes(goals=open_goals(collection.projects)), TODAY)
    plain = {
        name: next(season for season in range(NEXT, NEXT + 20) if herd.can(who, season))
        for who, name in enumerate(("d", "s"))
    }
    assert {name: verdict.first for name, verdict in said.items()} == plain
    assert entries(collection) == plain
    assert {each.animal: each.ready for each in room.beasts} == plain
    for name, verdict in said.items():
        assert verdict.can == (plain[name] == NEXT) == verdict_words(verdict).startswith("yes")


@settings(max_examples=100, deadline=None)
@given(herds, st.sampled_from(("d", "s")), st.integers(NEXT, NEXT + 4))
def test_the_first_season_is_allowed_and_the_one_before_is_not(herd: Herd, name: str, season: int) -> None:
    collection = bound(herd.text())
    year = road_plan(collection, collection.projects["p"], (), TODAY).year
    sex = Sex.FEMALE if name == "d" else Sex.MALE

    def asked(one: int, rest: int | None = None) -> int:
        return readiness(collection, year, collection.animals[name], sex, one, TODAY, rest).first

    first = asked(season)
    assert asked(first) == first
    if first > season:
        assert asked(first - 1) == first
    found = readiness(collection, year, collection.animals[name], sex, season, TODAY)
    assert max(found.until.values(), default=season) == first
    assert all(season < found.until[each] <= first for each in found.reasons if each.forbids)
    assert asked(season, 3) >= first >= asked(season, 0)
