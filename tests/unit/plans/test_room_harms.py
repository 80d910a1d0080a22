"""Looks with a welfare note that pairings can give, that goals ask for, and that bought animals may have."""

from helpers.from_text import bound

from sitegen.content.projects import Goal
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.plans.room.harms import harms_of_founder, harms_of_goal, harms_of_pairing

RECORDS = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  star: {inheritance: recessive, welfare: {text: Some cannot right themselves., source: own records}}
  reed: {inheritance: incomplete_dominant, two_copies: super reed, welfare: {text: Harm., source: own records}}
=== animals/sage/animal.yaml
species: corn-snake
sex: female
shows: []
stated: {star: 66%}
=== animals/fern/animal.yaml
species: corn-snake
sex: female
shows: [reed]
=== animals/flint/animal.yaml
species: corn-snake
sex: male
shows: []
stated: {star: certain}
=== animals/basalt/animal.yaml
species: corn-snake
sex: male
shows: [amel]
=== plan.yaml
buy:
  - {species: corn-snake, shows: [reed], sex: male}
  - {species: corn-snake, shows: [], stated: {star: 50%, amel: 50%}, sex: male}
  - {species: corn-snake, shows: [amel], sex: male}
"""
COLLECTION = bound(RECORDS)
ASKED = ask(gather(COLLECTION))
GENOME = COLLECTION.species["corn-snake"].genome


def test_a_pairing_is_told_only_for_what_its_young_can_show() -> None:
    assert harms_of_pairing(ASKED, ("sage", "flint")) == ("star",)
    assert harms_of_pairing(ASKED, ("sage", "basalt")) == (), "young may carry it, and none can show it"
    assert harms_of_pairing(ASKED, ("fern", "basalt")) == ("reed",)


def test_a_goal_is_told_for_what_it_shows_and_what_it_carries() -> None:
    assert harms_of_goal(GENOME, Goal(("super-reed",), ("star",))) == ("super-reed", "star")
    assert harms_of_goal(GENOME, Goal(("amel",))) == ()


def test_a_bought_animal_is_told_for_what_it_shows_and_what_is_stated_of_it() -> None:
    assert COLLECTION.wishes is not None
    told = [harms_of_founder(GENOME, each.animal) for each in COLLECTION.wishes.buy]
    assert told == [("reed",), ("star",), ()]
