"""Random pedigrees against pyAgrum, a general library of Bayesian networks, to within 1e-9."""

import os

import pytest
from helpers.pedigrees import closed, looked_at, ordinary

from sitegen.genetics.network import answer
from sitegen.genetics.questions import Impossible, Question, TooTangled

try:
    from helpers.by_pyagrum import posteriors
except ImportError as missing:
    if os.environ.get("CI"):
        raise
    pytest.skip(f"pyAgrum cannot be loaded on this machine: {missing}", allow_module_level=True)


def farthest(question: Question) -> float:
    answers = answer(question)
    theirs = posteriors(question)
    distance = 0.0
    for member in question.members:
        ours = answers.of(member.id)
        assert not isinstance(ours, Impossible | TooTangled)
        assert sum(ours.values()) == 1
        distance = max(distance, *(abs(float(ours.get(g, 0)) - chance) for g, chance in theirs[member.id].items()))
    return distance


@pytest.mark.parametrize("seed", range(4))
def test_ordinary_collections(seed: int) -> None:
    assert farthest(looked_at(ordinary(150, seed), seed=seed)) < 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_hardly_looked_at(seed: int) -> None:
    assert farthest(looked_at(ordinary(120, seed), seed=seed, share=0.3)) < 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_closed_groups(seed: int) -> None:
    assert farthest(looked_at(closed(45, seed, n_founders=6, generation=10), seed=seed)) < 1e-9


def test_a_thousand() -> None:
    assert farthest(looked_at(ordinary(1000, 5), seed=5)) < 1e-9
