"""Site blocks of a kit file."""

from __future__ import annotations

import difflib
import zoneinfo
from typing import TYPE_CHECKING, Any

from planner.ephemeris.site import Site, standard_pressure_hpa
from planner.kit.kit import Place
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass
from planner.sky.scales import sky_from_bortle, sky_from_naked_eye_limit

if TYPE_CHECKING:
    from planner.kit.block import Block

USUAL_SEEING_ARCSEC = 2.0  # a garden at low height; common practice, no source


def read_place(block: Block) -> Place:
    """A ``[[site]]`` block."""
    elevation_m = block.length("elevation", 0.0, 6.0e6, default_mm=0.0) / 1000.0
    site = Site(
        name=block.text("name"),
        latitude_deg=block.number("latitude", -90.0, 90.0),
        longitude_deg=block.number("longitude", -180.0, 180.0),
        elevation_m=elevation_m,
        timezone=_zone(block),
        pressure_hpa=block.number(
            "pressure_hpa", 300.0, 1100.0, default=standard_pressure_hpa(elevation_m)
        ),
        temperature_c=block.number("temperature_c", -60.0, 50.0, default=10.0),
        horizon=_horizon(block),
    )
    sky_mag, sky_words = _sky(block)
    extinction, extinction_words = _extinction(block, elevation_m)
    return Place(
        site=site,
        zenith_sky_mag=sky_mag,
        sky_words=sky_words,
        seeing_arcsec=block.number("seeing", 0.4, 10.0, default=USUAL_SEEING_ARCSEC),
        extinction_mag=extinction,
        extinction_words=extinction_words,
    )


def _zone(block: Block) -> str:
    name = block.text("time_zone")
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        near = difflib.get_close_matches(name, zoneinfo.available_timezones(), n=1)
        hint = f"; did you mean {near[0]!r}?" if near else ""
        block.fail("time_zone", f'not an IANA zone like "Europe/Berlin"{hint}')
    return name


def _sky(block: Block) -> tuple[float, str]:
    """Zenith sky in mag per square arcsecond, and how it was given."""
    given = block.one_of("sky", "naked_eye_limit", "bortle")
    if given == "sky":
        value = block.number("sky", 15.0, 22.2)
        return value, f"{value:.2f} measured"
    if given == "naked_eye_limit":
        value = block.number("naked_eye_limit", 2.0, 6.7)
        return float(sky_from_naked_eye_limit(value)), f"naked-eye limit {value:g}"
    if given == "bortle":
        number = block.number("bortle", 1, 9)
        if number != int(number):
            block.fail("bortle", "write a whole number from 1 to 9")
        return float(sky_from_bortle(int(number))), f"Bortle class {number:g}, rough"
    return block.fail(
        "sky", "add the zenith's brightness, like sky = 20.5, or naked_eye_limit or bortle"
    )


def _extinction(block: Block, elevation_m: float) -> tuple[float, str]:
    given = block.one_of("haze", "extinction")
    if given == "extinction":
        return block.number("extinction", 0.08, 1.5), "given"
    haze = Aerosol(block.choice("haze", Aerosol, default=Aerosol.AVERAGE.value))
    return float(extinction_mag_per_airmass(elevation_m, haze)), f"{haze.value} air"


def _horizon(block: Block) -> tuple[tuple[float, float], ...]:
    if not block.has("horizon"):
        return ()
    points: Any = block.values["horizon"]
    remedy = "write points as [[azimuth, altitude], ...], azimuth 0 to 360, altitude 0 to 80"
    if not isinstance(points, list):
        block.fail("horizon", remedy)
    for point in points:
        if not (isinstance(point, list) and len(point) == 2):
            block.fail("horizon", remedy)
        if not all(isinstance(x, int | float) and not isinstance(x, bool) for x in point):
            block.fail("horizon", remedy)
        if not (0 <= point[0] <= 360 and 0 <= point[1] <= 80):
            block.fail("horizon", remedy)
    return tuple((float(azimuth), float(altitude)) for azimuth, altitude in points)
