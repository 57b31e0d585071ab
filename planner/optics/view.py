"""What an eyepiece, alone or behind a Barlow, makes of a telescope: one view."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import SIDEREAL_RATE_ARCSEC_PER_S
from planner.optics.eyepiece import Barlow, Eyepiece, goes_into
from planner.optics.telescope import Telescope

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True, slots=True)
class View:
    """One eyepiece, with or without a Barlow, in one telescope; a finder has no eyepiece."""

    name: str
    eyepiece: Eyepiece | None
    barlow: Barlow | None
    magnification: float
    exit_pupil_mm: float
    true_field_deg: float

    @property
    def field_is_measured(self) -> bool:
        """Whether the true field follows from a field stop, not from the apparent field."""
        return self.eyepiece is not None and self.eyepiece.field_stop_mm is not None

    @property
    def mass_kg(self) -> float | None:
        """Weight in the focuser, kg; None where the kit does not tell all of it."""
        glasses = [glass for glass in (self.eyepiece, self.barlow) if glass is not None]
        masses = [glass.mass_kg for glass in glasses if glass.mass_kg is not None]
        return sum(masses) if masses and len(masses) == len(glasses) else None


def magnification(
    telescope_focal_mm: float, eyepiece_focal_mm: float, barlow: float = 1.0
) -> float:
    """Angular magnification: the ratio of the focal lengths, times the Barlow's factor."""
    return telescope_focal_mm / eyepiece_focal_mm * barlow


def true_field_deg(telescope: Telescope, eyepiece: Eyepiece, barlow: float = 1.0) -> float:
    """True field in degrees: from the field stop where known, else apparent field over power.

    57.2958 field_stop / focal length. The second form is good to about a tenth, since
    eyepieces distort and makers round. Never wider than the focuser or the eyepiece's own
    barrel passes, whatever was said of the field.
    Source: common practice; Sidgwick 1971, Amateur Astronomer's Handbook (from memory).
    """
    focal = telescope.focal_length_mm * barlow
    widest = np.degrees(min(telescope.barrel_mm, eyepiece.barrel_mm) / focal)
    if eyepiece.field_stop_mm is not None:
        return float(min(np.degrees(eyepiece.field_stop_mm / focal), widest))
    power = magnification(telescope.focal_length_mm, eyepiece.focal_length_mm, barlow)
    return float(min(eyepiece.apparent_field_deg / power, widest))


def drift_s(field_deg: ArrayLike, declination_deg: ArrayLike = 0.0) -> NDArray[np.float64]:
    """Seconds a star takes to cross the middle of a field that stands still.

    ``t = field / (15.0411" cos declination)``; scalars or arrays, broadcast.
    """
    rate = SIDEREAL_RATE_ARCSEC_PER_S * np.cos(np.radians(np.asarray(declination_deg, dtype=float)))
    return np.asarray(np.asarray(field_deg, dtype=float) * 3600.0 / rate)


def view(telescope: Telescope, eyepiece: Eyepiece, barlow: Barlow | None = None) -> View:
    """The view of one combination."""
    factor = barlow.factor if barlow else 1.0
    power = magnification(telescope.focal_length_mm, eyepiece.focal_length_mm, factor)
    return View(
        name=f"{eyepiece.name} + {barlow.name}" if barlow else eyepiece.name,
        eyepiece=eyepiece,
        barlow=barlow,
        magnification=power,
        exit_pupil_mm=telescope.clear_aperture_mm / power,
        true_field_deg=true_field_deg(telescope, eyepiece, factor),
    )


def all_views(
    telescope: Telescope, eyepieces: Sequence[Eyepiece], barlows: Sequence[Barlow] = ()
) -> tuple[View, ...]:
    """Every combination that can be put together, from the lowest power to the highest.

    Left out are eyepieces whose barrel does not go into their Barlow, and eyepieces and Barlows
    whose barrel does not go into the focuser.
    """
    usable = [b for b in barlows if goes_into(b.barrel_mm, telescope.barrel_mm)]
    fitting = [e for e in eyepieces if goes_into(e.barrel_mm, telescope.barrel_mm)]
    views = [view(telescope, e) for e in fitting]
    views += [
        view(telescope, e, b)
        for e in fitting
        for b in usable
        if goes_into(e.barrel_mm, b.barrel_mm)
    ]
    return tuple(sorted(views, key=lambda v: (v.magnification, v.name)))
