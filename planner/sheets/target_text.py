"""Everything about one target tonight, in words and a small table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from tabulate import tabulate

from planner.angles import compass_point
from planner.night.plan import BodyDetail
from planner.sheets.clock_words import clock
from planner.sheets.double_words import (
    CLASS_NAMES,
    TOLD_CLASSES,
    further_pair_words,
    limiting_seeing,
    outlook_words,
    seeing_told,
)
from planner.sheets.feature_words import feature_lines
from planner.sheets.hop_words import CLOCK_NOTE, hop_words
from planner.sheets.night_words import (
    eyepiece_words,
    night_lines,
    position,
)
from planner.sheets.page_text import wrapped
from planner.sheets.seen_words import seen_line
from planner.sheets.target_verdict import verdict_lines

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from planner.night.margin_curve import MarginCurve
    from planner.night.plan import DoubleDetail, Plan, PlannedTarget, WorthTerms
    from planner.night.single_target import ListPlace

EVERY_MIN = 30
CURVE_WIDTH = 24
MUCH_HIGHER_DEG = 15.0  # from which other hours are pointed out; own judgement
LEAST_SCALE = 1.0  # magnitude or arcsecond that the whole curve stands for, so that little is short


def target_text(
    plan: Plan,
    courses: Sequence[MarginCurve],
    places: Mapping[str, ListPlace],
    *,
    optics: bool = False,
    course: bool = False,
) -> str:
    """A page for each target of the plan, with the night's header once at the end.

    The verdict comes first, then the facts; ``optics`` adds what the view and the seeing do,
    ``course`` the night in half hours. ``places`` has the place of each target on the night's
    whole list, by id.
    """
    pages = []
    for target, curve in zip(plan.targets, courses, strict=True):
        facts = _fact_lines(target)
        facts += _other_hours_lines(plan, target, curve)
        facts += _optics_lines(plan, target) if optics else []
        blocks = [
            "\n".join(wrapped(line) for line in lines)
            for lines in (verdict_lines(target, places.get(target.id)), facts)
        ]
        if course and (table := _course_table(plan, curve)):
            blocks.append(table)
        pages.append("\n\n".join(blocks))
    header = "\n".join(wrapped(line) for line in night_lines(plan))
    return "\n\n".join([*pages, header])


def _fact_lines(target: PlannedTarget) -> list[str]:
    """What the target is, whatever the night, and why it is worth its place."""
    lines = []
    others = [name for name in target.designations if name not in target.name]
    if others:
        lines.append("also " + ", ".join(others))
    lines.append(f"position {position(target)} (ICRS)")
    if target.hop is not None:
        lines += [*hop_words(target.hop), CLOCK_NOTE] if target.hop.legs else hop_words(target.hop)
    if target.double is not None:
        lines.extend(_double_lines(target.double))
    if isinstance(target.detail, BodyDetail):
        lines.extend(feature_lines(target.detail.features))
        if target.detail.moon is not None:
            from planner.sheets.lunar_words import face_words  # few ask for the Moon

            lines += [face_words(target.detail.moon), "feature by feature: planner moon"]
        if target.detail.satellites is not None and target.best_time is not None:
            from planner.sheets.satellite_words import satellite_lines  # few ask for moons

            lines.extend(satellite_lines(target.detail.satellites, clock(target.best_time)))
    if target.seen is not None:
        lines.append(seen_line(target.seen))
    if target.shown:
        lines.append(_worth_line(target.worth))
    return lines


def _worth_line(worth: WorthTerms) -> str:
    """The points that decide the place in the list, each term."""
    log = ""
    if round(worth.log):
        log = f", {worth.log:+.0f} for {'your looks so far' if worth.log < 0.0 else 'another try'}"
    return (
        f"worth {worth.total:.0f} points: {worth.view:.0f} for the view, {worth.standing:.0f} "
        f"for its standing in best-of lists, {worth.rarity:.0f} for its rarity tonight{log}"
    )


def _other_hours_lines(plan: Plan, target: PlannedTarget, course: MarginCurve) -> list[str]:
    """That it stands much better outside the hours looked at, one line or none."""
    if target.altitude_deg is None or (plan.start is None and plan.end is None):
        return []
    good = course.usable_any_hour & (course.margin > 0.0) & ~course.usable
    if not good.any():
        return []
    best = int(np.argmax(np.where(good, course.altitude_deg, -np.inf)))
    altitude = float(course.altitude_deg[best])
    if target.shown and altitude < target.altitude_deg + MUCH_HIGHER_DEG:
        return []
    how = "stands higher" if target.shown else "is shown"
    return [
        f"outside the hours looked at it {how}: {altitude:.0f}° high at "
        f"{clock(course.instants[best])} (--whole-night)"
    ]


def _optics_lines(plan: Plan, target: PlannedTarget) -> list[str]:
    """What the view does, and in which seeing each class of a pair goes."""
    view, lines = target.view, []
    if view is not None and target.drift_s is not None:
        drift = (
            f"; crosses the standing field in {target.drift_s:.0f} s"
            if plan.telescope.mount.value.startswith("hand")
            else ""
        )
        lines.append(
            f"in the {eyepiece_words(target)}: exit pupil {view.exit_pupil_mm:.1f} mm, field "
            f"{view.true_field_deg:.2f}°{drift}"
        )
    if target.double is not None:
        for double in (target.double, *target.double.others):
            worst = [
                f"{CLASS_NAMES[told]} {seeing_told(value)}"
                for told in TOLD_CLASSES
                if (value := limiting_seeing(double, told))
            ]
            if worst:
                lines.append(f"worst zenith seeing of {double.components}: {', '.join(worst)}")
    return lines


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
    for other in double.others:
        first, *rest = _double_lines(other)
        view = other.view
        using = f" in the {view.name}, {view.magnification:.0f}x" if view else ""
        lines.append(f"further pair {other.name}: {further_pair_words(other)}{using}")
        lines.extend(f"  {line}" for line in (first, *rest))
    return lines


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
    headers = ["time", "alt", "where", "sky", "margin", ""]
    legend = (
        f"sky: mag per square arcsecond there; margin: {course.unit}\n"
        ". = not usable or outside the hours, blank = no margin"
    )
    drawn = str(
        tabulate(
            table,
            headers=headers,
            colalign=("left", "right", "left", "right", "right", "left"),
            disable_numparse=True,
        )
    )
    return f"{drawn}\n{legend}"


def _marks(margin: float, most: float, usable: bool) -> str:
    if not np.isfinite(margin) or margin <= 0.0:
        return "" if usable else "."
    length = max(1, round(CURVE_WIDTH * min(margin / most, 1.0)))
    return ("#" if usable else ".") * length
