"""Who gets to the eyepiece, and how they stand there, at every minute of a session."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.night.evening.posture import Posture, postures

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.eye.observer import Companion, Observer
    from planner.night.evening.session import Session
    from planner.optics.telescope import Telescope

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """For K targets and T minutes, (K, T): height of the eyepiece, posture, whether all reach it.

    The height is NaN where the kit does not tell the mount's axis; then everybody reaches
    everything, standing.
    """

    height_mm: Floats
    posture: Ints
    reached: Bools


def reach_of(
    telescope: Telescope,
    observer: Observer,
    companions: tuple[Companion, ...],
    session: Session,
    altitude_deg: Floats,
) -> Reach:
    """The reach for altitudes (K, moments of the night's grid)."""
    altitude = session.of_night(altitude_deg)
    everywhere = np.ones(altitude.shape, dtype=bool)
    standing = np.full(altitude.shape, Posture.STANDING, dtype=np.int64)
    if telescope.stand is None:
        return Reach(np.full(altitude.shape, np.nan), standing, everywhere)
    height = telescope.stand.eyepiece_height_mm(altitude)
    eyes = [person.eye_height_mm for person in companions]
    own = observer.eye_height_mm
    if own is not None:
        eyes.append(own)
    reached = everywhere & (height <= min(eyes, default=np.inf) + observer.step_mm)
    posture = standing if own is None else postures(height, own)
    return Reach(height, posture, np.asarray(reached))
