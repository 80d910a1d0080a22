"""The days that are foretold, beside a textbook, another way of the same model, and printed figures."""

import numpy as np
import pytest
from scipy.stats import multivariate_normal, norm

from sitegen.content.intervals import Interval
from sitegen.year.due import Normal, foretold


def interval(usual: int, spread: int, worth: int) -> Interval:
    return Interval(usual=usual, spread=spread, worth=worth)


@pytest.mark.parametrize(
    ("days", "usual", "spread", "worth"), [((70, 72, 69), 62, 3, 1), ((50,), 62, 5, 4), ((60,) * 20, 62, 2, 2)]
)
def test_conjugate_mean_of_known_variance(days: tuple[int, ...], usual: int, spread: int, worth: int) -> None:
    """Gelman and others, Bayesian Data Analysis (third edition, from memory), equations 2.11 and 2.12.

    The posterior mean weighs prior mean and data mean by their precisions, 1 / tau^2 and n / sigma^2; a new value has
    the variance sigma^2 + tau_n^2.
    """
    sigma2 = spread**2
    tau2 = sigma2 / worth
    n, mean = len(days), sum(days) / len(days)
    precision = 1 / tau2 + n / sigma2
    expected = (usual / tau2 + n * mean / sigma2) / precision
    for own, others in ((list(days), []), ([], [[each] for each in days])):
        found = foretold(interval(usual, spread, worth), own, others, between=0)
        assert found.mean == pytest.approx(expected)
        assert found.variance == pytest.approx(sigma2 + 1 / precision)


def test_nothing_but_the_species_figure() -> None:
    found = foretold(interval(62, 3, 2), [], [])
    assert (found.mean, found.variance) == pytest.approx((62, 3**2 * (1 + 1 / 2)))


@pytest.mark.parametrize("between", [0, 0.25, 0.6])
@pytest.mark.parametrize(
    ("own", "others"),
    [([], [[60, 62], [58]]), ([66, 67], []), ([66, 65, 68], [[60, 62, 61], [58], [63, 59]]), ([61], [[70]])],
)
def test_conditioning_of_one_large_normal(own: list[int], others: list[list[int]], between: float) -> None:
    """All litters together are one normal vector; the next one given the others is that of NumPy's linear algebra."""
    figures = interval(62, 3, 2)
    dams = [0] * (len(own) + 1) + [1 + at for at, days in enumerate(others) for _ in days]
    same = np.array([[a == b for b in dams] for a in dams], float)
    cov = 9 * ((1 - between) * np.eye(len(dams)) + between * same + 1 / figures.worth)
    assert multivariate_normal(np.full(len(dams), 62.0), cov).logpdf(np.full(len(dams), 62.0)) < 0  # it is one
    seen = np.array([*own, *(each for days in others for each in days)], float)
    gain = np.linalg.solve(cov[1:, 1:], cov[1:, 0])
    found = foretold(figures, own, others, between)
    assert found.mean == pytest.approx(62 + gain @ (seen - 62))
    assert found.variance == pytest.approx(cov[0, 0] - gain @ cov[1:, 0])


@pytest.mark.parametrize(("mean", "sd"), [(62, 3.0), (61.4, 5.5), (120.5, 12), (45, 20)])
def test_the_window_is_the_middle_80_in_100(mean: float, sd: float) -> None:
    first, last = Normal(mean, sd**2).days()
    low, high = norm(mean, sd).interval(0.8)
    assert abs(first - 0.5 - low) <= 0.5
    assert abs(last + 0.5 - high) <= 0.5
