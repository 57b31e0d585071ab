"""A turned edge of the glass, and what a mask leaves of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.errors import ModelRangeError
from planner.optics.figure import best_focus_waves, strehl, wavefront_error
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope

GLASS = Telescope(
    "t", Design.NEWTONIAN, Mount.HAND_MOVED, 200.0, 200.0, 1200.0, 0.0,
    Glass(0.0, 2.0, 1.0), 0.79, 31.75,
)  # fmt: skip

# C2(u), S2(u) of Abramowitz & Stegun 1964, table 7.7, at u = 2 sqrt(waves): the mean of
# exp(2 pi i waves x^2) over a zone is (C2 + i S2) / u
FRESNEL = {2.0: (0.4882534, 0.3434157), 1.0: (0.7798934, 0.4382591)}
NARROW_ZONE = 0.004  # error of taking the zone's area as even, and what refocusing regains


def zone_strehl(zone_area: float, u: float) -> float:
    """Strehl ratio with a share of the area turned, from the tabulated integrals."""
    c, s = FRESNEL[u]
    return (1.0 - zone_area + zone_area * c / u) ** 2 + (zone_area * s / u) ** 2


def test_strehl_of_a_narrow_turned_edge_follows_the_fresnel_integrals() -> None:
    """1 wave at the rim, outer 2 % of the radius: u = 2."""
    expected = zone_strehl(1.0 - 0.98**2, 2.0)
    assert strehl(GLASS.figure, 0.0) == pytest.approx(expected, abs=NARROW_ZONE)


def test_mask_over_half_the_zone_leaves_a_quarter_of_the_depth() -> None:
    """A square law cut half-way: half the width, 1/4 wave at the new rim, u = 1."""
    masked = replace(GLASS, clear_aperture_mm=198.0)
    assert wavefront_error(masked.figure, 1.0) == pytest.approx(-0.25, abs=1e-9)
    expected = zone_strehl(1.0 - (98.0 / 99.0) ** 2, 1.0)
    assert strehl(masked.figure, 0.0) == pytest.approx(expected, abs=NARROW_ZONE)


def test_masked_figure_is_the_open_part_of_the_full_one() -> None:
    """Millimetre by millimetre; the points of the square law are 1/16 of the zone apart."""
    masked = replace(GLASS, clear_aperture_mm=197.0)
    radius_mm = np.linspace(0.0, 98.5, 400)
    full = wavefront_error(GLASS.figure, radius_mm / 100.0)
    straight_lines = 0.25 / 16**2 * 1.01  # deviation of a chord from the parabola
    assert np.allclose(wavefront_error(masked.figure, radius_mm / 98.5), full, atol=straight_lines)


def test_mask_over_the_whole_zone_leaves_a_good_edge() -> None:
    """Nothing of the zone is open: only the rest of the figure counts."""
    masked = replace(GLASS, clear_aperture_mm=196.0, glass=Glass(0.04, 2.0, 1.0))
    assert masked.figure.profile == ()
    assert masked.figure.rms_waves == 0.04
    assert replace(GLASS, glass=Glass(0.0, 2.0, 0.0)).figure.profile == ()


@pytest.mark.parametrize("width", [2.0, 8.0, 20.0])
@pytest.mark.parametrize("waves", [0.3, 1.0, 2.0])
def test_edges_allowed_have_their_best_focus_found(width: float, waves: float) -> None:
    """The search of the best focus meets the best of a search five times as wide.

    Bound: the deepest and widest edge allowed is the hardest case.
    """
    figure = replace(GLASS, glass=Glass(0.0, width, waves)).figure
    square = (np.arange(2000) + 0.5) / 2000
    phase = (
        wavefront_error(figure, np.sqrt(square)) - np.linspace(-4.0, 8.0, 1201)[:, None] * square
    )
    widest = np.abs(np.exp(2j * np.pi * phase).mean(axis=1)) ** 2
    assert strehl(figure, 0.0) >= widest.max() - 1e-4
    assert abs(best_focus_waves(figure, 0.0)) < 1.0


@pytest.mark.parametrize(
    ("glass", "words"),
    [
        (Glass(0.0, 21.0, 1.0), "a tenth of the aperture"),
        (Glass(0.0, -1.0, 1.0), "outside 0..20"),
        (Glass(0.0, 2.0, 2.5), "outside 0..2"),
        (Glass(0.0, 2.0, float("nan")), "outside 0..2"),
    ],
)
def test_telescope_rejects_an_edge_beyond_the_model(glass: Glass, words: str) -> None:
    """Named with its bound."""
    with pytest.raises(ModelRangeError, match=words):
        replace(GLASS, glass=glass)


def test_a_turned_edge_has_a_width_and_a_depth() -> None:
    """One without the other turns nothing."""
    assert Glass(0.05, 3.0, 0.5).has_turned_edge
    assert not Glass(0.05, 3.0, 0.0).has_turned_edge
    assert not Glass(0.05, 0.0, 0.5).has_turned_edge
