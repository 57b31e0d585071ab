"""What features of the Moon look like in tonight's light: relief by its shadows, seas by shade.

Slopes and contrasts are own estimates, so a margin is good to a factor of 1.5, as for planets.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.verdict.bodies.features import Marking, Shape
from planner.verdict.bodies.moon_light import feature_height_km

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.lunar_features import LunarFeatures
    from planner.verdict.bodies.moon_light import MoonLight

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

LOWEST_SUN_DEG = 0.3  # lower the ground itself is lost in the dark; own judgement
RELIEF_SUN_DEG = 15.0  # a higher Sun leaves no shadows to speak of; common practice, no source
HIGH_SUN_DEG = 20.0  # from which seas and bright patches stand out; own judgement
EDGE_DEG = 80.0  # from the middle of the disc; further out all is foreshortened; own judgement
CRATER_CONTRAST = 0.8  # of a crater's dark and lit halves at low Sun; own judgement
RILLE_CONTRAST = 1.0  # of a rille's two walls at low Sun; own judgement
SHADOW_CONTRAST = -0.8  # of a shadow thrown on a plain; own judgement
SEA_CONTRAST = -0.3  # of a sea against the highland; own judgement
PATCH_CONTRAST = 0.2  # of a bright patch against the plain; own judgement
BRIGHT_SCARP = 0.3  # a slope that faces the Sun, against the plain; own judgement
WALL_DEG = 25.0  # slope of the walls of craters and rilles; own judgement
DOME_DEG = 2.5  # slope of a dome; own judgement
RIDGE_DEG = 4.0  # slope of a ridge; own judgement
SCARP_DEG = 20.0  # slope of a scarp; own judgement
_USUAL_WIDTH_KM = {"rille": 1.5, "ridge": 4.0, "scarp": 3.0, "valley": 10.0, "chain": 2.0}
_USUAL_HEIGHT_KM = 1.5  # of mountains without a typed one; own judgement
# Scarps that drop towards the east, so that the morning Sun lights them; from memory.
_EAST_FACING = frozenset({"Rupes Altai", "Rupes Liebig", "Rupes Mercator"})
_SMOOTH = frozenset({"rille", "dome", "ridge", "scarp", "mountain", "mountains", "cape"})


class LightKind(Enum):
    """How a kind of feature wants its light."""

    PIT = auto()  # shadow inside
    CUT = auto()  # one wall dark, one lit
    SWELL = auto()  # low slopes: only a very low Sun
    STEP = auto()  # a line of shadow or of light
    PEAK = auto()  # throws a shadow
    SHADE = auto()  # dark or bright ground: a high Sun


LIGHT_KINDS = {
    "crater": LightKind.PIT, "chain": LightKind.PIT, "rille": LightKind.CUT,
    "valley": LightKind.CUT, "dome": LightKind.SWELL, "ridge": LightKind.SWELL,
    "scarp": LightKind.STEP, "mountain": LightKind.PEAK, "mountains": LightKind.PEAK,
    "cape": LightKind.PEAK, "mare": LightKind.SHADE, "sinus": LightKind.SHADE,
    "lacus": LightKind.SHADE, "palus": LightKind.SHADE, "albedo": LightKind.SHADE,
}  # fmt: skip
_GOOD_SUN_DEG = {  # from, to; own judgement
    LightKind.CUT: (2.0, 12.0), LightKind.SWELL: (0.5, 6.0), LightKind.STEP: (1.0, 12.0),
    LightKind.PEAK: (1.0, 12.0), LightKind.SHADE: (HIGH_SUN_DEG, 90.0),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lit:
    """One feature in its light: the row of the table, the Sun's height, its shadow in km or None.

    ``morning`` tells that the Sun rises there. ``width_km`` is the narrow side.
    """

    row: int
    sun_altitude_deg: float
    morning: bool
    width_km: float
    shadow_km: float | None
    marking: Marking


def good_light_deg(features: LunarFeatures) -> Floats:
    """Lowest and highest good Sun of each feature, degrees (N, 2).

    A crater's ends where the shadow has shrunk to a quarter of its width,
    ``tan h = 4 depth / width``, 4 to 15 degrees; the others by kind. Source: Pike 1977 (from
    memory) for the depth; the rest is own judgement.
    """
    usual = [_GOOD_SUN_DEG.get(LIGHT_KINDS[kind], (1.0, RELIEF_SUN_DEG)) for kind in features.kind]
    found = np.array(usual, dtype=float)
    quarter = np.degrees(np.arctan(4.0 * feature_height_km(features) / features.size_km))
    crater = features.kind == "crater"
    found[crater, 1] = np.clip(quarter[crater], 4.0, RELIEF_SUN_DEG)
    return found


def worth_a_look(features: LunarFeatures, light: MoonLight) -> Bools:
    """Which features have light for them and lie clear of the limb, (N, T).

    Relief with the Sun from half its least good height (0.3 degrees at least) to 15 degrees high,
    seas and bright patches with a high Sun.
    """
    shade = np.array([LIGHT_KINDS[kind] is LightKind.SHADE for kind in features.kind])[:, None]
    sun = light.sun_altitude_deg
    least = np.maximum(good_light_deg(features)[:, :1] / 2.0, LOWEST_SUN_DEG)
    low = (sun > least) & (sun <= RELIEF_SUN_DEG)
    lit = np.where(shade, sun >= HIGH_SUN_DEG, low)
    return np.asarray(lit & (light.from_centre_deg <= EDGE_DEG))


def lit_feature(features: LunarFeatures, row: int, light: MoonLight, morning: bool) -> Lit:
    """One feature in the light of the first moment, and what the telescope has to show."""
    kind = str(features.kind[row])
    sun = float(light.sun_altitude_deg[row, 0])
    size = float(light.size_arcsec[row, 0])
    per_km = size / float(features.size_km[row])
    seen = float(np.sqrt(np.clip(np.cos(np.radians(light.from_centre_deg[row, 0])), 0.03, 1.0)))
    width = _width_km(features, row, kind)
    height = float(feature_height_km(features)[row])
    if LIGHT_KINDS[kind] is LightKind.PEAK and np.isnan(height):
        height = _USUAL_HEIGHT_KM
    shadow = height / np.tan(np.radians(sun)) if sun > 0.0 and np.isfinite(height) else None
    across = width
    if LIGHT_KINDS[kind] is LightKind.PEAK and shadow is not None:
        across = min(width, shadow)
    shape, contrast = _appearance(features, row, sun, morning)
    away = bool(light.from_centre_deg[row, 0] > EDGE_DEG) or sun <= LOWEST_SUN_DEG
    marking = Marking(
        name=str(features.name[row]),
        shape=shape,
        width_arcsec=max(across * per_km * seen, 1e-3),
        length_arcsec=size * seen,
        contrast=contrast,
        turned_away=away,
        rough=kind not in _SMOOTH,
    )
    return Lit(row, sun, morning, width, None if shadow is None else float(shadow), marking)


def _width_km(features: LunarFeatures, row: int, kind: str) -> float:
    """The narrow side: typed, else the usual one of the kind, else the size."""
    typed = float(features.width_km[row])
    if np.isfinite(typed):
        return typed
    return _USUAL_WIDTH_KM.get(kind, float(features.size_km[row]))


def _appearance(
    features: LunarFeatures, row: int, sun: float, morning: bool
) -> tuple[Shape, float]:
    """Shape and contrast of a feature's relief or shade: ``tan slope / tan h`` at most."""
    kind = str(features.kind[row])
    tangent = np.tan(np.radians(max(sun, LOWEST_SUN_DEG)))

    def slope(degrees: float, most: float) -> float:
        return float(min(most, np.tan(np.radians(degrees)) / tangent))

    light = LIGHT_KINDS[kind]
    if light is LightKind.PIT:
        return Shape.PIT, CRATER_CONTRAST * slope(WALL_DEG, 1.0)
    if light is LightKind.CUT:
        return Shape.RILLE, RILLE_CONTRAST * slope(WALL_DEG, 1.0)
    if light is LightKind.SWELL:
        if kind == "ridge":
            return Shape.RILLE, slope(RIDGE_DEG, CRATER_CONTRAST)
        return Shape.PIT, slope(_dome_slope_deg(features, row), CRATER_CONTRAST)
    if light is LightKind.STEP:
        if scarp_is_dark(str(features.name[row]), morning):
            return Shape.STRIPE, SHADOW_CONTRAST * slope(SCARP_DEG, 1.0)
        return Shape.STRIPE, BRIGHT_SCARP
    if light is LightKind.PEAK:
        return Shape.SPOT, SHADOW_CONTRAST
    return Shape.SPOT, PATCH_CONTRAST if kind == "albedo" else SEA_CONTRAST


def scarp_is_dark(name: str, morning: bool) -> bool:
    """Whether a scarp lies in its own shadow, or faces the Sun."""
    return morning != (name in _EAST_FACING)


def _dome_slope_deg(features: LunarFeatures, row: int) -> float:
    """The mean slope of a dome whose height is known, else the usual one."""
    height, size = float(features.height_km[row]), float(features.size_km[row])
    return float(np.degrees(np.arctan(2.0 * height / size))) if np.isfinite(height) else DOME_DEG
