"""The transfer of detail against the Fourier transform of a drawn pupil."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from wave_samples import spherical

from planner.optics.figure import Figure, refocused_error, turned_edge
from planner.optics.image import annular_mtf, instrument_mtf

if TYPE_CHECKING:
    from numpy.typing import NDArray

SIDE = 1024  # points of the grid, twice the pupil and more: the copies do not overlap
ACROSS = 400  # points across the pupil
GRID_ERROR = 0.004  # one point of the rim in 400, and the hole's
ZONE = Figure(profile=((0.0, 0.0), (0.45, 0.02), (0.6, 0.21), (0.75, 0.03), (1.0, 0.1)))
STEPS = np.arange(0, ACROSS, 20)


def drawn_transfer(obstruction: float, figure: Figure) -> NDArray[np.float64]:
    """Real part of the transfer at STEPS/ACROSS of D/lambda: the image's own transform."""
    axis = (np.arange(SIDE) - SIDE / 2 + 0.5) / (ACROSS / 2)
    radius = np.hypot(axis[:, None], axis)
    open_area = (radius <= 1.0) & (radius >= obstruction)
    wave = np.zeros((SIDE, SIDE), dtype=complex)
    wave[open_area] = np.exp(2j * np.pi * refocused_error(figure, obstruction, radius[open_area]))
    image = np.abs(np.fft.fft2(wave)) ** 2
    transfer = np.fft.fft2(image)[0]
    return np.asarray((transfer / transfer[0]).real[STEPS])


@pytest.mark.parametrize("obstruction", [0.0, 0.2, 0.45])
def test_annular_mtf_agrees_with_a_fourier_transform(obstruction: float) -> None:
    found = annular_mtf(STEPS / ACROSS, obstruction)
    assert found == pytest.approx(drawn_transfer(obstruction, Figure()), abs=GRID_ERROR)


@pytest.mark.parametrize(
    ("figure", "obstruction"),
    [(spherical(0.6), 0.25), (turned_edge(0.2, 0.9), 0.3), (ZONE, 0.0)],
)
def test_instrument_mtf_agrees_with_a_fourier_transform(figure: Figure, obstruction: float) -> None:
    """Mapped errors in a whole pupil of 126,000 points, transformed twice by numpy."""
    found = instrument_mtf(STEPS / ACROSS, obstruction, figure)
    assert found == pytest.approx(drawn_transfer(obstruction, figure), abs=GRID_ERROR)
