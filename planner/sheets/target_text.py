"""Everything about one target tonight, in words and a small table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from tabulate import tabulate

from planner.sheets.double_words import (
    CLASS_NAMES,
    TOLD_CLASSES,
    further_pair_words,
    outlook_words,
    seeing_told,
    worst_seeing,
)
from planner.sheets.night_words import (
    clock,
    compass_point,
    eyepiece_words,
    night_lines,
    position,
    span,
    what_it_is,
)
from planner.sheets.page_text import wrapped
from planner.sheets.verdict_words import reason_words, verdict_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from planner.night.margin_curve import MarginCurve
    from planner.night.plan import DoubleDetail, Plan, PlannedTarget
    from planner.night.single_target import ListPlace

EVERY_MIN = 30
CURVE_WIDTH = 24
LEAST_SCALE = 1.0  # magnitude or arcsecond that the whole curve stands for, so that little is short


def target_text(plan: Plan, courses: Sequence[MarginCurve], places: Mapping[str, ListPlace]) -> str:
    """A page for each target of the plan, with the night's header once at the end.

    ``places`` has the place of each target on the night's whole list, by id.
    """
    pages = [
        _page(plan, target, course, places.get(target.id))
        for target, course in zip(plan.targets, courses, strict=True)
    ]
    header = "\n".join(wrapped(line) for line in night_lines(plan))
    return "\n\n".join([*pages, header])


def _page(plan: Plan, target: PlannedTarget, course: MarginCurve, place: ListPlace | None) -> str:
    lines = [f"{target.name}: {target.kind.label} in {target.constellation}, {what_it_is(target)}"]
    others = [name for name in target.designations if name not in target.name]
    if others:
        lines.append("also " + ", ".join(others))
    lines.append(f"position {position(target)} (ICRS)")
    if target.double is not None:
        lines.extend(_double_lines(target.double))
    lines.append("")
    lines.extend(_tonight_lines(plan, target, place))
    table = _course_table(plan, course)
    return "\n".join(wrapped(line) for line in lines) + ("\n\n" + table if table else "")


def _double_lines(double: DoubleDetail) -> list[str]:
    angle = (
        "position angle unknown"
        if double.position_angle_deg is None
        else f"position angle {double.position_angle_deg:.0f}°"
    )
    when = "year unknown," if double.measure_epoch is None else f"for {double.measure_epoch:.1f}"
    lines = [
        f'{double.components}: {double.separation_arcsec:.2f}", {angle}, magnitudes '
        f"{double.magnitudes[0]:.2f} and {double.magnitudes[1]:.2f}; {when} from "
        f"{double.measure_source.removeprefix('from ')}"
    ]
    colours = [word or "unknown" for word in double.colours]
    if any(double.colours):
        lines.append(f"colours by catalogue: {colours[0]} and {colours[1]}")
    if double.outlook is not None:
        lines.append(f"orbit: {outlook_words(double.outlook)}")
    if double.chance_alignment:
        lines.append("probably a chance alignment, not a true pair")
    worst = [
        f"{CLASS_NAMES[told]} {seeing_told(value)}"
        for told in TOLD_CLASSES
        if (value := worst_seeing(double, told))
    ]
    if worst:
        lines.append("worst zenith seeing: " + ", ".join(worst))
    for other in double.others:
        first, *rest = _double_lines(other)
        view = other.view
        using = f" in the {view.name}, {view.magnification:.0f}x" if view else ""
        lines.append(f"further pair {other.name}: {further_pair_words(other)}{using}")
        lines.extend(f"  {line}" for line in (first, *rest))
    return lines


def _tonight_lines(plan: Plan, target: PlannedTarget, place: ListPlace | None) -> list[str]:
    reason = reason_words(target)
    if target.best_time is None or target.altitude_deg is None or target.azimuth_deg is None:
        return [f"Not on tonight's list: {reason}."]
    worth = target.worth
    lines = [
        f"{_list_words(target, place)}: {verdict_words(target)}. {_sentence(reason)}",
        f"Best at {clock(target.best_time)}, {target.altitude_deg:.0f}° high in the "
        f"{compass_point(target.azimuth_deg)}; usable "
        f"{span(target.window_start, target.window_end)}",
    ]
    lines.append(
        f"Worth {worth.total:.0f} points: {worth.view:.0f} for the view, {worth.standing:.0f} for "
        f"its standing in best-of lists, {worth.rarity:.0f} for its rarity tonight"
    )
    view = target.view
    if view is not None and target.drift_s is not None:
        drift = (
            f"; crosses the standing field in {target.drift_s:.0f} s"
            if plan.telescope.mount.value.startswith("hand")
            else ""
        )
        lines.append(
            f"Eyepiece: {eyepiece_words(target)}, exit pupil "
            f"{view.exit_pupil_mm:.1f} mm, field {view.true_field_deg:.2f}°{drift}"
        )
    return lines


def _list_words(target: PlannedTarget, place: ListPlace | None) -> str:
    """Whether the night's list has it, and where."""
    if not target.shown:
        return "Not on tonight's list"
    if place is None:
        return "Shown tonight"
    where = f"place {place.place} of {place.shown_count}"
    if place.listed:
        return f"On tonight's list, {where}"
    return f"Shown tonight, {where}, past the usual end of the list"


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def _course_table(plan: Plan, course: MarginCurve) -> str:
    """Height, sky and margin every half hour, with the margin as a curve of marks."""
    step = max(1, round(EVERY_MIN / plan.assumptions.time_step_min))
    rows = range(0, len(course.instants), step)
    listed = [row for row in rows if course.altitude_deg[row] > 0.0]
    if not listed:
        return ""
    finite = course.margin[listed][np.isfinite(course.margin[listed])]
    most = max(LEAST_SCALE, float(finite.max(initial=0.0)))
    table = [
        [
            clock(course.instants[row]),
            f"{course.altitude_deg[row]:.0f}°",
            compass_point(float(course.azimuth_deg[row])),
            "-" if np.isnan(course.sky_mag[row]) else f"{course.sky_mag[row]:.1f}",
            "-" if np.isnan(course.margin[row]) else f"{course.margin[row]:+.1f}",
            _marks(float(course.margin[row]), most, bool(course.usable[row])),
        ]
        for row in listed
    ]
    legend = f"({course.unit}; . = not usable, blank = no margin)"
    headers = ["time", "alt", "where", "sky", "margin", legend]
    return str(
        tabulate(
            table,
            headers=headers,
            colalign=("left", "right", "left", "right", "right", "left"),
            disable_numparse=True,
        )
    )


def _marks(margin: float, most: float, usable: bool) -> str:
    if not np.isfinite(margin) or margin <= 0.0:
        return "" if usable else "."
    length = max(1, round(CURVE_WIDTH * min(margin / most, 1.0)))
    return ("#" if usable else ".") * length
