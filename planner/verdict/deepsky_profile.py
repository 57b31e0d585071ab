"""How the light of galaxies, nebulae and globular clusters falls off, by kind and type."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import Profile, Sizes
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.deepsky import DeepSky

    Ints = NDArray[np.intp]

SMALLEST_ARCMIN = 0.05  # an object without a size is taken as a point of this diameter
LIT_FROM_INSIDE = ("emission", "cluster-with-nebula")
DWARF_FROM_MAG = 22.2  # V per square arcsecond within the outline of a pale elliptical
EDGE_ON_BELOW = 0.3  # minor over major axis; own judgement
_STEEP = re.compile(r"E|S0(?!-a)")
_SPIRAL = re.compile(r"S(?:AB|B|A)?(0-a|ab|a|bc|b|cd|c)")
_BY_STAGE = {
    "0-a": Profile.STRONG_BULGE, "a": Profile.STRONG_BULGE, "ab": Profile.STRONG_BULGE,
    "b": Profile.BULGE, "bc": Profile.BULGE, "c": Profile.WEAK_BULGE, "cd": Profile.WEAK_BULGE,
}  # fmt: skip
_SEEN_EDGE_ON = {  # half of the bulge lies behind the disc's dust; own judgement
    Profile.STRONG_BULGE: Profile.BULGE,
    Profile.BULGE: Profile.WEAK_BULGE,
    Profile.WEAK_BULGE: Profile.EXPONENTIAL_DISC,
}


def object_sizes(objects: DeepSky) -> Sizes:
    """Axes with the gaps filled: a missing minor axis is the major one, no size a point."""
    major = np.where(np.isnan(objects.major_arcmin), SMALLEST_ARCMIN, objects.major_arcmin)
    minor = np.where(np.isnan(objects.minor_arcmin), major, objects.minor_arcmin)
    return Sizes(np.maximum(major, SMALLEST_ARCMIN), np.maximum(minor, SMALLEST_ARCMIN))


def seen_by_stars(objects: DeepSky) -> NDArray[np.bool_]:
    """Which objects (N,) are judged by their stars: open clusters, and nebulae of whose light
    the catalogue has nothing but that of the stars inside."""
    stars_inside = (objects.kind == Kind.NEBULA) & (objects.v_of == "stars")
    return np.asarray((objects.kind == Kind.OPEN_CLUSTER) | stars_inside)


def profile_rows(objects: DeepSky) -> dict[Profile, Ints]:
    """Which objects, those seen by their stars left out, follow which brightness profile.

    Globular clusters are steep; gas lit from inside is brightest around its stars. Galaxies go
    by their stage in Hubble's order; ellipticals and lenticulars whose mean surface brightness
    is below 22.2 are dwarfs, which fade like discs (Faber & Lin 1983, ApJ 266, L17, from
    memory); a spiral seen edge-on shows half of its bulge.
    """
    sizes = object_sizes(objects)
    area = 0.25 * np.pi * sizes.major_arcmin * sizes.minor_arcmin * 3600.0
    pale = objects.v_mag + 2.5 * np.log10(area) > DWARF_FROM_MAG
    edge_on = sizes.minor_arcmin < EDGE_ON_BELOW * sizes.major_arcmin
    profiles = np.array(
        [
            _galaxy_profile(objects.hubble_type[row], bool(pale[row]), bool(edge_on[row]))
            if kind is Kind.GALAXY
            else _profile(kind, objects.nebula_type[row])
            for row, kind in enumerate(objects.kind)
        ],
        dtype=object,
    )
    wanted = ~seen_by_stars(objects)
    return {profile: np.flatnonzero(wanted & (profiles == profile)) for profile in Profile}


def _profile(kind: Kind, nebula_type: str) -> Profile:
    if kind is Kind.GLOBULAR_CLUSTER:
        return Profile.STEEP
    if kind is Kind.NEBULA:
        return Profile.BULGE if nebula_type in LIT_FROM_INSIDE else Profile.EXPONENTIAL_DISC
    return Profile.UNIFORM


def _galaxy_profile(hubble_type: str, pale: bool, edge_on: bool) -> Profile:
    if _STEEP.match(hubble_type):
        return Profile.EXPONENTIAL_DISC if pale else Profile.STEEP
    spiral = _SPIRAL.match(hubble_type)
    if spiral is None:
        return Profile.EXPONENTIAL_DISC
    profile = _BY_STAGE[spiral[1]]
    return _SEEN_EDGE_ON[profile] if edge_on else profile
