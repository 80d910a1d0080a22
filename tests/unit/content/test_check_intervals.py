"""Days that the species cannot have, and a second litter too soon; ``confirmed`` takes a notice back."""

import pytest
from helpers.from_text import told

SPECIES = """
=== species/s.yaml
name: snake
births: BIRTHS
days_from:
  paired: {usual: 45, spread: 2}
  FURTHER: {usual: 62, spread: 3}
loci: {}
=== animals/mum/animal.yaml
species: s
sex: female
"""
EGGS = SPECIES.replace("BIRTHS", "eggs").replace("FURTHER", "laid")
LIVE = SPECIES.replace("BIRTHS", "live").replace("FURTHER", "ovulated")


def messages(species: str, *litters: str) -> list[str]:
    files = "".join(
        f"=== litters/{number}/litter.yaml\ndam: mum\n" + "\n".join(line.split("; ")) + "\n"
        for number, line in enumerate(litters)
    )
    return [f"{each.message} / {each.expected}" for each in told(species + files)]


@pytest.mark.parametrize(
    ("species", "litter", "expected"),
    [
        # 4 * 2 * 2 ** 0.5 is 11.3, 4 * 3 * 2 ** 0.5 is 17.
        (EGGS, "paired: 2025-03-01; laid: 2025-05-01", "0 was laid 61 days after the pairing / 34 to 56 days"),
        (EGGS, "laid: 2025-05-01; born: 2025-06-01", "0 hatched 31 days after the laying / 45 to 79 days"),
        (EGGS, "paired: 2025-03-01; born: 2025-08-28", "0 hatched 180 days after the pairing / 79 to 135 days"),
        (LIVE, "paired: 2025-03-01; born: 2025-05-01", "0 was born 61 days after the pairing / 34 to 56 days"),
    ],
)
def test_days_that_the_species_cannot_have(species: str, litter: str, expected: str) -> None:
    assert messages(species, litter) == [f"{expected}, by days_from of snake"]
    assert messages(species, f"{litter}; confirmed: true") == []


@pytest.mark.parametrize(
    "litter", ["paired: 2025-03-01; laid: 2025-04-15; born: 2025-06-16", "paired: 2025-03; born: 2025-12-01", "eggs: 4"]
)
def test_days_that_it_can_have_or_that_nobody_knows(litter: str) -> None:
    assert messages(EGGS, litter) == []


def test_a_second_litter_too_soon() -> None:
    first, second = "laid: 2025-03-01", "laid: 2025-06-01"
    assert messages(EGGS, first, second) == [
        "1 was laid 92 days after 0 of the same dam / at least 182 days between two litters of a dam, by the figures "
        "of snake"
    ]
    assert messages(EGGS.replace("births:", "litters_a_year: 2\nbirths:"), first, second) == []
    assert messages(EGGS, first, f"{second}; confirmed: true") == []


def test_live_young_no_sooner_than_they_are_carried() -> None:
    often = LIVE.replace("births:", "litters_a_year: 6\nbirths:")
    assert messages(often, "born: 2025-03-01", "born: 2025-04-12") == [
        "1 was born 42 days after 0 of the same dam / at least 45 days between two litters of a dam, by the figures of "
        "snake"
    ]
    assert messages(often, "born: 2025-03-01", "born: 2025-04-20") == []
