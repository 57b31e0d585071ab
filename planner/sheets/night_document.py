"""The plan as one JSON object, format ``planner-night/1``; docs/formats.md names every field."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from planner.night.plan import BodyDetail, RedStarDetail
from planner.sheets.double_words import (
    CLASS_NAMES,
    TOLD_CLASSES,
    further_pair_words,
    limiting_seeing,
    outlook_words,
    whole_tenths,
)
from planner.sheets.events_document import event_row
from planner.sheets.feature_words import feature_rows
from planner.sheets.hop_document import hop_document
from planner.sheets.json_text import iso_time, rounded
from planner.sheets.night_notes import night_notes
from planner.sheets.seen_words import seen_row
from planner.sheets.verdict_words import limit_words, reason_words, verdict_words
from planner.verdict.pairs.criteria import SplitClass

if TYPE_CHECKING:
    from planner.night.plan import DoubleDetail, Plan, PlannedTarget
    from planner.optics.view import View

FORMAT = "planner-night/1"
EVENTS = (
    "sunset", "civil_dusk", "nautical_dusk", "astronomical_dusk", "astronomical_dawn",
    "nautical_dawn", "civil_dawn", "sunrise", "moonrise", "moonset",
)  # fmt: skip

# The keys of a row in order, those of doubles last: a table has them all, whatever it holds.
COLUMNS = (
    "id", "name", "designations", "kind", "constellation", "ra_deg", "dec_deg", "magnitude",
    "magnitude_range", "size_arcmin", "window_start", "window_end", "best_time", "as_good_from",
    "as_good_until", "altitude_deg", "azimuth_deg", "airmass", "shown", "verdict", "margin",
    "margin_unit", "uncertainty", "limited_by", "reason", "view", "eyepiece", "magnification",
    "exit_pupil_mm", "true_field_deg", "filter", "drift_s", "worth", "last_look", "features",
    "satellites", "hop", "components",
    "separation_arcsec", "position_angle_deg", "magnitudes", "measure_epoch", "measure_source",
    "colours", "class", "worst_seeing_arcsec", "worst_seeing_by_class", "worst_seeing_by_test",
    "chance_alignment",
    "outlook", "other_pairs",
)  # fmt: skip


def night_document(plan: Plan) -> dict[str, Any]:
    """The whole plan as plain dicts, lists, numbers, texts and None."""
    site = plan.site
    return {
        "format": FORMAT,
        "site": {
            "name": site.name,
            "latitude_deg": site.latitude_deg,
            "longitude_deg": site.longitude_deg,
            "elevation_m": site.elevation_m,
            "timezone": site.timezone,
            "pressure_hpa": round(site.pressure_hpa, 1),
            "temperature_c": site.temperature_c,
        },
        "night": {
            "date": plan.night.date.isoformat(),
            **{event: iso_time(getattr(plan.night, event)) for event in EVENTS},
            "hours_from": None if plan.start is None else f"{plan.start:%H:%M}",
            "hours_until": None if plan.end is None else f"{plan.end:%H:%M}",
            "hours_usual": plan.start_usual and plan.end_usual,
            "moon_up_at_start": plan.night.moon_up_at_start,
            "moon_illuminated_fraction": round(plan.moon_illuminated_fraction, 3),
        },
        "instrument": _instrument(plan),
        "assumptions": asdict(plan.assumptions),
        "considered": plan.considered,
        "shown_count": plan.shown_count,
        "notes": list(night_notes(plan)),
        "events": [event_row(event) for event in plan.events],
        "targets": target_rows(plan),
    }


def target_rows(plan: Plan) -> list[dict[str, Any]]:
    """Every target of the plan as a flat dict."""
    return [target_row(target) for target in plan.targets]


def target_row(target: PlannedTarget) -> dict[str, Any]:
    """One target as a flat dict; doubles carry their own fields at the end."""
    row: dict[str, Any] = {
        "id": target.id,
        "name": target.name,
        "designations": list(target.designations),
        "kind": target.kind.value,
        "constellation": target.constellation,
        "ra_deg": round(target.ra_deg, 6),
        "dec_deg": round(target.dec_deg, 6),
        "magnitude": rounded(target.magnitude, 2),
        "magnitude_range": (
            list(target.detail.range_mag) if isinstance(target.detail, RedStarDetail) else None
        ),
        "size_arcmin": (
            [round(axis, 3) for axis in target.size_arcmin] if target.size_arcmin else None
        ),
        "window_start": iso_time(target.window_start),
        "window_end": iso_time(target.window_end),
        "best_time": iso_time(target.best_time),
        "as_good_from": iso_time(target.even_start),
        "as_good_until": iso_time(target.even_end),
        "altitude_deg": rounded(target.altitude_deg, 3),
        "azimuth_deg": rounded(target.azimuth_deg, 3),
        "airmass": rounded(target.airmass, 3),
        "shown": target.shown,
        "verdict": verdict_words(target),
        "margin": None if target.margin is None else math.floor(100.0 * target.margin) / 100.0,
        "margin_unit": target.margin_unit.value,
        "uncertainty": rounded(target.uncertainty, 2),
        "limited_by": limit_words(target),
        "reason": reason_words(target),
        **_view_fields(target.view),
        "filter": target.filter_name,
        "drift_s": rounded(target.drift_s, 1),
        "worth": round(target.worth.total, 1),
        "last_look": seen_row(target.seen),
        "features": (
            feature_rows(target.detail.features) if isinstance(target.detail, BodyDetail) else None
        ),
        "satellites": _satellites(target),
        "hop": None if target.hop is None else hop_document(target.hop),
    }
    if target.double is not None:
        row.update(_double_fields(target.double))
        row["other_pairs"] = [_other_pair(other) for other in target.double.others]
    return row


def _satellites(target: PlannedTarget) -> dict[str, Any] | None:
    detail = target.detail
    if not isinstance(detail, BodyDetail) or detail.satellites is None:
        return None
    from planner.sheets.satellite_words import satellite_document  # few ask for moons

    return satellite_document(detail.satellites)


def _instrument(plan: Plan) -> dict[str, Any]:
    telescope = plan.telescope
    return {
        "name": telescope.name,
        "design": telescope.design.value,
        "clear_aperture_mm": telescope.clear_aperture_mm,
        "focal_length_mm": telescope.focal_length_mm,
        "obstruction_ratio": round(telescope.obstruction_ratio, 4),
        "wavefront_rms_waves": round(telescope.glass.rms_waves, 4),
        "eyepieces": [
            {
                "name": view.name,
                "magnification": round(view.magnification, 2),
                "exit_pupil_mm": round(view.exit_pupil_mm, 3),
                "true_field_deg": round(view.true_field_deg, 4),
            }
            for view in plan.views
        ],
    }


VIEW_FIELDS = ("view", "eyepiece", "magnification", "exit_pupil_mm", "true_field_deg")


def _view_fields(view: View | None) -> dict[str, Any]:
    if view is None:
        return dict.fromkeys(VIEW_FIELDS)
    return {
        "view": view.name,
        "eyepiece": view.name if view.eyepiece is not None else None,
        "magnification": round(view.magnification, 2),
        "exit_pupil_mm": round(view.exit_pupil_mm, 3),
        "true_field_deg": round(view.true_field_deg, 4),
    }


def _double_fields(double: DoubleDetail) -> dict[str, Any]:
    return {
        "components": double.components,
        "separation_arcsec": round(double.separation_arcsec, 3),
        "position_angle_deg": rounded(double.position_angle_deg, 1),
        "magnitudes": [round(magnitude, 2) for magnitude in double.magnitudes],
        "measure_epoch": rounded(double.measure_epoch, 2),
        "measure_source": double.measure_source,
        "colours": list(double.colours),
        "class": CLASS_NAMES[double.split_class],
        "worst_seeing_arcsec": limiting_seeing(double, SplitClass.JUST),
        "worst_seeing_by_class": {
            CLASS_NAMES[told]: limiting_seeing(double, told) for told in TOLD_CLASSES
        },
        "worst_seeing_by_test": _tested(double),
        "chance_alignment": double.chance_alignment,
        "outlook": None if double.outlook is None else outlook_words(double.outlook),
    }


def _tested(double: DoubleDetail) -> list[float] | None:
    """Worst seeing of a just split pair with the glass as poor and as good as its test allows."""
    if double.tested_seeing_arcsec is None:
        return None
    return [whole_tenths(worst[SplitClass.JUST - 1]) for worst in double.tested_seeing_arcsec]


def _other_pair(double: DoubleDetail) -> dict[str, Any]:
    return {
        "name": double.name,
        "verdict": further_pair_words(double),
        **_view_fields(double.view),
        **_double_fields(double),
    }
