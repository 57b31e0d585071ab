"""One target written out: the catalog's numbers, and why there is no moment for it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sample_nights import KIT, plan, request

from planner.night.plan import Absence, ObjectDetail, PlannedTarget
from planner.night.planning import make_plan
from planner.optics.view import all_views
from planner.targets.catalog import load_deepsky, load_pairs
from planner.targets.kind import Kind


def only(name: str, site: str = "Lindenhof", date: str = "2026-05-14") -> PlannedTarget:
    """One target of a night, shown or not."""
    (found,) = plan(site, date, only=frozenset({name}), include_all=True).targets
    return found


@pytest.mark.parametrize(
    ("name", "site", "date", "why"),
    [
        ("NGC 6205", "Nordkapp", "2026-06-21", Absence.TOO_BRIGHT),  # the Sun does not set
        ("Jupiter", "Nordkapp", "2026-06-21", Absence.TOO_BRIGHT),
        ("NGC 104", "Lindenhof", "2026-05-14", Absence.NEVER_UP),  # 72 south, seen from 48 north
        ("NGC 6124", "Lindenhof", "2026-05-14", Absence.LOW),  # 41 south: 1 degree high
    ],
)
def test_the_reason_for_an_absence_is_the_true_one(
    name: str, site: str, date: str, why: Absence
) -> None:
    """Nothing of a moment is told then, and the height that it gets to is."""
    found = only(name, site, date)
    assert found.unusable is not None and found.unusable.why is why
    assert not found.shown
    told = (found.best_time, found.window_start, found.window_end, found.altitude_deg, found.view)
    assert told == (None,) * 5
    assert found.margin is None and found.uncertainty is None and found.airmass is None
    if why is Absence.LOW:
        # 90 - 48.1 - 40.7, lifted half a degree by the air
        assert found.unusable.highest_deg == pytest.approx(1.5, abs=0.3)
        assert found.unusable.least_deg == 15.0


def test_a_target_behind_the_local_horizon_is_hidden() -> None:
    """A wall of 60 degrees all around, and M 3 that culminates at 70 behind one of 80."""
    base = request(only=frozenset({"NGC 5272"}), include_all=True)
    for wall, hidden in ((60.0, False), (80.0, True)):
        site = replace(base.site, horizon=((0.0, wall), (180.0, wall)))
        (found,) = make_plan(replace(base, site=site)).targets
        assert (found.unusable is not None) == hidden
        if found.unusable is not None:
            assert found.unusable.why is Absence.HIDDEN
            assert found.unusable.highest_deg == pytest.approx(70.3, abs=0.2)  # 90 - 48.1 + 28.4


def test_an_object_is_told_as_the_catalog_has_it() -> None:
    """Place, light and size of every object of a constellation."""
    catalog = load_deepsky()
    made = plan(constellation="Her", limit=None, include_all=True)
    found = [target for target in made.targets if isinstance(target.detail, ObjectDetail)]
    assert len(found) > 10
    for target in found:
        row = int(np.flatnonzero(catalog.id == target.id)[0])
        assert (target.ra_deg, target.dec_deg) == (catalog.ra_deg[row], catalog.dec_deg[row])
        assert target.constellation == "Her" and target.kind is catalog.kind[row]
        v_mag, major = float(catalog.v_mag[row]), float(catalog.major_arcmin[row])
        assert target.magnitude == (None if np.isnan(v_mag) else v_mag)
        assert (target.size_arcmin is None) == bool(np.isnan(major))
        assert target.size_arcmin is None or target.size_arcmin[0] == major


def test_a_pair_is_told_as_the_catalog_has_it() -> None:
    """Magnitudes always, the measure where there is no orbit; together brighter than either."""
    catalog = load_pairs()
    made = plan(constellation="Her", limit=None, include_all=True, kinds=frozenset({Kind.DOUBLE}))
    seen = 0
    for target in made.targets:
        double = target.double
        assert double is not None and target.magnitude is not None
        assert target.magnitude < min(double.magnitudes)
        rows = np.flatnonzero(catalog.system_id == target.id)
        assert len(rows) == 1 + len(double.others)
        told = sorted(d.magnitudes for d in (double, *double.others))
        assert told == sorted(zip(catalog.v1[rows], catalog.v2[rows], strict=True))
        if len(rows) == 1 and double.outlook is None and "orbit" not in double.measure_source:
            carried = ~np.isnan(catalog.motion_ra_mas_yr[rows[0]])
            slack = 1.0 if carried else 0.0  # the fastest move some 50 mas a year
            told_arcsec = pytest.approx(catalog.separation_arcsec[rows[0]], rel=0.0, abs=slack)
            assert double.separation_arcsec == told_arcsec
            seen += 1
    assert seen > 50


def test_times_and_heights_agree_with_each_other() -> None:
    """The best time in its window; airmass 1/sin of the height, as far as that holds."""
    made = plan(limit=60)
    for target in made.targets:
        assert target.best_time and target.window_start and target.window_end
        assert target.window_start <= target.best_time <= target.window_end
        assert target.altitude_deg is not None and target.airmass is not None
        if target.altitude_deg > 30.0:
            plane = 1.0 / np.sin(np.radians(target.altitude_deg))
            assert target.airmass == pytest.approx(plane, rel=0.005)
        assert target.view in all_views(KIT.telescope(), KIT.eyepieces, KIT.barlows)
        assert target.view is not None and target.drift_s is not None
        # the sky turns 15 arcsec in a second of time, times the cosine of the declination
        turned = target.view.true_field_deg * 240.0 / np.cos(np.radians(target.dec_deg))
        assert target.drift_s == pytest.approx(turned, rel=0.01)
        assert target.shown and (target.margin is None or target.margin >= 0.0)
