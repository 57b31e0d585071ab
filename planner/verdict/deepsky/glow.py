"""The light of each object that is seen as a glow: how much, over which part, how it falls off.

A nebula is judged by its bright part, which the eye sees first, wherever the table of bright parts
has one; everything else by its whole.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import Profile, Sizes
from planner.targets.kind import Kind
from planner.verdict.deepsky.likings import WISH_PROFILES, wishes
from planner.verdict.deepsky.profiles import object_sizes, profile_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky.likings import Wish

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

NEBULA_HANDICAP_MAG = 0.5  # catalogue magnitudes of diffuse nebulae run too bright; own judgement
# V mag/arcsec^2 of a white patch as bright to the night eye as 1 rayleigh of light at 500 nm:
# 1e6/4pi photons of 3.97e-19 J to the cm^2, s and sr, 1700 lm/W times V' = 0.98, and 1.08e5 cd/m^2
# for 0 mag/arcsec^2 with 2.0 scotopic lumens each. Source: CIE 1951 V', definitions; the 2.0, of
# light between the lamp's 1.4 and daylight's 2.5, is from memory.
RAYLEIGH_SURFACE_MAG = 29.0


@dataclass(frozen=True, slots=True, eq=False)
class Glow:
    """N objects, (N,): the light of the part judged, total V, and that part's outline.

    ``mag`` is what an eye without a filter sees; ``line_mag`` the light of H beta and O III alone,
    NaN where it is not known apart.
    """

    mag: Floats
    line_mag: Floats
    sizes: Sizes
    profile: NDArray[np.object_]
    wish: NDArray[np.object_]

    def rows(self, rows: Ints) -> Glow:
        """Some of the objects."""
        sizes = Sizes(self.sizes.major_arcmin[rows], self.sizes.minor_arcmin[rows])
        others = {f.name: getattr(self, f.name)[rows] for f in fields(self) if f.name != "sizes"}
        return Glow(sizes=sizes, **others)

    def table_rows(self) -> dict[tuple[Profile, Wish], Ints]:
        """Which objects follow which brightness profile and want which view."""
        return {
            (profile, wish): np.flatnonzero((self.profile == profile) & (self.wish == wish))
            for wish, profiles in WISH_PROFILES.items()
            for profile in profiles
        }


def has_bright_part(objects: DeepSky) -> Bools:
    """Which objects (N,) have a bright part of known light."""
    return ~np.isnan(objects.bright_v_mag) & ~np.isnan(objects.bright_major_arcmin)


def glow_of(objects: DeepSky) -> Glow:
    """What is seen of each object (N,) as a glow.

    A bright part counts as evenly lit, with the light of its lines where that is more to a
    night-adapted eye than its V magnitude says (a planetary's V is that of its lines as it is);
    the whole of a nebula without one is taken half a magnitude fainter than catalogued.
    Limits: bright parts are good to 0.5 mag, their lines to a factor of two.
    """
    part = has_bright_part(objects)
    whole = object_sizes(objects)
    minor = np.where(
        np.isnan(objects.bright_minor_arcmin),
        objects.bright_major_arcmin,
        objects.bright_minor_arcmin,
    )
    handicap = NEBULA_HANDICAP_MAG * (objects.kind == Kind.NEBULA)
    lines = _line_mag(objects.bright_lines_rayleigh, objects.bright_major_arcmin * minor)
    lines = np.where(objects.kind == Kind.NEBULA, lines, np.nan)
    return Glow(
        mag=np.where(part, np.fmin(objects.bright_v_mag, lines), objects.v_mag + handicap),
        line_mag=np.where(part, lines, np.nan),
        sizes=Sizes(
            np.where(part, objects.bright_major_arcmin, whole.major_arcmin),
            np.where(part, minor, whole.minor_arcmin),
        ),
        profile=np.where(part, np.array(Profile.UNIFORM, dtype=object), profile_of(objects)),
        wish=wishes(objects.kind),
    )


def _line_mag(rayleigh: Floats, axes_arcmin2: Floats) -> Floats:
    """Total magnitude of line light spread over an ellipse, by the product of its axes."""
    area_arcsec2 = 0.25 * np.pi * axes_arcmin2 * 3600.0
    known = np.where(rayleigh > 0.0, rayleigh, np.nan)
    return np.asarray(RAYLEIGH_SURFACE_MAG - 2.5 * np.log10(known * area_arcsec2))
