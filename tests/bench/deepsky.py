"""Time of the deep-sky margins against the same functions called object by object.

Run with ``python tests/bench/deepsky.py``. It measures and does not judge.
"""

from __future__ import annotations

from datetime import date

import numpy as np
from measuring import median_seconds, print_table, seconds

from planner.ephemeris.civil_night import civil_night
from planner.ephemeris.moments import grid
from planner.ephemeris.track import track
from planner.eye import margin_table
from planner.eye.profile import Sizes, profile_limit
from planner.kit.reading import load_kit
from planner.sky.airmass import airmass
from planner.sky.background import night_luminance_nl
from planner.sky.scales import surface_brightness_from_nanolamberts
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.verdict.deepsky.glow import glow_of
from planner.verdict.deepsky.margins import (
    DeepSkyTables,
    deepsky_margins,
    deepsky_tables,
)
from planner.verdict.setup import Setup

DATE = date(2026, 12, 8)
STEP_MIN = 5
OBJECTS = 14_000
SAMPLE = 200  # objects judged one by one; the rest is scaled
DIRECT_SAMPLE = 40  # objects worked out without the tables


def main() -> None:
    """Print the table."""
    kit = load_kit()
    place, telescope = kit.site(), kit.telescope()
    setup = Setup(
        telescope, kit.observer, place.zenith_sky_mag, place.seeing_arcsec, place.extinction_mag
    )
    views = kit.views(telescope)
    catalog = load_deepsky()
    objects = rows_of(catalog, np.arange(OBJECTS) % len(catalog))
    night = civil_night(place.site, DATE)
    moments = grid(place.site, night.sunset, night.sunrise, STEP_MIN)
    altitude = track(place.site, moments, objects.ra_deg, objects.dec_deg).altitude_deg
    altitude = np.where(altitude > 0.0, altitude, np.nan)
    sky = surface_brightness_from_nanolamberts(
        night_luminance_nl(setup.zenith_sky_mag, setup.extinction_mag, altitude)
    )
    dimming = setup.dimming_mag(airmass(altitude))

    def tables_anew() -> DeepSkyTables:
        margin_table._patches.cache_clear()
        return deepsky_tables(setup, views, kit.filters)

    build, tables = median_seconds(tables_anew), tables_anew()
    whole = median_seconds(lambda: deepsky_margins(tables, objects, dimming, sky))
    rows = np.linspace(0, OBJECTS - 1, SAMPLE).astype(int)

    def one_by_one() -> None:
        for row in rows:
            one = slice(row, row + 1)
            deepsky_margins(tables, rows_of(objects, np.array([row])), dimming[one], sky[one])

    glow = glow_of(objects)
    sizes = glow.sizes
    few = [(profile, row) for profile, found in glow.profile_rows().items() for row in found]
    few = [few[i] for i in np.linspace(0, len(few) - 1, DIRECT_SAMPLE).astype(int)]

    def without_tables() -> None:
        for profile, row in few:
            size = Sizes(sizes.major_arcmin[[row]], sizes.minor_arcmin[[row]])
            profile_limit(profile, size, tables.eye, tables.views, sky[row : row + 1])

    loop = seconds(one_by_one) * OBJECTS / SAMPLE
    direct = seconds(without_tables) * OBJECTS / DIRECT_SAMPLE
    print_table(
        f"Margins of {OBJECTS} objects, {len(views)} views, {len(kit.filters)} filter, "
        f"{moments.seconds.size} moments (aim: under 2 s)",
        [
            ["tables, built once", f"{build:.2f}", "-"],
            ["all at once", f"{whole:.2f}", "1"],
            [f"object by object ({SAMPLE} scaled)", f"{loop:.1f}", f"{loop / whole:.0f}"],
            [f"without tables ({DIRECT_SAMPLE} scaled)", f"{direct:.0f}", f"{direct / whole:.0f}"],
        ],
        ["way", "s", "ratio"],
    )


if __name__ == "__main__":
    main()
