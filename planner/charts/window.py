"""How one looks: the field of a chart, how it is turned, and how faint its stars are."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from planner.charts.scene import Pen
from planner.optics.turn import UPRIGHT
from planner.targets.stars import FAINTEST_STAR_MAG

if TYPE_CHECKING:
    from planner.optics.turn import Turn

# Own judgement: what a bare eye shows without crowding, and stars that a circle holds.
EYE_LIMIT_MAG, EYE_FIELD_DEG = 5.0, 40.0
MOST_STARS = {"eye": 140, "finder": 100, "telescope": 120}


@dataclass(frozen=True, slots=True)
class Window:
    """``wished_mag`` is the faintest star that shows there; fewer are drawn where they crowd.

    ``field_deg`` is the full width drawn, ``ring_deg`` the width of another field drawn as a
    ring (None for none). ``look`` is eye, finder or telescope.
    """

    look: str
    field_deg: float
    radius_pt: float
    wished_mag: float
    turn: Turn = UPRIGHT
    ring_deg: float | None = None
    title: str = ""

    @property
    def drawn_mag(self) -> float:
        """As faint as the star catalog goes."""
        return min(self.wished_mag, FAINTEST_STAR_MAG)

    @property
    def rim(self) -> Pen:
        """A field's own edge is a strong line, a cut-out of the sky a soft one."""
        own = self.look == "telescope" and self.ring_deg is None
        return Pen.RIM if own else Pen.SOFT_RIM

    @property
    def most_stars(self) -> int:
        """How many stars a circle of 80 points holds, more in a larger one."""
        return int(MOST_STARS[self.look] * max(1.0, (self.radius_pt / 80.0) ** 2))

    def made(self, field_deg: float) -> Window:
        """The same drawn so wide, an instrument's own field as a ring where it is narrower."""
        ring = self.field_deg if self.look == "telescope" else self.ring_deg
        return replace(self, field_deg=field_deg, ring_deg=ring)
