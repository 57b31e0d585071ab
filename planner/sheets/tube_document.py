"""The tube and what carries it as plain values: a JSON document."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from planner.sheets.json_text import rounded
from planner.tube.account import HOLD_FACTOR
from planner.tube.cooling import FAN_W_M2K, STILL_W_M2K
from planner.tube.field import USUAL_LIT_FIELD_MM, USUAL_OBSTRUCTION

if TYPE_CHECKING:
    from planner.tube.account import Account, AxisChoice
    from planner.tube.field import Diagonal
    from planner.tube.friction_check import FrictionCheck
    from planner.tube.loading import Loading, Turning

FORMAT = "planner-tube/1"


def tube_document(found: Account) -> dict[str, Any]:
    """The answer as plain values, format ``planner-tube/1``."""
    base = found.rig.base
    turned = found.turnings or [None] * len(found.loadings)
    return {
        "format": FORMAT,
        "telescope": found.telescope.name,
        "light": None if found.diagonal is None else _light(found.diagonal),
        "rings": [_all_rounded(asdict(ring), 2) for ring in found.rings],
        "loadings": [_loading(*pair) for pair in zip(found.loadings, turned, strict=True)],
        "best_axis": _axis(found.best_axis),
        "cradle_axis": _axis(found.cradle_axis),
        "friction_check": _check(found.friction_check),
        "altitudes": [_all_rounded(asdict(row), 3) for row in found.attitudes],
        "standing": None if found.standing is None else _all_rounded(asdict(found.standing), 3),
        "cooling": _cooling(found),
        "tube_kg": rounded(found.tube_kg, 3),
        "base_kg": None if base is None else round(base.mass_kg, 3),
        "practice": {
            "hold_factor": HOLD_FACTOR,
            "lit_field_mm": USUAL_LIT_FIELD_MM,
            "obstruction_at_most": USUAL_OBSTRUCTION,
        },
        "unweighed": list(found.unweighed),
        "missing": [each.name.lower().replace("_", " ") for each in found.missing],
    }


def _light(lit: Diagonal) -> dict[str, Any]:
    return {
        "diagonal_mm": lit.cone.secondary_mm,
        "diagonal_to_focus_mm": round(lit.cone.diagonal_to_focus_mm, 2),
        "rack_mm": rounded(lit.rack_mm, 2),
        "fully_lit_field_mm": round(lit.lit_mm, 3),
        "diagonal_offset_mm": round(lit.offset_mm, 3),
        "practice_diagonal_mm": round(lit.usual_diagonal_mm, 2),
        "practice_focus_outside_mm": rounded(lit.focus_room_mm, 2),
        "eyepieces": [
            {
                "name": field.view,
                "field_mm": round(field.width_mm, 2),
                "rim_share": round(field.rim_share, 4),
                "rim_loss_mag": _finite(field.rim_loss_mag, 3),
                "diagonal_mm": round(field.diagonal_mm, 2),
            }
            for field in lit.views
        ],
    }


def _loading(loading: Loading, turned: Turning | None) -> dict[str, Any]:
    told: dict[str, Any] = {
        "focuser": loading.view,
        "without": loading.without,
        "mass_kg": round(loading.load.mass_kg, 4),
        "along_mm": round(loading.load.along_mm, 2),
        "above_mm": round(loading.load.above_mm, 2),
        "slide_mm": None, "torque_nm": None, "hold_nm": None, "may_come_kg": None,
        "may_go_kg": None, "sinks_deg": None, "rises_deg": None,
    }  # fmt: skip
    if turned is not None:
        torque = turned.torque_nm
        told |= {
            "slide_mm": round(turned.slide_mm, 2),
            "torque_nm": [round(float(torque.min()), 4), round(float(torque.max()), 4)],
            "hold_nm": rounded(turned.hold_nm, 4),
            "may_come_kg": _finite(turned.more_kg, 4),
            "may_go_kg": None if loading.view is None else _finite(turned.less_kg, 4),
            "sinks_deg": turned.drifting(down=True),
            "rises_deg": turned.drifting(down=False),
        }
    return told


def _axis(axis: AxisChoice | None) -> dict[str, Any] | None:
    if axis is None:
        return None
    return {
        "along_mm": round(axis.along_mm, 2),
        "above_mm": round(axis.above_mm, 2),
        "greatest_torque_nm": round(axis.torque_nm, 4),
        "practice_bearing_radius_mm": rounded(axis.radius_mm, 1),
    }


def _check(check: FrictionCheck | None) -> dict[str, Any] | None:
    if check is None:
        return None
    return {
        "focuser": check.loading.view,
        "slide_first_mm": round(check.slide_first_mm, 2),
        "both_pulls_n": round(check.both_pulls_n, 3),
    }


def _cooling(found: Account) -> dict[str, Any] | None:
    blank = found.blank
    if blank is None:
        return None
    return {
        "mirror_kg": round(blank.mass_kg(found.telescope.focal_length_mm), 3),
        "glass": str(blank.glass),
        "open_back": blank.open_back,
        "time_constant_min": round(blank.time_constant_min(STILL_W_M2K), 1),
        "time_constant_with_fan_min": round(blank.time_constant_min(FAN_W_M2K), 1),
    }


def _all_rounded(values: dict[str, float | None], digits: int) -> dict[str, float | None]:
    return {name: _finite(value, digits) for name, value in values.items()}


def _finite(value: float | None, digits: int) -> float | None:
    """Rounded; None for what has no bound."""
    return None if value is None or math.isinf(value) else round(value, digits)
