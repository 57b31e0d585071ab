"""What people write in a kit file instead of the right word: other names of keys, and cities."""

from __future__ import annotations

import zoneinfo

from planner.targets.spelling import all_like

# Names from makers' tables and other languages, and the keys that may be meant; the first that
# the block knows is named. Common practice, no source.
KEYS_MEANT = {
    "lat": ("latitude",),
    "lon": ("longitude",),
    "lng": ("longitude",),
    "long": ("longitude",),
    "height": ("elevation",),
    "altitude": ("elevation",),
    "elev": ("elevation",),
    "tz": ("time_zone",),
    "zone": ("time_zone",),
    "sqm": ("sky",),
    "mpsas": ("sky",),
    "sky_brightness": ("sky",),
    "nelm": ("naked_eye_limit",),
    "limiting_magnitude": ("naked_eye_limit",),
    "fwhm": ("seeing", "bandwidth_nm"),
    "transparency": ("haze",),
    "air": ("haze",),
    "skyline": ("horizon",),
    "temp": ("temperature_c",),
    "diameter": ("aperture",),
    "fl": ("focal_length",),
    "focal": ("focal_length",),
    "f": ("focal_length",),
    "fratio": ("focal_ratio",),
    "f_number": ("focal_ratio",),
    "type": ("design", "passes"),
    "flat": ("secondary",),
    "minor_axis": ("secondary",),
    "central_obstruction": ("obstruction",),
    "mask": ("clear_aperture",),
    "rms": ("wavefront_error",),
    "pv": ("wavefront_peak_to_valley",),
    "strehl": ("wavefront_error",),
    "reflectivity": ("transmission",),
    "focuser": ("focuser_barrel",),
    "afov": ("apparent_field",),
    "fov": ("apparent_field", "true_field"),
    "tfov": ("true_field", "field_stop"),
    "field": ("apparent_field", "true_field"),
    "stop": ("field_stop",),
    "power": ("factor", "magnification"),
    "multiplier": ("factor",),
    "magnification": ("factor",),
    "line": ("passes",),
    "lines": ("passes",),
    "band": ("passes",),
    "width": ("bandwidth_nm",),
    "orientation": ("image",),
    "eye_pupil": ("dark_pupil",),
    "pupil": ("dark_pupil",),
    "level": ("experience",),
    "skill": ("experience",),
    "min_exit_pupil": ("least_exit_pupil",),
}

# Cities whose IANA zone has another city's name. Facts of the tz database's maps (from memory).
CITY_ZONES = {
    "Africa/Johannesburg": ("cape town", "durban", "pretoria"),
    "America/Chicago": ("houston", "dallas", "austin", "minneapolis", "new orleans"),
    "America/Los_Angeles": ("san francisco", "seattle", "san diego", "portland", "las vegas"),
    "America/Denver": ("salt lake city", "albuquerque"),
    "America/New_York": ("boston", "washington", "philadelphia", "miami", "atlanta"),
    "America/Sao_Paulo": ("rio de janeiro", "rio", "brasilia"),
    "America/Toronto": ("ottawa",),
    "Asia/Kolkata": ("delhi", "new delhi", "dehli", "mumbai", "bombay", "bangalore", "chennai"),
    "Asia/Shanghai": ("beijing", "bejing", "peking", "guangzhou", "shenzhen"),
    "Asia/Tokyo": ("osaka", "kyoto"),
    "Europe/Berlin": ("munich", "muenchen", "hamburg", "frankfurt", "cologne", "stuttgart"),
    "Europe/London": ("edinburgh", "glasgow", "manchester", "cardiff"),
    "Europe/Madrid": ("barcelona", "valencia", "seville"),
    "Europe/Paris": ("lyon", "marseille", "toulouse"),
    "Europe/Rome": ("milan", "milano", "naples", "turin", "florence"),
    "Europe/Zurich": ("geneva", "bern", "basel"),
}
MOST_NAMES = 3
LEAST_LIKENESS = 0.75  # of two cities' names; less alike they are no help; common sense


def key_meant(key: str, known: list[str]) -> str | None:
    """The key of a block that goes by another name elsewhere, or None."""
    meant = KEYS_MEANT.get(key.casefold().replace("-", "_"), ())
    return next((name for name in meant if name in known), None)


def zones_meant(text: str) -> tuple[str, ...]:
    """Zones that a text may mean, the likeliest first, at most three; empty where none is near.

    A city with a zone of another name leads there; else zones of the same city whatever the
    region before it; else zones of cities that are spelt alike. Never a fixed zone like
    ``Etc/GMT+1``, whose sign is the other way round.
    """
    city = _plain(text)
    for zone, cities in CITY_ZONES.items():
        if city in map(_plain, cities):
            return (zone,)
    zones: dict[str, list[str]] = {}
    for name in sorted(zoneinfo.available_timezones()):
        if not name.startswith(("Etc/", "GMT")):
            zones.setdefault(_plain(name), []).append(name)
    if city in zones:
        return tuple(zones[city][:MOST_NAMES])
    near = all_like(city, zones, LEAST_LIKENESS, MOST_NAMES)
    return tuple(name for found in near for name in zones[found])[:MOST_NAMES]


def _plain(name: str) -> str:
    """The last part of a name in small letters without gaps."""
    last = name.casefold().rsplit("/", 1)[-1]
    return "".join(last.replace("_", " ").split())
