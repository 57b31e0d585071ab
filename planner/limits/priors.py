"""The four settings that a log can teach, and what is believed of them beforehand."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

TILT_SD = 0.08  # own judgement; the share of motion followed
HANDICAP_SD_MAG = 0.5  # own judgement; an unequal companion
EYE_SD = 0.25  # own judgement; natural logarithm of the eye's factor over the kit's
SEEING_SD = 0.35  # own judgement; natural logarithm of the usual seeing over the kit's
TILT_RANGE = (0.5, 1.0)  # the prior is cut there: an eye follows half of the motion, or all of it


class Own(IntEnum):
    """The settings, by their column in every array of them."""

    TILT = 0
    HANDICAP = 1
    EYE = 2
    SEEING = 3


@dataclass(frozen=True, slots=True)
class Prior:
    """Independent normals (4,), columns by ``Own``; the share of motion is cut to its range.

    The eye's column is the natural logarithm of its factor over the kit's, the seeing's that of
    the usual zenith seeing in arcsec.
    """

    mean: Floats
    sd: Floats

    def values(self, units: Floats) -> Floats:
        """Settings (K, 4) from standard units (K, 4)."""
        return np.asarray(self.mean + self.sd * units)

    def log_density(self, units: Floats) -> Floats:
        """Log density (K,) up to a constant; minus infinity beyond the range."""
        tilt = self.values(units)[:, Own.TILT]
        inside = (tilt >= TILT_RANGE[0]) & (tilt <= TILT_RANGE[1])
        return np.where(inside, -0.5 * (units**2).sum(axis=1), -np.inf)


def prior_of(setup: Setup) -> Prior:
    """The prior about the kit's own values."""
    settings = setup.settings
    mean = [
        settings.tilt_followed, settings.companion_handicap_mag, 0.0, np.log(setup.seeing_arcsec)
    ]  # fmt: skip
    return Prior(np.array(mean), np.array([TILT_SD, HANDICAP_SD_MAG, EYE_SD, SEEING_SD]))
