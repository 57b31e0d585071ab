"""How a view is turned against the sky as the bare eye sees it: exactly, where the kit tells."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin
from typing import TYPE_CHECKING

from planner.optics.telescope import Design, Diagonal

if TYPE_CHECKING:
    from planner.optics.telescope import Telescope

EYEPIECE_UP_DEG = 90.0  # how a star diagonal is used where nothing is said; common practice


@dataclass(frozen=True, slots=True)
class Turn:
    """``zenith_cw_deg``: where the zenith lies in the view, clockwise from up, the head upright.

    ``mirrored`` swaps left and right first. ``known`` is False where the place of the focuser is
    not told and 180 degrees are only the usual guess.
    """

    zenith_cw_deg: float
    mirrored: bool = False
    known: bool = True

    def seen(self, right: float, up: float) -> tuple[float, float]:
        """Where something right and up of the middle in the sky lies in the view."""
        across = -right if self.mirrored else right
        c, s = cos(radians(self.zenith_cw_deg)), sin(radians(self.zenith_cw_deg))
        return across * c + up * s, up * c - across * s


UPRIGHT = Turn(0.0)
IMAGE_TURNS = {"upright": UPRIGHT, "inverted": Turn(180.0), "mirrored": Turn(0.0, mirrored=True)}


def telescope_turn(telescope: Telescope, altitude_deg: float) -> Turn:
    """How a telescope pointed at an altitude turns the sky for an upright head.

    With the focuser (or the diagonal's eyepiece) at the angle f, seen along the tube: 0 right,
    90 on top, 180 left; altitude h. The zenith lies clockwise from up by
    ``atan2(a cos f, b sin f) - atan2(-cos f cos h, sin h)``, where (a, b) is (1, -1) for a
    Newtonian, (1, 1) for a mirror diagonal and (-1, 1) for an erecting one.
    Source: geometry of one and two reflections; the Newtonian's holds for rays traced through
    the flat (tests). Limits: a head held askew turns it as much again.
    """
    focuser = telescope.focuser_angle_deg
    if telescope.design is Design.NEWTONIAN:
        if focuser is None:
            return Turn(180.0, known=False)
        return Turn(_clockwise_deg(focuser, altitude_deg, (1.0, -1.0)))
    if telescope.diagonal is Diagonal.NONE:
        return Turn(180.0)
    mirror = telescope.diagonal is Diagonal.MIRROR
    place = EYEPIECE_UP_DEG if focuser is None else focuser
    signs = (1.0, 1.0) if mirror else (-1.0, 1.0)
    return Turn(_clockwise_deg(place, altitude_deg, signs), mirrored=mirror)


def _clockwise_deg(focuser_deg: float, altitude_deg: float, signs: tuple[float, float]) -> float:
    f, h = radians(focuser_deg), radians(altitude_deg)
    image = atan2(signs[0] * cos(f), signs[1] * sin(f))
    head = atan2(-cos(f) * cos(h), sin(h))
    turn = degrees(image - head) % 360.0
    return 0.0 if abs(turn - 360.0) < 1e-9 else turn
