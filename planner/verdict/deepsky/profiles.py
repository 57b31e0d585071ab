"""How the light of galaxies, nebulae and globular clusters falls off, by kind and type."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import Profile, Sizes
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from planner.targets.deepsky import DeepSky

SMALLEST_ARCMIN = 0.05  # an object without a size is taken as a point of this diameter
EDGE_ON_BELOW = 0.3  # minor over major axis; own judgement
_STEEP = re.compile(r"E|S(?:AB|B|A)?0(?!-a)")
LIT_FROM_INSIDE = ("emission", "cluster-with-nebula")  # brightest around its stars; own judgement
_SPIRAL = re.compile(r"S(?:AB|B|A)?(0-a|ab|a|bc|b|cd|c)")
_DWARF_OR_IRREGULAR = re.compile(r"d|I|S(?:AB|B|A)?(?:dm|d|m)")
_AMORPHOUS = "I0"  # like M 82: no arms, a bright middle
_BY_STAGE = {
    "0-a": Profile.STRONG_BULGE, "a": Profile.STRONG_BULGE, "ab": Profile.STRONG_BULGE,
    "b": Profile.BULGE, "bc": Profile.BULGE, "c": Profile.WEAK_BULGE,
    "cd": Profile.EXPONENTIAL_DISC,
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
    stars_inside &= np.isnan(objects.bright_v_mag)
    return np.asarray((objects.kind == Kind.OPEN_CLUSTER) | stars_inside)


def profile_of(objects: DeepSky) -> NDArray[np.object_]:
    """The brightness profile of each object (N,), taken as a whole.

    Nebulae fade outward, those lit from inside around a brighter middle. Galaxies go by stage
    in Hubble's order: dwarf ellipticals (``dE``) fade like discs (Faber & Lin 1983, ApJ 266,
    L17, from memory), a spiral seen edge-on shows half of its bulge.
    """
    sizes = object_sizes(objects)
    edge_on = sizes.minor_arcmin < EDGE_ON_BELOW * sizes.major_arcmin
    galaxy = objects.kind == Kind.GALAXY
    lit = (objects.kind == Kind.NEBULA) & np.isin(objects.nebula_type, LIT_FROM_INSIDE)
    profiles = np.full(len(objects), Profile.UNIFORM, dtype=object)
    profiles[objects.kind == Kind.GLOBULAR_CLUSTER] = Profile.GLOBULAR
    profiles[objects.kind == Kind.NEBULA] = Profile.EXPONENTIAL_DISC
    profiles[lit] = Profile.WEAK_BULGE
    for rows, seen_edge_on in ((galaxy & ~edge_on, False), (galaxy & edge_on, True)):
        rule = partial(_galaxy_profile, edge_on=seen_edge_on)
        profiles[rows] = _of_each(objects.hubble_type[rows], rule)
    return profiles


def has_type(objects: DeepSky) -> NDArray[np.bool_]:
    """Which objects (N,) have a Hubble type that says how their light falls off."""
    kinds = (_STEEP, _SPIRAL, _DWARF_OR_IRREGULAR)
    return _of_each(objects.hubble_type, lambda t: any(k.match(t) for k in kinds)).astype(bool)


def _of_each(texts: NDArray[np.object_], rule: Callable[[str], object]) -> NDArray[np.object_]:
    """What a rule makes of each text, worked out once for each that occurs."""
    known, place = np.unique(texts.astype(str), return_inverse=True)
    return np.array([rule(str(text)) for text in known], dtype=object)[place]


def _galaxy_profile(hubble_type: str, edge_on: bool) -> Profile:
    if _STEEP.match(hubble_type):
        return Profile.STEEP
    if hubble_type == _AMORPHOUS:
        return Profile.STRONG_BULGE
    spiral = _SPIRAL.match(hubble_type)
    if spiral is None:
        return Profile.EXPONENTIAL_DISC
    profile = _BY_STAGE[spiral[1]]
    return _SEEN_EDGE_ON.get(profile, profile) if edge_on else profile
