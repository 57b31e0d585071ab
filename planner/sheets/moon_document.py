"""The Moon of one night, and one feature of hers, as JSON objects."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.night.plan import BodyDetail
from planner.sheets.json_text import iso_time
from planner.sheets.lunar_words import KIND_WORDS, lunar_night_row, sight_row
from planner.sheets.night_document import night_document

if TYPE_CHECKING:
    from planner.night.lunar_nights import LunarFeatureTonight, LunarNight
    from planner.night.moon_tonight import MoonTonight
    from planner.night.plan import Plan

MOON_FORMAT = "planner-moon/1"
FEATURE_FORMAT = "planner-lunar-feature/1"
COMMON = ("site", "night", "instrument", "assumptions", "notes")  # as in the night's document


def moon_document(plan: Plan, following: LunarNight | None) -> dict[str, Any]:
    """The night's document with the Moon as its only target, her face, and the next Moon."""
    detail = plan.targets[0].detail
    moon = detail.moon if isinstance(detail, BodyDetail) else None
    night = night_document(plan)
    return {
        "format": MOON_FORMAT,
        **{name: night[name] for name in COMMON},
        "events": night["events"],
        "target": night["targets"][0],
        "moon": None if moon is None else face_row(moon),
        "next_moon": None if following is None else lunar_night_row(following),
    }


def feature_document(plan: Plan, told: LunarFeatureTonight) -> dict[str, Any]:
    """One feature: its facts and verdict at the Moon's best time, and the next good nights."""
    night, moon = night_document(plan), told.moon
    sight = None if moon is None else moon.sights[0]
    return {
        "format": FEATURE_FORMAT,
        **{name: night[name] for name in COMMON},
        "name": told.name,
        "kind": KIND_WORDS[told.kind],
        "lon_east_deg": told.lon_east_deg,
        "lat_deg": told.lat_deg,
        "size_km": told.size_km,
        "place_source": told.source,
        "time": None if moon is None else iso_time(moon.time),
        "moon_altitude_deg": None if moon is None else round(moon.altitude_deg, 1),
        "eyepiece": None if moon is None or moon.view is None else moon.view.name,
        "feature": None if sight is None else sight_row(sight),
        "good_sun_deg": [round(value, 1) for value in told.good_sun_deg],
        "good_nights": [lunar_night_row(one) for one in told.good_nights],
    }


def face_row(moon: MoonTonight) -> dict[str, Any]:
    """The Moon's face at its minute and every feature in good light."""
    return {
        "time": iso_time(moon.time),
        "age_days": round(moon.age_days, 2),
        "colongitude_deg": round(moon.colongitude_deg, 2),
        "libration_lon_deg": round(moon.libration_lon_deg, 2),
        "libration_lat_deg": round(moon.libration_lat_deg, 2),
        "eyepiece": None if moon.view is None else moon.view.name,
        "hardest": moon.hardest,
        "features": [sight_row(sight) for sight in moon.sights],
    }
