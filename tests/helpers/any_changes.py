"""Any additions and changes of a small collection whose records are written in many ways."""

import datetime as dt
from collections.abc import Callable

from hypothesis import strategies as st

from sitegen.content.prices import OfferState
from sitegen.keeper.entries import set_offer, set_values
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.new_records import add_animal, add_litter, add_outcome, add_young, animal_values
from sitegen.keeper.noted import Noted, add_events, add_meals, add_measured
from sitegen.keeper.records import Proposal, Records

RECORDS = """
=== site.yaml
name: Small   # my own
currency: GBP
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  motley: {inheritance: recessive}
=== animals/juniper/animal.yaml
# c1 the first of all
name: Juniper   # c2
species: corn-snake
sex:   female
born: 2018-06-01

weights:   # c3 in grams
  2020-05-01: 310 g
  # c4 before the winter
  2021-05-01:   402 g   # c5
about: |
  # no comment, but text

  of several lines

# c6 not for others
private: {notes: 'it''s mine'}
=== animals/flint/animal.yaml
{species: corn-snake, sex: male, born: 2018-06-01,   # c1
 shows: [amel]}   # c2
=== litters/2022-a/litter.yaml
dam: juniper
sire: flint
born: 2022-07-01   # c1
young:
  # c2 the bold one
  "01": {sex: female, shows: [amel]}   # c3
  "02":
  "03":   # c4 late
    shows: []
    offer:   # c5
      price: {amount: 60, currency: GBP}
      state: available   # c6
    meals:
    - {date: 2022-08-01, what: pinkie}   # c7
# c8 the end
"""

ANIMALS = st.sampled_from(["juniper", "flint", "2022-a/01", "2022-a/02", "2022-a/03", "2022-a/04"])
DAYS = st.dates(dt.date(2022, 9, 1), dt.date(2022, 9, 9))
WORDS = st.sampled_from(["mouse", "a, b", "rat: large", "é #1", "'x'", "no"])
Step = Callable[[Records], Proposal]

STEPS: st.SearchStrategy[Step] = st.one_of(
    st.builds(
        lambda animal, state, on, price: lambda now: set_offer(now, animal, state, on, on=on, price=price),
        ANIMALS, st.sampled_from(OfferState), DAYS, st.sampled_from(["", "60", "75.50", "90 EUR"]),
    ),
    st.builds(
        lambda animal, grams, on: lambda now: add_measured(now, "weights", [Noted(animal, f"{grams}g", on)]),
        ANIMALS, st.integers(1, 999), DAYS,
    ),
    st.builds(
        lambda animal, what, on, refused: lambda now: add_meals(now, [Noted(animal, refused + what, on)]),
        ANIMALS, WORDS, DAYS, st.sampled_from(["", "refused "]),
    ),
    st.builds(
        lambda named, what, on, note: lambda now: add_events(now, [Noted(each, what, on) for each in named], note),
        st.lists(ANIMALS, min_size=1, max_size=3), st.sampled_from(["shed", "vet", "fed", "note"]), DAYS, WORDS,
    ),
    st.builds(
        lambda animal, name, sex: lambda now: set_values(
            now, find_animal(now, animal), {("name",): name, ("sex",): sex}
        ),
        ANIMALS, WORDS, st.sampled_from(["male", "female", "unknown"]),
    ),
    st.builds(
        lambda number, shows, sex: lambda now: add_young(now, "2022-a", number, animal_values(shows=shows, sex=sex)),
        st.sampled_from(["", "1", "02", "03", "4"]), st.sampled_from([[], ["nothing"], ["amel"], ["amel", "motley"]]),
        st.sampled_from(["", "male", "female"]),
    ),
    st.builds(
        lambda name, kept: lambda now: add_animal(now, name, "", animal_values(kept=kept)),
        st.sampled_from(["Juniper", "Große Jún", "Été 2"]), st.booleans(),
    ),
    st.builds(
        lambda n: lambda now: add_litter(now, "juniper", ["flint"], {"born": "2024-07-01"}, n), st.integers(0, 3)
    ),
    st.builds(
        lambda litter, noted, n: lambda now: add_outcome(now, litter, noted, n),
        st.sampled_from(["2022-a", "2024-juniper-flint"]),
        st.fixed_dictionaries({}, optional={"laid": st.just("2022-05-01"), "born": st.just("2022-07-01"),
                                            "eggs": st.sampled_from(["9", "12"]), "infertile": st.just("1")}),
        st.integers(0, 6),
    ),
)  # fmt: skip
