"""Ways to load a tube, and what drifts: plain tubes whose answers are seen at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.kit.reading import load_kit
from planner.tube.balance import Load
from planner.tube.bearing import Bearing
from planner.tube.friction_check import friction_check
from planner.tube.loading import Loading, Turning, focuser_place, loadings, turning
from planner.tube.rig import Cradle, Part, Rig, Role

KIT = load_kit()
SCOPE = KIT.telescope()
VIEWS = KIT.views(SCOPE)
TUBE = Load(8.0, 400.0)
PLACE = Load(0.0, 900.0, 0.0)
PARTS = (
    Part("tube", TUBE),
    Part("focuser", Load(0.4, 900.0), Role.FOCUSER),
    Part("finder", Load(0.5, 800.0), Role.LOOSE),
)


def cradle(along_mm: float = 400.0, above_mm: float = 0.0, mass_kg: float = 1.0) -> Cradle:
    """A bearing that holds 1.5 N m under ten kilograms."""
    radius = 1.5 / (10.0 * 9.80665 * 0.1) * 1000.0
    return Cradle(Load(mass_kg, along_mm, above_mm), Bearing(radius, 0.1))


def turned(along_mm: float, above_mm: float = 0.0) -> Turning:
    """Nine kilograms in the tube with their middle there, in the cradle."""
    load = Load(9.0, 400.0 + along_mm, above_mm)
    return turning(Loading(None, None, load), cradle(), PLACE, 80.0)


def test_every_weighed_view_and_every_loose_part_make_a_loading() -> None:
    unknown = [replace(VIEWS[0], eyepiece=replace(VIEWS[0].eyepiece, mass_kg=None))]
    found = loadings(SCOPE, Rig(parts=PARTS), [*VIEWS, *unknown])
    weighed = [view.mass_kg for view in VIEWS]
    assert None not in weighed
    assert [each.view for each in found].count(None) == 2  # empty, and without the finder
    assert len(found) == len(weighed) + 2
    assert found[0].load.mass_kg == pytest.approx(8.9)
    assert found[-1].without == "finder" and found[-1].load.mass_kg == pytest.approx(8.4)
    carried = [each.load.mass_kg - 8.9 for each in found[1:-1]]
    assert carried == pytest.approx(sorted(weighed))


def test_no_parts_make_no_loading() -> None:
    assert loadings(SCOPE, Rig(), VIEWS) == ()


def test_the_focuser_is_a_part_or_lies_where_the_telescope_says() -> None:
    by_part = focuser_place(SCOPE, Rig(parts=PARTS, cradle=cradle()))
    by_arm = focuser_place(SCOPE, Rig(parts=PARTS[:1], cradle=cradle()))
    assert by_part is not None and by_part.along_mm == 900.0
    assert by_arm is not None and by_arm.along_mm == 400.0 + 560.0
    assert focuser_place(SCOPE, Rig(parts=PARTS[:1])) is None


def test_a_tube_heavy_in_front_sinks_low_and_one_that_rides_high_rises_high() -> None:
    """9 kg x g x 20 mm = 1.77 N m against 1.5: it sinks to where its cosine leaves 1.5, 31 deg."""
    heavy, high = turned(20.0), turned(0.0, 20.0)
    assert heavy.drifting(down=True) == (0.0, 31.0)
    assert heavy.drifting(down=False) is None
    assert high.drifting(down=False) == (59.0, 80.0)
    assert high.drifting(down=True) is None
    assert not heavy.stays and not high.stays
    assert turned(5.0).stays


def test_without_a_bearing_nothing_is_said_to_drift() -> None:
    plain = Cradle(Load(1.0, 400.0), None)
    free = turning(Loading(None, None, Load(9.0, 500.0)), plain, PLACE, 80.0)
    assert free.drifting(down=True) is None and free.stays
    assert (free.hold_nm, free.more_kg, free.less_kg) == (None, None, None)
    assert free.slide_mm == 100.0


def test_the_friction_is_measured_balanced() -> None:
    """Both pulls are 2 x 1.5 N m over 0.5 m; one that runs away is slid first."""
    still, away = turned(5.0), turned(40.0)
    measured = friction_check(still, cradle(), PLACE)
    assert measured is not None and measured.slide_first_mm == 0.0
    assert measured.both_pulls_n == pytest.approx(6.0)
    moved = friction_check(away, cradle(), PLACE)
    assert moved is not None and moved.slide_first_mm == pytest.approx(40.0)
    assert moved.both_pulls_n == pytest.approx(3.0 / 0.46)
    assert friction_check(still, cradle(), Load(0.0, 410.0)) is None  # no arm
    assert friction_check(None, cradle(), PLACE) is None


def test_altitudes_run_by_degrees_to_the_highest() -> None:
    assert np.array_equal(turned(0.0).altitude_deg, np.arange(0.0, 81.0))
