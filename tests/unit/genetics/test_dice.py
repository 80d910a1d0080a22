"""Words are the same everywhere, streams differ, and choices have the chances that their weights say."""

import hashlib
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.genetics.dice import CERTAIN, Dice, pick, thresholds

WEIGHTS = st.lists(st.one_of(st.integers(0, 5), st.integers(0, 2**900)), min_size=1, max_size=9).filter(any)


def test_the_words_of_a_stream_never_change() -> None:
    # Recorded with numpy 2.4.6. Whoever changes them changes every number that was ever drawn and published.
    assert Dice(0).words((), 4).tolist() == [149215387, 49592932, 2628306354, 1037445899]
    words = Dice(2026).words((1, 2, 3, 4), 10_001)
    assert (
        hashlib.sha256(words.astype("<u4").tobytes()).hexdigest()
        == "de453ed5ce38c30c2a1a5a9815fd4c8ed06417e21ac42dba11132b1bb2e7ec0f"
    )


def test_the_words_are_those_of_philox_as_published() -> None:
    # Random123, kat_vectors: philox4x64 10 rounds, counter 0 and key 0 give these four. numpy begins at counter 1, so
    # the round is written out here, and held to the published vector and to numpy.
    published = [0x16554D9ECA36314C, 0xDB20FE9D672D0FDC, 0xD7E772CEE186176B, 0x7E68B68AEC7BA23B]
    assert philox([0, 0, 0, 0], [0, 0]) == published
    name = sum((number + 1) << (16 * place) for place, number in enumerate((7, 0, 65534)))
    raw = philox([1, 0, 0, 0], [42, name]) + philox([2, 0, 0, 0], [42, name])
    expected = [half for whole in raw for half in (whole % 2**32, whole >> 32)]
    assert Dice(42).words((7, 0, 65534), 16).tolist() == expected


def philox(counter: list[int], key: list[int]) -> list[int]:
    for _ in range(10):
        low, high = counter[0] * 0xD2E7470EE14C6C93, counter[2] * 0xCA5A826395121157
        counter = [(high >> 64) ^ counter[1] ^ key[0], high % 2**64, (low >> 64) ^ counter[3] ^ key[1], low % 2**64]
        key = [(key[0] + 0x9E3779B97F4A7C15) % 2**64, (key[1] + 0xBB67AE8584CAA73B) % 2**64]
    return counter


def test_the_highest_word_is_below_what_stands_for_certainty(monkeypatch: pytest.MonkeyPatch) -> None:
    class AllOnes:
        def __init__(self, **_: object) -> None:
            pass

        def random_raw(self, n: int) -> np.ndarray:
            return np.full(n, 2**64 - 1, np.uint64)

    monkeypatch.setattr("numpy.random.Philox", AllOnes)
    words = Dice(0).words((), 3)
    assert words.tolist() == [CERTAIN - 1] * 3
    assert pick(np.array([thresholds([1, 0])], np.uint32), np.zeros(3, np.intp), words).tolist() == [0] * 3


def test_lanes_are_streams_of_their_own() -> None:
    assert len({tuple(Dice(1).words((2,), 4, lane).tolist()) for lane in (0, 1, 2, 2**32 - 1)}) == 4
    assert Dice(1).words((2,), 8, 1).tolist() != Dice(1).words((2,), 16)[8:].tolist()


def test_fewer_words_are_the_first_of_more() -> None:
    more = Dice(3).words((5, 1), 101)
    for n in (0, 1, 2, 3, 100):
        assert Dice(3).words((5, 1), n).tolist() == more[:n].tolist()


def test_words_that_are_passed_over_are_those_before() -> None:
    whole = Dice(1).words((3,), 100, 2)
    assert (Dice(1).words((3,), 60, 2, after=40) == whole[40:]).all()
    with pytest.raises(ValueError, match="multiple"):
        Dice(1).words((3,), 60, after=4)


def test_every_name_is_a_stream_of_its_own() -> None:
    names = [name for length in range(5) for name in product((0, 1, 65534), repeat=length)]
    firsts = {tuple(Dice(seed).words(name, 4).tolist()) for name in names for seed in (0, 1, 2**64 - 1)}
    assert len(firsts) == 3 * len(names)


@pytest.mark.parametrize("stream", [(-1,), (65535,), (0, 0, 0, 0, 0)])
def test_what_would_be_another_stream_is_refused(stream: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="names no stream"):
        Dice(0).words(stream, 1)


@pytest.mark.parametrize("seed", [-1, 2**64])
def test_what_would_be_another_seed_is_refused(seed: int) -> None:
    with pytest.raises(ValueError, match="no seed"):
        Dice(seed).words((), 1)


@given(WEIGHTS)
def test_thresholds_part_the_words_by_the_weights(weights: list[int]) -> None:
    found = thresholds(weights)
    assert found[-1] == CERTAIN
    for value, weight in enumerate(weights):
        width = found[value] - (found[value - 1] if value else 0)
        # off by less than one word: in whole numbers, since the weights may be longer than any float
        assert abs(width * sum(weights) - weight * CERTAIN) < sum(weights)
        assert width == 0 or weight
        assert width == CERTAIN or weight < sum(weights)


@given(st.lists(WEIGHTS, min_size=1, max_size=6), st.randoms(use_true_random=False))
def test_picked_is_what_the_thresholds_say(rows: list[list[int]], random) -> None:
    width = max(map(len, rows))
    plain = [[*thresholds(row), *[CERTAIN] * (width - len(row))] for row in rows]
    which = [random.randrange(len(rows)) for _ in range(50)]
    edges = [edge for row in plain for edge in (row[0] - 1, row[0], row[-1] - 1) if 0 <= edge < CERTAIN]
    words = [random.choice([0, CERTAIN - 1, random.randrange(CERTAIN), *edges]) for _ in which]
    expected = [
        next(v for v, edge in enumerate(plain[row]) if word < edge) for row, word in zip(which, words, strict=True)
    ]
    table, drawn = np.array(plain, dtype=np.uint32), np.array(words, dtype=np.uint32)
    assert pick(table, np.array(which), drawn).tolist() == expected
    first = [next(v for v, edge in enumerate(plain[0]) if word < edge) for word in words]
    assert pick(table, None, drawn).tolist() == first
    for row, found in zip(which, expected, strict=True):
        assert rows[row][found]


def test_more_than_256_values_are_told_apart() -> None:
    table = np.array([thresholds([1] * 300)] * 2, dtype=np.uint32)
    words = np.array([CERTAIN - 1, 0], dtype=np.uint32)
    assert pick(table, np.array([1, 0]), words).tolist() == pick(table, None, words).tolist() == [299, 0]
