"""The Moon of one night, and one feature of hers, as JSON objects."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.night.plan import BodyDetail
from planner.sheets.json_text import iso_time
from planner.sheets.lunar_words import lunar_night_row, sight_row
from planner.sheets.night_document import night_document

if TYPE_CHECKING:
    from planner.night.lunar_nights import LunarNight
    from planner.night.moon_tonight import MoonTonight
    from planner.night.plan import Plan

MOON_FORMAT = "planner-moon/1"
FEATURE_FORMAT = "planner-lunar-feature/1"


def moon_document(plan: Plan, following: LunarNight | None) -> dict[str, Any]:
    """The night's document with the Moon as its only target, her face, and the next Moon."""
    detail = plan.targets[0].detail
    moon = detail.moon if isinstance(detail, BodyDetail) else None
    night = night_document(plan)
    return {
        **{name: night[name] for name in ("site", "night", "instrument", "assumptions", "notes")},
        "format": MOON_FORMAT,
        "events": night["events"],
        "target": night["targets"][0],
        "moon": None if moon is None else face_row(moon),
        "next_moon": None if following is None else lunar_night_row(following),
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
