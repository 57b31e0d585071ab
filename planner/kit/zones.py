"""Where a time zone's city lies, and whether a site's coordinates look mistyped beside it."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from planner.angles import separation_deg

if TYPE_CHECKING:
    from planner.ephemeris.site import Site

KM_PER_DEGREE = 111.2  # of a great circle, mean Earth of 6371 km
FAR_KM = 750.0  # farther from its zone's city than this a site is looked at; common sense
MUCH_NEARER = 0.5  # a mistyped site comes at least this much nearer when mended; common sense
_ISO_6709 = re.compile(r"([+-])(\d\d)(\d\d)(\d\d)?([+-])(\d\d\d)(\d\d)(\d\d)?")


@cache
def zone_cities() -> dict[str, tuple[float, float]]:
    """Latitude and east longitude, degrees, of the city that each IANA zone is named for.

    Empty where the tzdata package has been packed without that table.
    Source: zone.tab of the IANA time zone database (public domain), from the tzdata package.
    """
    try:
        table = files("tzdata.zoneinfo").joinpath("zone.tab").read_text(encoding="utf-8")
    except (OSError, ModuleNotFoundError):
        return {}
    rows = (line.split("\t") for line in table.splitlines() if not line.startswith("#"))
    return {row[2]: _degrees(row[1]) for row in rows}


def likely_coordinates(site: Site) -> tuple[float, float] | None:
    """Latitude and longitude that were probably meant, or None where nothing looks wrong.

    Tried are a turned sign of the longitude, the latitude or both, and the two swapped. One is
    returned where the site lies far from its zone's city and would come much nearer.
    Limits: silent for zones without a city (UTC) and within FAR_KM, as in much of France and
    Britain; near the equator a wide zone can raise a false alarm.
    """
    city = zone_cities().get(site.timezone)
    latitude, longitude = site.latitude_deg, site.longitude_deg
    if city is None or _distance_km((latitude, longitude), city) < FAR_KM:
        return None
    tries = [(latitude, -longitude), (-latitude, longitude), (-latitude, -longitude)]
    if abs(longitude) <= 90.0:
        tries.append((longitude, latitude))
    best = min(tries, key=lambda point: _distance_km(point, city))
    given_km = _distance_km((latitude, longitude), city)
    return best if _distance_km(best, city) < MUCH_NEARER * given_km else None


def _distance_km(point: tuple[float, float], other: tuple[float, float]) -> float:
    degrees = separation_deg(point[1], point[0], other[1], other[0])
    return float(degrees) * KM_PER_DEGREE


def _degrees(text: str) -> tuple[float, float]:
    found = _ISO_6709.fullmatch(text)
    if found is None:
        raise ValueError(f"no ISO 6709 position: {text}")
    sign, degrees, minutes, seconds, *rest = found.groups()
    return _signed(sign, degrees, minutes, seconds), _signed(*rest)


def _signed(sign: str, degrees: str, minutes: str, seconds: str | None) -> float:
    size = int(degrees) + int(minutes) / 60.0 + int(seconds or 0) / 3600.0
    return -size if sign == "-" else size
