"""The first targets of the list on the evenings and at the latitudes of ``showpieces.csv``."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

from sample_nights import KIT, request
from showpieces import EVENINGS, LATITUDES_DEG, showpieces

from planner.night.conditions import night_conditions
from planner.night.judging import judged_groups
from planner.night.ranking import ranked
from planner.optics.view import all_views
from planner.targets.kind import Kind

FIRST, EXPECTED_OF_FIRST = 25, 18
# Days from the table's evening to one with the Moon down until half past midnight, and to one with
# it up and more than half lit; new Moon 2026-11-09, 02-17, 05-16, 07-14, 09-11 (an almanac's).
MOONLESS_DAYS = {"nov_10": 0, "feb_10": 6, "may_5": 8, "jun_28": 14, "sep_10": 0}
MOONLIT_DAYS = {"nov_10": 12, "feb_10": -9, "may_5": -5, "jun_28": 0, "sep_10": 14}


def first_of(evening: str, latitude: str, aperture_mm: float, moonlit: bool) -> list[str]:
    """The first targets from dusk to half past midnight, planets and the Moon left out."""
    telescope = replace(
        KIT.telescope(),
        aperture_mm=aperture_mm,
        clear_aperture_mm=aperture_mm,
        focal_length_mm=6.75 * aperture_mm,
        obstruction_mm=0.22 * aperture_mm,
    )
    site = replace(
        KIT.site("Lindenhof").site,
        latitude_deg=LATITUDES_DEG[latitude],
        longitude_deg=0.0,
        timezone="UTC",
    )
    days = (MOONLIT_DAYS if moonlit else MOONLESS_DAYS)[evening]
    asked = request(
        site="Lindenhof",
        telescope=telescope,
        views=all_views(telescope, KIT.eyepieces, KIT.barlows),
        zenith_sky_mag=21.0,
        kinds=frozenset(Kind) - {Kind.PLANET, Kind.MOON},
        end=time(0, 30),
    )
    asked = replace(
        asked, site=site, date=date.fromisoformat(EVENINGS[evening]) + timedelta(days=days)
    )
    groups = judged_groups(night_conditions(asked))
    order = ranked(groups, include_all=False)[:FIRST]
    return [str(groups[entry.group].ids[entry.number]) for entry in order]


def expected_on(evening: str, latitude: str) -> set[str]:
    """The ids of the showpieces of an evening at a latitude."""
    expected = set()
    for row in showpieces():
        if (evening, latitude) in row.places:
            expected |= {*row.ids, *(identifier.split("-")[0] for identifier in row.ids)}
    return expected
