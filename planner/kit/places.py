"""Site blocks of a kit file."""

from __future__ import annotations

import zoneinfo
from math import nan
from typing import TYPE_CHECKING, Any

from planner.ephemeris.site import Site, standard_pressure_hpa
from planner.errors import UsageError
from planner.kit.block import finite
from planner.kit.kit import Place
from planner.kit.likely import zones_meant
from planner.kit.shown import shown
from planner.sky.extinction import ELEVATION_RANGE_M, Aerosol, extinction_mag_per_airmass
from planner.sky.scales import LIMIT_RANGE_MAG, sky_from_bortle, sky_from_naked_eye_limit

if TYPE_CHECKING:
    from planner.kit.block import Block

EXTINCTION_RANGE_MAG = (0.08, 1.5)  # mountain top to thick haze; common practice, no source
USUAL_SEEING_ARCSEC = 2.0  # a garden at low height; common practice, no source

PLACE_KEYS = (
    "name", "latitude", "longitude", "elevation", "time_zone", "sky", "naked_eye_limit", "bortle",
    "seeing", "haze", "extinction", "horizon", "pressure_hpa", "temperature_c",
)  # fmt: skip


def read_place(block: Block) -> Place:
    """A ``[[site]]`` block."""
    block.only(PLACE_KEYS)
    lowest_mm, highest_mm = (metres * 1000.0 for metres in ELEVATION_RANGE_M)
    elevation_m = block.length("elevation", lowest_mm, highest_mm, 0.0, unit="m") / 1000.0
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
    name = block.text("time_zone", example="Europe/Berlin")
    try:
        zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
        near = " or ".join(repr(zone) for zone in zones_meant(name))
        hint = f"; did you mean {near}?" if near else ""
        block.fail("time_zone", f'write an IANA zone like "Europe/Berlin"{hint}')
    return name


def _sky(block: Block) -> tuple[float, str]:
    """Zenith sky in mag per square arcsecond, and how it was given."""
    given = block.one_of("sky", "naked_eye_limit", "bortle")
    if given == "sky":
        value = block.number("sky", 15.0, 22.2)
        return value, f"{value:.2f} measured"
    if given == "naked_eye_limit":
        least, most = LIMIT_RANGE_MAG
        given_limit = finite(block.values["naked_eye_limit"])
        if given_limit is not None and given_limit > most:
            block.fail(
                "naked_eye_limit",
                f"an average eye reaches {most:g} at most, under the darkest sky on Earth; if you "
                "see fainter, your eye is keen: write sky = 21.8 or bortle = 2 here and your limit "
                "in the [observer] block",
            )
        value = block.number("naked_eye_limit", least, most)
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
        return block.number("extinction", *EXTINCTION_RANGE_MAG), "given"
    haze = Aerosol(block.choice("haze", Aerosol, default=Aerosol.AVERAGE.value))
    return float(extinction_mag_per_airmass(elevation_m, haze)), f"{haze.value} air"


def tonights_extinction(air: str, elevation_m: float) -> tuple[float, str]:
    """Magnitudes lost per airmass in the air of one night, and the words for that air.

    ``air`` is clear, average or hazy (taken with the site's height), or a number of magnitudes
    per airmass.

    Raises:
        UsageError: neither.
    """
    word = air.strip().casefold()
    if word in list(Aerosol):
        return float(extinction_mag_per_airmass(elevation_m, Aerosol(word))), f"{word} air"
    least, most = EXTINCTION_RANGE_MAG
    try:
        magnitudes = float(word)
    except ValueError:
        magnitudes = nan
    if not least <= magnitudes <= most:
        raise UsageError(
            f"{shown(air)}: write {', '.join(Aerosol)}, or magnitudes per airmass from {least:g} "
            f"to {most:g}"
        )
    return magnitudes, "as asked for"


def _horizon(block: Block) -> tuple[tuple[float, float], ...]:
    if not block.has("horizon"):
        return ()
    points: Any = block.values["horizon"]
    form = "write points as [[azimuth, altitude], ...], azimuth 0 to 360, altitude 0 to 80"
    if not isinstance(points, list):
        block.fail("horizon", form)
    return tuple(_horizon_point(block, point, form) for point in points)


def _horizon_point(block: Block, point: Any, form: str) -> tuple[float, float]:
    pair = [finite(value) for value in point] if isinstance(point, list) else []
    if len(pair) == 2:
        azimuth, altitude = pair
        if azimuth is not None and altitude is not None:  # noqa: SIM102 - for the type checker
            if 0.0 <= azimuth <= 360.0 and 0.0 <= altitude <= 80.0:
                return azimuth, altitude
    return block.fail("horizon", f"{shown(point)} is no point; {form}")
