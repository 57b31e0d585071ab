"""The telescope at each altitude: the eyepiece's height, the hand's force, what tips it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.tube.balance import GRAVITY_M_S2, MM_PER_M, torque_nm
from planner.tube.bearing import hand_pull, turning_force_n
from planner.tube.loading import degrees_up_to

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.optics.stand import Stand
    from planner.optics.telescope import Telescope
    from planner.tube.balance import Load
    from planner.tube.loading import Turning
    from planner.tube.rig import Base, Cradle, Rig

    Floats = NDArray[np.float64]

ALTITUDE_STEP_DEG = 15.0
LEAST_ARM_MM = 50.0  # nearer to the axis no hand moves a tube: own judgement
GRASP_MM = 20.0  # nearer to the upright axis no hand turns a mount: own judgement
_COLUMNS = ("height_mm", "torque_nm", "raise_n", "lower_n", "turn_n", "push_n")


@dataclass(frozen=True, slots=True)
class Attitude:
    """The telescope at one altitude, loaded as heavily as the kit tells; None for not known.

    Forces in N that raise and lower the eyepiece across the tube, ``raise_n`` and ``lower_n``,
    below 0 where it goes by itself; ``turn_n`` level to the side, infinite above the upright axis;
    ``push_n`` the level push that tips it over. ``height_mm`` of the eyepiece above the ground.
    """

    altitude_deg: float
    height_mm: float | None
    torque_nm: float | None
    raise_n: float | None
    lower_n: float | None
    turn_n: float | None
    push_n: float | None


@dataclass(frozen=True, slots=True)
class Standing:
    """What tips it over: the feet's nearest side, the least weight on the eyepiece that does, N.

    ``slides_below`` is the friction of the ground under which a push at the eyepiece slides it
    first at every altitude; ``mass_kg`` all that stands there. ``weight_n`` is infinite where the
    eyepiece never comes out over the feet.
    """

    mass_kg: float
    side_mm: float
    weight_n: float
    slides_below: float


@dataclass(frozen=True, slots=True)
class _Whole:
    """A loaded tube in its cradle on its base, its eyepiece placed by the telescope's stand."""

    turned: Turning
    cradle: Cradle
    base: Base
    stand: Stand

    @property
    def carried_kg(self) -> float:
        return self.turned.loading.load.mass_kg + self.cradle.axis.mass_kg

    @property
    def mass_kg(self) -> float:
        return self.carried_kg + self.base.mass_kg

    def shift_mm(self, altitude_deg: Floats) -> Floats:
        """How far the balance point of all stands before the upright axis, below 0 behind it."""
        torque = torque_nm(self.turned.loading.load, self.cradle.axis, altitude_deg)
        return np.asarray(torque * MM_PER_M / (self.mass_kg * GRAVITY_M_S2))

    def columns(self, altitude_deg: Floats) -> dict[str, Floats]:
        """Force to turn it and push that tips it, where bearing and feet are told."""
        found = {}
        if self.base.bearing is not None:
            out = self.stand.eyepiece_out_mm(altitude_deg)
            hold = self.base.bearing.hold_nm(self.carried_kg + self.base.turning_kg)
            found["turn_n"] = turning_force_n(hold, np.where(out >= GRASP_MM, out, 0.0))
        if self.base.footing is not None:
            height = self.stand.eyepiece_height_mm(altitude_deg)
            shift = self.shift_mm(altitude_deg)
            found["push_n"] = self.base.footing.tipping_push_n(self.mass_kg, height, shift)
        return found


def _whole(telescope: Telescope, rig: Rig, turned: Turning | None) -> _Whole | None:
    if turned is None or rig.cradle is None or rig.base is None or telescope.stand is None:
        return None
    return _Whole(turned, rig.cradle, rig.base, telescope.stand)


def attitudes(
    telescope: Telescope, rig: Rig, turned: Turning | None, place: Load | None
) -> tuple[Attitude, ...]:
    """Altitudes by steps up to the highest, with all that is known; none where nothing is."""
    top = telescope.greatest_altitude_deg
    altitude = np.append(np.arange(0.0, top, ALTITUDE_STEP_DEG), top)
    known: dict[str, Floats] = {}
    if telescope.stand is not None:
        known["height_mm"] = telescope.stand.eyepiece_height_mm(altitude)
    if turned is not None and rig.cradle is not None:
        torque = torque_nm(turned.loading.load, rig.cradle.axis, altitude)
        known["torque_nm"] = torque
        arm = 0.0 if place is None else place.along_mm - rig.cradle.axis.along_mm
        if turned.hold_nm is not None and abs(arm) >= LEAST_ARM_MM:
            pull = hand_pull(turned.hold_nm, torque, arm)
            known["raise_n"], known["lower_n"] = pull.raising_n, pull.lowering_n
    whole = _whole(telescope, rig, turned)
    if whole is not None:
        known |= whole.columns(altitude)
    if not known:
        return ()
    return tuple(
        Attitude(float(deg), *(_value(known.get(name), row) for name in _COLUMNS))
        for row, deg in enumerate(altitude)
    )


def _value(values: Floats | None, row: int) -> float | None:
    return None if values is None else float(values[row])


def standing(telescope: Telescope, rig: Rig, turned: Turning | None) -> Standing | None:
    """How firmly it stands; None where feet, tube or the eyepiece's place are not told."""
    whole = _whole(telescope, rig, turned)
    if whole is None or whole.base.footing is None:
        return None
    altitude = degrees_up_to(telescope.greatest_altitude_deg)
    shift, footing = whole.shift_mm(altitude), whole.base.footing
    height = whole.stand.eyepiece_height_mm(altitude)
    weight = footing.tipping_weight_n(
        whole.mass_kg,
        whole.stand.eyepiece_ahead_mm(altitude),
        whole.stand.eyepiece_aside_mm,
        shift,
    )
    return Standing(
        mass_kg=whole.mass_kg,
        side_mm=footing.side_mm,
        weight_n=float(weight.min()),
        slides_below=float(footing.slides_below(height, shift).min()),
    )
