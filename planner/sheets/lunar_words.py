"""The Moon's features in words: what they are, how they are lit, and what to look for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.angles import compass_point
from planner.sheets.clock_words import clock
from planner.sheets.feature_words import feature_rows
from planner.sheets.json_text import iso_time, rounded
from planner.verdict.bodies.lunar_markings import LIGHT_KINDS, LightKind, scarp_is_dark

if TYPE_CHECKING:
    from planner.night.lunar_nights import LunarNight
    from planner.night.moon_tonight import LunarSight, MoonTonight

KIND_WORDS = {
    "crater": "crater", "rille": "rille", "scarp": "scarp", "dome": "dome",
    "mountain": "mountain", "mountains": "mountain range", "cape": "cape", "chain": "crater chain",
    "ridge": "ridge", "valley": "valley", "mare": "sea", "sinus": "bay", "lacus": "small sea",
    "palus": "marsh", "albedo": "bright patch",
}  # fmt: skip
SHORT_KINDS = {"mountain range": "range", "crater chain": "chain", "bright patch": "patch"}
NEAR_LIMB_DEG = 70.0
LONG_SHADOW_KM = 100.0  # beyond it ends in the dark, or on other hills
LOW_SUN_NOTE = (
    "Sun is its height in degrees over level ground there; size as it lies, in km and in arcsec; "
    "margin the contrast left over the contrast needed, worst the zenith seeing that still does. "
    "Shadows are those of fresh craters and level ground: old, flooded floors have less."
)
DIRECTIONS_NOTE = "East and west are the Moon's own, east towards Mare Crisium."


def look_words(sight: LunarSight) -> str:
    """What to look for in tonight's light, in a few words."""
    side = "east" if sight.morning else "west"
    kind = LIGHT_KINDS[sight.kind]
    if kind is LightKind.PIT:
        return _crater_words(sight, side)
    if kind is LightKind.CUT:
        return "one wall dark, one bright" if sight.kind == "valley" else "a thin dark line"
    if kind is LightKind.SWELL:
        if sight.kind == "ridge":
            return f"low fold, bright on the {side}"
        return f"low swelling, bright {side}"
    if kind is LightKind.STEP:
        dark = scarp_is_dark(sight.name, sight.morning)
        return "a dark line of shadow" if dark else "a bright line"
    if kind is LightKind.PEAK:
        other = "west" if sight.morning else "east"
        if sight.shadow_km is None or sight.shadow_km > LONG_SHADOW_KM:
            return f"a long shadow to the {other}"
        return f"shadow {sight.shadow_km:.0f} km to the {other}"
    return "brighter than around" if sight.kind == "albedo" else "a dark plain"


def _crater_words(sight: LunarSight, side: str) -> str:
    if sight.kind == "chain":
        return "a row of small pits"
    share = (sight.shadow_km or 0.0) / sight.size_km
    if share > 0.85:
        return "floor dark, rim lit"
    if share > 0.4:
        return "half its floor in shadow"
    if share > 0.2:
        return f"shadow of the {side} wall"
    return f"floor lit, dark {side} wall"


def light_words(sight: LunarSight) -> str:
    """How a feature stands in the light tonight, one sentence."""
    sun = sight.sun_altitude_deg
    if sight.from_centre_deg >= 90.0:
        return "it is turned away behind the limb"
    if sun <= 0.0:
        return f"it lies in the night, the Sun {-sun:.0f}° below its horizon"
    when = "in the morning" if sight.morning else "in the evening"
    limb = "; close to the limb, much foreshortened" if limb_near(sight) else ""
    return f"the Sun stands {sun:.1f}° high there, {when}{limb}"


def limb_near(sight: LunarSight) -> bool:
    """Whether a feature is much foreshortened."""
    return sight.from_centre_deg > NEAR_LIMB_DEG


def face_words(moon: MoonTonight) -> str:
    """Age, terminator and libration in one line."""
    colongitude = moon.colongitude_deg
    rises, sets = _longitude(-colongitude), _longitude(180.0 - colongitude)
    lon, lat = moon.libration_lon_deg, moon.libration_lat_deg
    return (
        f"Moon {moon.age_days:.1f} days old; the Sun rises at {rises} and sets at {sets} "
        f"(colongitude {colongitude:.1f}°); libration {abs(lon):.1f}° {'E' if lon >= 0 else 'W'}, "
        f"{abs(lat):.1f}° {'N' if lat >= 0 else 'S'}"
    )


def _longitude(east_deg: float) -> str:
    east = (east_deg + 180.0) % 360.0 - 180.0
    return f"{abs(east):.0f}° {'E' if east >= 0 else 'W'}"


def longitude_latitude_words(lon_east_deg: float, lat_deg: float) -> str:
    """A place on the axes of maps."""
    lat = f"{abs(lat_deg):.1f}° {'N' if lat_deg >= 0 else 'S'}"
    return f"{lat}, {abs(lon_east_deg):.1f}° {'E' if lon_east_deg >= 0 else 'W'}"


def night_words(night: LunarNight) -> str:
    """One good night: date, best hour, the Moon's height, the Sun's there."""
    light = ""
    if night.sun_altitude_deg is not None:
        when = "morning" if night.morning else "evening"
        light = f"; Sun {night.sun_altitude_deg:.0f}° there, {when}"
    hours = f"about {night.first:%H:%M}" if night.first == night.last else (
        f"{night.first:%H:%M} to {night.last:%H:%M}"
    )  # fmt: skip
    return (
        f"night of {night.date:%a %d %b %Y}, {hours}, Moon highest {night.time:%H:%M}: "
        f"{night.altitude_deg:.0f}° {compass_point(night.azimuth_deg)}{light}"
    )


def next_moon_words(night: LunarNight | None) -> str:
    """When this site sees the Moon next, one plain line."""
    if night is None:
        return "The Moon does not come into reach here within the next two months."
    return (
        f"The Moon is next within reach on {night.date:%a %d %b %Y}: from about "
        f"{clock(night.first)}, {night.altitude_deg:.0f}° high in the "
        f"{compass_point(night.azimuth_deg)} at {clock(night.time)}."
    )


def sight_row(sight: LunarSight) -> dict[str, Any]:
    """One feature as a flat dict: the verdict's fields, then the facts."""
    return {
        **feature_rows([sight.feature])[0],
        "kind": KIND_WORDS[sight.kind],
        "lon_east_deg": sight.lon_east_deg,
        "lat_deg": sight.lat_deg,
        "size_km": sight.size_km,
        "width_km": round(sight.width_km, 2),
        "size_arcsec": round(sight.size_arcsec, 1),
        "from_centre_deg": round(sight.from_centre_deg, 1),
        "sun_altitude_deg": round(sight.sun_altitude_deg, 2),
        "morning": sight.morning,
        "shadow_km": rounded(sight.shadow_km, 1),
        "look_for": look_words(sight),
    }


def lunar_night_row(night: LunarNight) -> dict[str, Any]:
    """One good night as a flat dict."""
    return {
        "date": night.date.isoformat(),
        "time": iso_time(night.time),
        "first": iso_time(night.first),
        "last": iso_time(night.last),
        "altitude_deg": round(night.altitude_deg, 1),
        "azimuth_deg": round(night.azimuth_deg, 1),
        "sun_altitude_deg": rounded(night.sun_altitude_deg, 2),
        "morning": night.morning,
    }
