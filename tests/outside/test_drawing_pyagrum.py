"""Drawn worlds beside pyAgrum, a general library of Bayesian networks: joints of members in larger families."""

import os
from itertools import product

import numpy as np
import pytest
from helpers.drawn_worlds import assert_frequencies
from helpers.pedigrees import closed, looked_at, ordinary

from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import drawn
from sitegen.genetics.network import answer
from sitegen.genetics.questions import Impossible, Question, TooTangled

try:
    from helpers.by_pyagrum import joint
except ImportError as missing:
    if os.environ.get("CI"):
        raise
    pytest.skip(f"pyAgrum cannot be loaded on this machine: {missing}", allow_module_level=True)

N = 100_000


def agree(question: Question, seed: int) -> None:
    """Three members at a time, near each other and far apart, of all members drawn together."""
    members = [member.id for member in question.members]
    found = drawn([answer(question)], members, N, Dice(seed), (seed,))
    assert not isinstance(found, Impossible | TooTangled)
    chosen = np.random.default_rng(seed)
    for _ in range(6):
        places = sorted(chosen.choice(len(members), 3, replace=False).tolist())
        theirs = joint(question, [members[place] for place in places])
        chances = {copies: chance for copies in product(range(3), repeat=3) if (chance := theirs[copies]) > 1e-12}
        assert_frequencies([tuple(world) for world in found[0][places].T.tolist()], chances)


@pytest.mark.parametrize("seed", range(3))
def test_ordinary_collections(seed: int) -> None:
    agree(looked_at(ordinary(60, seed), seed=seed, share=0.4), seed)


@pytest.mark.parametrize("seed", range(2))
def test_closed_groups(seed: int) -> None:
    agree(looked_at(closed(24, seed, n_founders=6, generation=8), seed=seed, share=0.4), seed)
