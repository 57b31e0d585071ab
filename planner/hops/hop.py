"""What a hop is: a start star, legs from star to star, and how it lands on the target."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Means(Enum):
    """What one looks through on the way."""

    FINDER = "finder"
    POINTER = "pointer"  # a sight without power
    EYEPIECE = "eyepiece"  # the lowest power, where the kit has no finder
    NOTHING = "nothing"  # by height and direction alone


@dataclass(frozen=True, slots=True)
class Stop:
    """A place on the way: ICRS in degrees; ``name`` is empty for an unnamed star.

    ``v_mag`` is None for the target itself, the last stop.
    """

    ra_deg: float
    dec_deg: float
    name: str = ""
    v_mag: float | None = None


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg to ``to``: its length in degrees and as a share of the field, and where to.

    Clock hours 0..12, 12 towards the zenith: in the sky, and in the image of what one looks
    through (None where nothing is known of it, or it has none).
    """

    to: Stop
    length_deg: float
    share: float
    sky_hour: float
    image_hour: float | None


@dataclass(frozen=True, slots=True)
class Hop:
    """The way to a target at one minute.

    ``start`` is None where no sound way was found: then height and direction are all.
    The last leg ends on the target. With ``line_share`` the first leg is a line to sight along:
    the target lies on it so many times its length from ``start``. ``sweep`` tells that no landmark
    stands within a quarter of the field of it. ``bare_eye`` and ``in_finder`` tell that the target
    itself shows there. ``altitude_deg`` (without the air's lift) and ``azimuth_deg`` (from north
    through east) are the target's.
    """

    means: Means
    instrument: str
    field_deg: float
    altitude_deg: float
    azimuth_deg: float
    start: Stop | None = None
    legs: tuple[Leg, ...] = ()
    line_share: float | None = None
    sweep: bool = False
    bare_eye: bool = False
    in_finder: bool = False
