"""The list of a season is what an old observer would go out for."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from sample_nights import KIT, request
from showpieces import EVENINGS, LATITUDES_DEG, showpieces

from planner.night.conditions import night_conditions
from planner.night.judging import judged_groups
from planner.night.ranking import ranked
from planner.optics.view import all_views
from planner.targets.kind import Kind

FIRST, LEAST_EXPECTED = 25, 18
SIX_INCHES = [(evening, latitude, 150.0) for evening in EVENINGS for latitude in LATITUDES_DEG]
OTHERS = [
    (evening, latitude, aperture_mm)
    for aperture_mm in (100.0, 300.0)
    for evening, latitude in (("nov_10", "56N"), ("may_5", "30S"), ("sep_10", "45N"))
]


def first_of(evening: str, latitude: str, aperture_mm: float) -> list[str]:
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
    asked = request(
        site="Lindenhof",
        telescope=telescope,
        views=all_views(telescope, KIT.eyepieces, KIT.barlows),
        zenith_sky_mag=21.0,
        kinds=frozenset(Kind) - {Kind.PLANET, Kind.MOON},
        end=time(0, 30),
    )
    asked = replace(asked, site=site, date=date.fromisoformat(EVENINGS[evening]))
    groups = judged_groups(night_conditions(asked))
    order = ranked(groups, include_all=False)[:FIRST]
    return [str(groups[entry.group].ids[entry.number]) for entry in order]


@pytest.mark.parametrize(("evening", "latitude", "aperture_mm"), SIX_INCHES + OTHERS)
def test_the_first_of_the_list_are_the_showpieces_of_the_season(
    evening: str, latitude: str, aperture_mm: float
) -> None:
    """Against ``showpieces.csv``: own judgement as a practitioner; common practice, no source.

    Moonless in November and September, a bright Moon in May and June.
    """
    expected = set()
    for row in showpieces():
        if (evening, latitude) in row.places:
            expected |= {*row.ids, *(identifier.split("-")[0] for identifier in row.ids)}
    found = first_of(evening, latitude, aperture_mm)
    assert sum(name in expected for name in found) >= LEAST_EXPECTED, found
