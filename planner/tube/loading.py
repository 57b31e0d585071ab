"""Everything the tube may carry at one time, and where that leaves its balance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.stand import USUAL_REACH
from planner.tube.balance import Load, together, torque_nm
from planner.tube.bearing import change_that_holds_kg
from planner.tube.rig import Role

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.tube.rig import Cradle, Rig

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Loading:
    """One way to load the tube: a view in the focuser or none, a loose part left off or none.

    ``load`` is the whole tube so loaded, without its cradle, ``glass_kg`` what of it is in the
    focuser.
    """

    view: str | None
    without: str | None
    load: Load
    glass_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Turning:
    """What a loading does about the altitude axis.

    ``slide_mm`` is how far to move the tube in its cradle for balance when level, above 0 towards
    the mirror's end. ``torque_nm`` has one value for each altitude of ``altitude_deg``, above 0
    with the front heavy. What needs a bearing is None without one: ``hold_nm``, and the mass in
    kg ``more_kg`` that may still come into the focuser, ``less_kg`` that may go from it, at most
    what is in it.
    """

    loading: Loading
    slide_mm: float
    altitude_deg: Floats
    torque_nm: Floats
    hold_nm: float | None = None
    more_kg: float | None = None
    less_kg: float | None = None

    def drifting(self, *, down: bool) -> tuple[float, float] | None:
        """Lowest and highest altitude at which the tube goes by itself, down or up; or None."""
        if self.hold_nm is None:
            return None
        sign = 1.0 if down else -1.0
        where = self.altitude_deg[sign * self.torque_nm > self.hold_nm]
        return (float(where.min()), float(where.max())) if where.size else None

    @property
    def stays(self) -> bool:
        """Whether friction holds the tube at every altitude; true where it is not known."""
        return self.drifting(down=True) is None and self.drifting(down=False) is None


def focuser_place(telescope: Telescope, rig: Rig) -> Load | None:
    """Where eyepieces hang, as a load without mass; None where the kit does not tell.

    Along from the part that is the focuser, else from the axis and the telescope's
    ``pivot_to_focuser``; above from the focuser's reach and angle.
    """
    stand = telescope.stand
    reach = stand.focuser_reach_mm if stand else USUAL_REACH * telescope.aperture_mm
    above = reach * float(np.sin(np.radians(telescope.focuser_angle_deg or 0.0)))
    focusers = [part.load.along_mm for part in rig.parts if part.role is Role.FOCUSER]
    if focusers:
        return Load(0.0, focusers[0], above)
    if rig.cradle is not None and stand is not None:
        return Load(0.0, rig.cradle.axis.along_mm + stand.pivot_to_focuser_mm, above)
    return None


def loadings(telescope: Telescope, rig: Rig, views: Sequence[View]) -> tuple[Loading, ...]:
    """Empty, then with each view of known mass by mass, then without each loose part.

    A loose part is left off beside the empty focuser, the lightest front there is. None at all
    without parts.
    """
    if not rig.parts:
        return ()
    whole = [part.load for part in rig.parts]
    found = [Loading(None, None, together(whole))]
    place = focuser_place(telescope, rig)
    if place is not None:
        weighed = [(view.mass_kg, view.name) for view in views if view.mass_kg is not None]
        for mass, name in sorted(weighed):
            glass = Load(mass, place.along_mm, place.above_mm)
            found.append(Loading(name, None, together([*whole, glass]), mass))
    for part in rig.parts:
        rest = [other.load for other in rig.parts if other is not part]
        if part.role is Role.LOOSE and sum(load.mass_kg for load in rest) > 0.0:
            found.append(Loading(None, part.name, together(rest)))
    return tuple(found)


def turning(
    loading: Loading, cradle: Cradle, place: Load | None, greatest_altitude_deg: float
) -> Turning:
    """The balance of one loading about the cradle's axis, from level up to an altitude."""
    altitude = degrees_up_to(greatest_altitude_deg)
    torque = torque_nm(loading.load, cradle.axis, altitude)
    slide = loading.load.along_mm - cradle.axis.along_mm
    if cradle.bearing is None:
        return Turning(loading, slide, altitude, torque)
    each = cradle.bearing.hold_nm_per_kg
    hold = each * (loading.load.mass_kg + cradle.axis.mass_kg)
    more = less = None
    if place is not None:
        one_kg = torque_nm(Load(1.0, place.along_mm, place.above_mm), cradle.axis, altitude)
        more, less = change_that_holds_kg(hold, torque, one_kg, each)
        less = min(less, loading.glass_kg)
    return Turning(loading, slide, altitude, torque, hold, more, less)


def degrees_up_to(greatest_altitude_deg: float) -> Floats:
    """Every whole degree from level on, and the greatest altitude itself."""
    return np.append(np.arange(0.0, greatest_altitude_deg, 1.0), greatest_altitude_deg)
