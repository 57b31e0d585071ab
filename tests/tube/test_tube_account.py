"""The whole answer on the example's tube, against the same tube summed up part by part."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from planner.kit.kit import Kit
from planner.kit.reading import load_kit
from planner.optics.newtonian import edge_illumination, fully_illuminated_field_mm
from planner.optics.telescope import Design
from planner.tube.account import Account, Missing, account
from planner.tube.field import Diagonal
from planner.tube.rig import Rig, Role

G = 9.80665
UP = np.radians(np.arange(0.0, 81.0))


@cache
def kit() -> Kit:
    return load_kit()


def told(rig: Rig | None = None) -> Account:
    scope = kit().telescope()
    return account(scope, kit().rig if rig is None else rig, kit().views(scope))


@cache
def whole() -> Account:
    return told()


def _torque(mass: float) -> np.ndarray:
    """Front-down torque of the example's parts and an eyepiece, part by part, N m."""
    reach = 0.7 * 160.0 * np.sin(np.radians(30.0))
    loads = [(p.load.mass_kg, p.load.along_mm, p.load.above_mm) for p in kit().rig.parts]
    loads.append((mass, 895.0, reach))
    return np.asarray(
        sum(m * G * ((x - 335.0) * np.cos(UP) - y * np.sin(UP)) for m, x, y in loads) / 1000.0
    )


@pytest.mark.parametrize(("name", "mass"), [(None, 0.0), ("32 mm", 0.17), ("5 mm", 0.13)])
def test_torque_and_slide_are_those_of_the_parts(name: str | None, mass: float) -> None:
    (found,) = (t for t in whole().turnings if (t.loading.view, t.loading.without) == (name, None))
    assert found.torque_nm == pytest.approx(_torque(mass), abs=1e-9)
    moved = [(p.load.mass_kg, p.load.along_mm - found.slide_mm) for p in kit().rig.parts]
    moved.append((mass, 895.0 - found.slide_mm))
    assert sum(m * (x - 335.0) for m, x in moved) == pytest.approx(0.0, abs=1e-6)


def test_the_weight_that_may_come_just_holds() -> None:
    """A little less in the focuser stays at every altitude, a little more drifts at one."""
    empty = whole().turnings[0]
    assert empty.more_kg is not None
    for factor, stays in ((0.999, True), (1.001, False)):
        mass = factor * empty.more_kg
        carried = sum(p.load.mass_kg for p in kit().rig.parts) + mass + 0.8  # the cradle's own
        hold = 0.12 * carried * G * 0.140 / np.cos(np.radians(35.0))
        assert bool(np.all(np.abs(_torque(mass)) <= hold)) is stays


def test_a_finder_left_off_lets_the_front_rise() -> None:
    (bare,) = (t for t in whole().turnings if t.loading.without == "8x50 finder")
    assert bare.slide_mm < whole().turnings[0].slide_mm
    assert bare.drifting(down=False) is not None
    assert bare.drifting(down=True) is None


def test_the_best_axis_is_no_worse_than_the_cradles() -> None:
    best, now = whole().best_axis, whole().cradle_axis
    assert best is not None and now is not None
    assert best.torque_nm < now.torque_nm
    assert best.radius_mm is not None and now.radius_mm is not None
    assert best.radius_mm < now.radius_mm


def test_the_hands_force_is_friction_and_imbalance_at_the_focuser() -> None:
    level, high = whole().attitudes[0], whole().attitudes[-1]
    assert high.altitude_deg == 80.0  # the highest this mount points
    mass = 0.26 + sum(p.load.mass_kg for p in kit().rig.parts) + 0.8
    hold = 0.12 * mass * G * 0.140 / np.cos(np.radians(35.0))
    assert level.raise_n == pytest.approx((hold + _torque(0.26)[0]) / 0.560, rel=1e-9)
    assert level.lower_n == pytest.approx((hold - _torque(0.26)[0]) / 0.560, rel=1e-9)
    assert level.height_mm == pytest.approx(720.0 + 112.0 * 0.5)
    assert high.turn_n is not None and level.turn_n is not None
    assert high.turn_n > 3.0 * level.turn_n  # near the zenith turning is hard


def test_what_tips_it_is_less_than_for_a_balanced_tube() -> None:
    """Three feet at 260: side 130, by hand; the imbalance takes a little of it."""
    found = whole().standing
    assert found is not None
    assert found.side_mm == pytest.approx(130.0)
    level = whole().attitudes[0]
    assert level.push_n is not None and level.height_mm is not None
    balanced = found.mass_kg * G * 130.0 / level.height_mm
    assert 0.9 * balanced < level.push_n < balanced


