"""Site blocks of a kit file."""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING

from planner.ephemeris.site import Site, standard_pressure_hpa
from planner.errors import UsageError
from planner.kit.block import finite
from planner.kit.kit import KitSite
from planner.kit.schema import EXTINCTION_RANGE_MAG
from planner.kit.shown import shown
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass
from planner.sky.scales import LIMIT_RANGE_MAG, sky_from_bortle, sky_from_naked_eye_limit

if TYPE_CHECKING:
    from planner.kit.block import Block


def read_site(block: Block) -> KitSite:
    """A ``[[site]]`` block."""
    block.only_known()
    elevation_m = block.length("elevation") / 1000.0
    site = Site(
        name=block.text("name"),
        latitude_deg=block.number("latitude"),
        longitude_deg=block.number("longitude"),
        elevation_m=elevation_m,
        timezone=block.zone("time_zone"),
        pressure_hpa=block.number("pressure_hpa", default=standard_pressure_hpa(elevation_m)),
        temperature_c=block.number("temperature_c"),
        horizon=block.points("horizon"),
        ceiling=block.points("ceiling"),
    )
    zenith_sky_mag, sky_words = _sky(block)
    extinction, extinction_words = _extinction(block, elevation_m)
    return KitSite(
        site=site,
        zenith_sky_mag=zenith_sky_mag,
        sky_words=sky_words,
        seeing_arcsec=block.number("seeing"),
        extinction_mag=extinction,
        extinction_words=extinction_words,
    )


def _sky(block: Block) -> tuple[float, str]:
    """Zenith sky in mag per square arcsecond, and how it was given."""
    given = block.one_of("sky")
    if given == "sky":
        value = block.number("sky")
        return value, f"{value:.2f} measured"
    if given == "naked_eye_limit":
        most = LIMIT_RANGE_MAG[1]
        given_limit = finite(block.values["naked_eye_limit"])
        if given_limit is not None and given_limit > most:
            block.fail(
                "naked_eye_limit",
                f"an average eye reaches {most:g} at most, under the darkest sky on Earth; if you "
                "see fainter, your eye is keen: write sky = 21.8 or bortle = 2 here and your limit "
                "in the [observer] block",
            )
        value = block.number("naked_eye_limit")
        return float(sky_from_naked_eye_limit(value)), f"naked-eye limit {value:g}"
    if given == "bortle":
        number = block.number("bortle")
        if number != int(number):
            block.fail("bortle", "write a whole number from 1 to 9")
        return float(sky_from_bortle(int(number))), f"Bortle class {number:g}, rough"
    return block.fail(
        "sky", "add the zenith's brightness, like sky = 20.5, or naked_eye_limit or bortle"
    )


def _extinction(block: Block, elevation_m: float) -> tuple[float, str]:
    given = block.one_of("haze")
    if given == "extinction":
        return block.number("extinction"), "given"
    haze = Aerosol(block.choice("haze"))
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
