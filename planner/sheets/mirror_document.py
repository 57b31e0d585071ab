"""A mirror test reduced, as plain values for JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.mirror.criteria import (
    airy_radius_mm,
    greatest_ratio_band,
    least_greatest_ratio,
    tolerances_mm,
    transverse_doubts,
    transverse_ratios,
)
from planner.mirror.doubts import doubts
from planner.mirror.tester import theory_mm
from planner.mirror.whole import strehl_with_edge
from planner.sheets.json_text import rounded

if TYPE_CHECKING:
    from planner.mirror.reduction import Interval, Reduction

FORMAT = "planner-mirror/1"
EVERY = 3  # of the reduction's radii


def mirror_document(found: Reduction) -> dict[str, Any]:
    """A reduction as dicts, lists, numbers and texts; docs/formats.md has its fields."""
    test, mean = found.test, found.averaged
    ratio, constant = least_greatest_ratio(test)
    rim, valley = test.optical_diameter_mm / 2.0, found.peak_to_valley_waves
    columns = zip(
        test.zones, test.rms_radii_mm, mean.readings_mm, theory_mm(test), tolerances_mm(test),
        transverse_ratios(test, constant), transverse_doubts(test), strict=True,
    )  # fmt: skip
    profile = zip(found.rho * rim, found.wave, found.low, found.high, strict=True)
    return {
        "format": FORMAT,
        "name": test.name,
        "optical_diameter_mm": test.optical_diameter_mm,
        "radius_of_curvature_mm": test.radius_mm,
        "source": "fixed" if test.fixed_source else "moving",
        "runs": mean.runs,
        "knife_error_um": round(1000.0 * mean.knife_error_mm, 3),
        "edge_width_mm": test.edge_width_mm,
        "edge_waves": test.edge_waves,
        "strehl_with_edge": rounded(strehl_with_edge(found), 3),
        "rms_waves": _interval(found.rms_waves),
        "rms_is_upper_limit": found.is_upper_limit,
        "peak_to_valley_waves": round(valley.value, 4),
        "peak_to_valley_band_waves": [round(valley.low, 4), round(valley.high, 4)],
        "strehl": _interval(found.strehl),
        "conic_constant": _interval(found.conic),
        "airy_radius_um": round(1000.0 * airy_radius_mm(test), 3),
        "worst_transverse_airy": round(ratio, 3),
        "worst_transverse_band_airy": [round(end, 3) for end in greatest_ratio_band(test)],
        "doubts": [doubt.name.lower() for doubt in doubts(found)],
        "windows": [
            {
                "inner_mm": round(inner, 3),
                "outer_mm": round(outer, 3),
                "radius_mm": round(float(radius), 3),
                "reading_mm": round(float(reading), 4),
                "paraboloid_mm": round(float(wanted), 4),
                "tolerance_mm": round(float(room), 4),
                "transverse_airy": round(float(share), 3),
                "doubt_airy": round(float(doubt), 3),
            }
            for (inner, outer), radius, reading, wanted, room, share, doubt in columns
        ],
        "profile": [
            {
                "radius_mm": round(float(radius), 2),
                "wave": round(float(wave), 4),
                "low": round(float(low), 4),
                "high": round(float(high), 4),
            }
            for radius, wave, low, high in list(profile)[::EVERY]
        ],
    }


def _interval(told: Interval) -> dict[str, float]:
    return {
        "value": round(told.value, 4), "low": round(told.low, 4), "high": round(told.high, 4),
    }  # fmt: skip
