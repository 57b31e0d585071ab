"""Among which views the markings of the Moon and planets choose."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from planner.sky.seeing import line_of_sight_fwhm
from planner.verdict.powers import highest_up_to
from planner.verdict.scope.purpose import planets_powers

if TYPE_CHECKING:
    from planner.night.conditions import Conditions


def detail_views(conditions: Conditions, path: float) -> list[int]:
    """Numbers of the night's views that the telescope's report names for planets.

    In the seeing through that much air (airmass); where there is none, the highest below the most.
    """
    setup = conditions.setup
    there = replace(setup, seeing_arcsec=float(line_of_sight_fwhm(setup.seeing_arcsec, path)))
    wanted = planets_powers(there)
    powers = np.array([view.magnification for view in conditions.views])
    fit = np.flatnonzero((powers >= wanted.least) & (powers <= wanted.most))
    return [int(n) for n in fit] or [int(highest_up_to(powers, wanted.most))]
