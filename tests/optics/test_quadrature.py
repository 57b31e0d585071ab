"""The quadrature against numpy's own and against exact integrals."""

from __future__ import annotations

import numpy as np
import pytest

from planner.optics.quadrature import gauss_legendre

ROUNDING = 1e-12


@pytest.mark.parametrize("count", [2, 5, 96, 400])
def test_gauss_legendre_agrees_with_numpy(count: int) -> None:
    theirs_x, theirs_w = np.polynomial.legendre.leggauss(count)
    x, weights = gauss_legendre(count)
    assert np.allclose(x, theirs_x, rtol=0.0, atol=ROUNDING)
    assert np.allclose(weights, theirs_w, rtol=0.0, atol=ROUNDING)


@pytest.mark.parametrize("count", [3, 50])
def test_gauss_legendre_is_exact_for_polynomials(count: int) -> None:
    x, weights = gauss_legendre(count)
    for degree in range(2 * count):
        exact = 0.0 if degree % 2 else 2.0 / (degree + 1)
        assert weights @ x**degree == pytest.approx(exact, abs=ROUNDING)
