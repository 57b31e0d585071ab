"""The telescope at each altitude, on a tube whose numbers are done in the head."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.kit.reading import load_kit
from planner.optics.stand import Stand
from planner.tube.attitude import attitudes, standing
from planner.tube.balance import Load
from planner.tube.bearing import Bearing
from planner.tube.loading import Loading, turning
from planner.tube.rig import Base, Cradle, Rig
from planner.tube.standing import Footing

G = 9.80665
SCOPE = replace(load_kit().telescope(), stand=Stand(800.0, 500.0, 0.0, 0.0))
PLACE = Load(0.0, 900.0)
CRADLE = Cradle(Load(1.0, 400.0), Bearing(100.0, 0.1))
RIG = Rig(cradle=CRADLE, base=Base(10.0, 5.0, Footing(300.0, 4), Bearing(150.0, 0.1)))
BALANCED = turning(Loading(None, None, Load(9.0, 400.0)), CRADLE, PLACE, 80.0)


def test_a_balanced_tube_wants_the_same_pull_up_and_down() -> None:
    """1 kg and 9 kg rub with 0.1 at 100 mm: 0.98 N m, at half a metre 1.96 N."""
    for row in attitudes(SCOPE, RIG, BALANCED, PLACE):
        assert row.torque_nm == pytest.approx(0.0, abs=1e-9)
        assert row.raise_n == pytest.approx(G * 0.1 * 10.0 * 0.1 / 0.5)
        assert row.lower_n == pytest.approx(row.raise_n)


def test_turning_and_tipping_follow_from_all_that_stands_there() -> None:
    """15 kg turn on 150 mm; 20 kg on four feet at 300 mm tip over a side of 212 mm."""
    level = attitudes(SCOPE, RIG, BALANCED, PLACE)[0]
    assert level.height_mm == pytest.approx(800.0)
    assert level.turn_n == pytest.approx(0.1 * 15.0 * G * 0.15 / 0.5)
    assert level.push_n == pytest.approx(20.0 * G * 212.132 / 800.0, rel=1e-5)
    firm = standing(SCOPE, RIG, BALANCED)
    assert firm is not None and firm.mass_kg == pytest.approx(20.0)
    assert firm.weight_n == pytest.approx(20.0 * G * 212.132 / (500.0 - 212.132), rel=1e-5)


def test_what_is_not_known_is_left_out_and_the_rest_told() -> None:
    alone = attitudes(SCOPE, Rig(), None, None)
    assert [row.altitude_deg for row in alone] == [0.0, 15.0, 30.0, 45.0, 60.0, 75.0, 80.0]
    assert all(row.height_mm and row.raise_n is None and row.push_n is None for row in alone)
    assert attitudes(replace(SCOPE, stand=None), Rig(), None, None) == ()
    no_cradle = replace(RIG, cradle=None)
    assert attitudes(SCOPE, no_cradle, None, PLACE)[0].push_n is None
    assert standing(SCOPE, no_cradle, None) is None
    at_the_axis = attitudes(SCOPE, RIG, BALANCED, Load(0.0, 430.0))
    assert at_the_axis[0].raise_n is None and at_the_axis[0].turn_n is not None