def test_the_diagonal_lights_what_optics_say() -> None:
    lit = whole().diagonal
    assert isinstance(lit, Diagonal)
    assert lit.lit_mm == pytest.approx(fully_illuminated_field_mm(lit.cone))
    wide = lit.views[0]
    assert wide.width_mm == pytest.approx(27.0)  # the field stop of the kit
    assert wide.rim_share == pytest.approx(float(edge_illumination(lit.cone, 13.5)))
    assert wide.rim_loss_mag == pytest.approx(-2.5 * np.log10(wide.rim_share))


def test_the_focus_room_lights_the_usual_field() -> None:
    """Where the focus may lie, the diagonal of the kit is the least one for 10 mm."""
    lit, shell = whole().diagonal, kit().rig.shell
    assert lit is not None and lit.focus_room_mm is not None and shell is not None
    assert shell.outside_mm is not None
    nearer = replace(lit.cone, diagonal_to_focus_mm=lit.focus_room_mm + shell.outside_mm)
    assert fully_illuminated_field_mm(nearer) == pytest.approx(10.0, abs=1e-6)


def test_the_path_follows_from_tube_and_focuser_where_the_kit_does_not_tell() -> None:
    scope = replace(kit().telescope(), diagonal_to_focus_mm=None)
    found = account(scope, kit().rig, kit().views(scope)).diagonal
    assert found is not None
    assert found.cone.diagonal_to_focus_mm == pytest.approx(97.5 + 6.0 + 85.0)


def test_the_telescope_alone_still_tells_light_and_heights() -> None:
    found = told(Rig())
    assert found.diagonal is not None and found.rings
    assert [row.height_mm for row in found.attitudes] == [
        row.height_mm for row in whole().attitudes
    ]
    assert found.attitudes[0].raise_n is None
    assert (found.loadings, found.best_axis, found.standing, found.tube_kg) == (
        (),
        None,
        None,
        None,
    )
    assert {Missing.PARTS, Missing.CRADLE, Missing.BASE, Missing.MIRROR} <= set(found.missing)
    assert whole().missing == ()


def test_parts_without_a_cradle_tell_where_its_axis_should_be() -> None:
    found = told(replace(kit().rig, cradle=None))
    assert found.turnings == () and found.loadings == whole().loadings
    assert found.best_axis is not None and whole().best_axis is not None
    assert found.best_axis.along_mm == whole().best_axis.along_mm
    assert Missing.CRADLE in found.missing


def test_a_refractor_has_balance_and_no_diagonal() -> None:
    scope = replace(kit().telescope(), design=Design.REFRACTOR)
    found = account(scope, kit().rig, kit().views(scope))
    assert found.diagonal is None and found.rings == () and found.blank is None
    assert found.loadings == whole().loadings


def test_a_focuser_measured_twice_is_found_out() -> None:
    cradle = kit().rig.cradle
    assert cradle is not None
    moved = replace(cradle, axis=replace(cradle.axis, along_mm=300.0))
    assert told(replace(kit().rig, cradle=moved)).arm_gap_mm == pytest.approx(35.0)
    assert whole().arm_gap_mm == pytest.approx(0.0)


def test_a_refractors_eyepiece_sinks_and_is_told_its_forces() -> None:
    """The focuser 540 behind the axis of 720: by hand 720 - 540 sin 80 = 188; forces turned."""
    cradle = kit().rig.cradle
    assert cradle is not None and kit().telescope().stand is not None
    stand = replace(kit().telescope().stand, pivot_to_focuser_mm=-540.0, focuser_angle_deg=0.0)
    scope = replace(kit().telescope(), design=Design.REFRACTOR, stand=stand)
    parts = tuple(
        replace(part, load=replace(part.load, along_mm=-205.0))
        if part.role is Role.FOCUSER
        else part
        for part in kit().rig.parts
    )
    found = account(scope, replace(kit().rig, parts=parts), kit().views(scope))
    assert found.arm_gap_mm == pytest.approx(0.0)
    level, high = found.attitudes[0], found.attitudes[-1]
    assert high.height_mm == pytest.approx(720.0 - 540.0 * np.sin(np.radians(80.0)))
    assert found.heaviest is not None and found.heaviest.hold_nm is not None
    assert level.torque_nm is not None
    assert level.raise_n == pytest.approx((found.heaviest.hold_nm - level.torque_nm) / 0.540)
    assert level.lower_n == pytest.approx((found.heaviest.hold_nm + level.torque_nm) / 0.540)


def test_what_is_lifted_is_the_heaviest_loading_and_the_cradle() -> None:
    parts = sum(part.load.mass_kg for part in kit().rig.parts)
    assert whole().tube_kg == pytest.approx(parts + 0.26 + 0.8)


def test_where_the_focus_lies_above_the_focuser_is_told_by_the_shell_alone() -> None:
    """205 mm of path less 97.5 + 6 + 85 to the top of the focuser racked in: 16.5."""
    lit = whole().diagonal
    assert lit is not None and lit.rack_mm == pytest.approx(16.5)
    bare = told(replace(kit().rig, shell=None)).diagonal
    assert bare is not None and bare.rack_mm is None
