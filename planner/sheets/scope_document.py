"""The scope command's answer as plain values: a JSON document and rows for CSV."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from planner.sheets.json_text import rounded
from planner.sheets.purpose_words import rank_words, unit_words
from planner.sheets.scope_words import CAUSE_NAMES, USE_WORDS, bound_words
from planner.verdict.scope.closest_pairs import DIFFERENCES_MAG

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.verdict.faintest_star import FaintestStar
    from planner.verdict.powers import PowerBound
    from planner.verdict.scope.closest_pairs import ClosestPairs
    from planner.verdict.scope.instrument import InstrumentSummary, NewtonianSummary
    from planner.verdict.scope.limit_reasons import LimitReasons
    from planner.verdict.scope.purpose import RankedView
    from planner.verdict.scope.view_summary import ViewSummary
    from planner.verdict.setup import Setup

FORMAT = "planner-scope/1"


def scope_document(
    summary: InstrumentSummary,
    views: Sequence[ViewSummary],
    faintest: FaintestStar,
    reasons: LimitReasons,
    closest: Sequence[ClosestPairs],
    ranked: Sequence[RankedView] | None = None,
) -> dict[str, Any]:
    """The answer as plain values, format ``planner-scope/1``."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "telescope": _telescope(summary),
        "conditions": _conditions(summary),
        "image": {
            "dawes_arcsec": round(summary.dawes_arcsec, 3),
            "rayleigh_arcsec": round(summary.rayleigh_arcsec, 3),
            "dark_ring_arcsec": round(summary.dark_ring_arcsec, 3),
            "sparrow_arcsec": round(summary.sparrow_arcsec, 3),
            "strehl": round(summary.strehl, 3),
            "strehl_unmasked": (
                None if summary.open_strehl is None else round(summary.open_strehl, 3)
            ),
            "strehl_band": (
                None if summary.strehl_band is None else [round(s, 3) for s in summary.strehl_band]
            ),
            "central_light_share": round(summary.central_light_share, 3),
            "depth_of_focus_mm": round(summary.depth_of_focus_mm, 4),
        },
        "closest_pairs": [_closest(each) for each in closest],
        "light": {
            "grasp": round(summary.light_grasp, 1),
            "faintest_star_mag": [round(faintest.low_mag, 2), round(faintest.high_mag, 2)],
            "faintest_star_by_model": {name: round(mag, 2) for name, mag in faintest.by_model},
            "faintest_star_handbook_mag": round(faintest.handbook_mag, 2),
            "faintest_star_exit_pupil_mm": round(faintest.exit_pupil_mm, 3),
            "faintest_star_reasons": _reasons(reasons),
        },
        "lowest_useful_power": _bound(summary, summary.lowest_power),
        "highest_useful_powers": [_bound(summary, bound) for bound in summary.highest_powers],
        "newtonian": _newtonian_document(summary.newtonian),
        "views": view_rows(views),
    }
    if ranked is not None:
        document["ranking"] = ranking_rows(summary.setup, ranked)
    return document


def _closest(closest: ClosestPairs) -> dict[str, Any]:
    tests = closest.by_test or (None,) * len(closest.separations_arcsec)
    rows = zip(DIFFERENCES_MAG, closest.separations_arcsec, tests, strict=True)
    return {
        "seeing_arcsec": closest.seeing_arcsec,
        "view": closest.view.name,
        "magnification": round(closest.view.magnification, 2),
        "pairs": [
            {
                "difference_mag": difference,
                "separation_arcsec": rounded(separation, 2),
                "by_test_arcsec": None if ends is None else [rounded(end, 2) for end in ends],
            }
            for difference, separation, ends in rows
        ],
    }


def view_rows(views: Sequence[ViewSummary]) -> list[dict[str, Any]]:
    """One flat row per view, for CSV and JSON."""
    return [
        {
            "name": v.view.name,
            "eyepiece": v.view.eyepiece.name if v.view.eyepiece else None,
            "barlow": v.view.barlow.name if v.view.barlow else None,
            "magnification": round(v.view.magnification, 2),
            "exit_pupil_mm": round(v.view.exit_pupil_mm, 3),
            "true_field_deg": round(v.view.true_field_deg, 4),
            "field_from": "field stop" if v.view.field_is_measured else "apparent field",
            "drift_s": round(v.drift_s, 1),
            "faintest_star_mag": round(v.faintest_mag, 2),
            "faintest_star_second_mag": round(v.second_mag, 2),
            "sky_darker_mag": round(v.sky_dimming_mag, 2),
            "wasted_aperture_mm": round(v.wasted_aperture_mm, 1),
            "below_least_exit_pupil": v.below_least_pupil,
            "good_for": USE_WORDS[v.good_for],
        }
        for v in views
    ]


def ranking_rows(setup: Setup, ranked: Sequence[RankedView]) -> list[dict[str, Any]]:
    """One flat row per ranked view, for CSV and JSON."""
    return [
        {
            "rank": number,
            "name": r.view.name,
            "magnification": round(r.view.magnification, 2),
            "exit_pupil_mm": round(r.view.exit_pupil_mm, 3),
            "score": round(r.score, 3),
            "unit": unit_words(r.reason),
            "equal_within": r.equal_within,
            "reason": rank_words(setup, r),
        }
        for number, r in enumerate(ranked, start=1)
    ]


def _telescope(summary: InstrumentSummary) -> dict[str, Any]:
    telescope = summary.setup.telescope
    return {
        "name": telescope.name,
        "design": str(telescope.design),
        "aperture_mm": telescope.aperture_mm,
        "clear_aperture_mm": telescope.clear_aperture_mm,
        "focal_length_mm": telescope.focal_length_mm,
        "focal_ratio": round(telescope.focal_ratio, 3),
        "obstruction_ratio": round(telescope.obstruction_ratio, 4),
    }


def _conditions(summary: InstrumentSummary) -> dict[str, Any]:
    setup, observer = summary.setup, summary.setup.observer
    return {
        "sky_mag_per_arcsec2": round(setup.zenith_sky_mag, 2),
        "seeing_arcsec": setup.seeing_arcsec,
        "extinction_mag_per_airmass": round(setup.extinction_mag, 3),
        "eye_pupil_mm": round(observer.dark_pupil_mm, 2),
        "field_factor": round(observer.field_factor, 3),
    }


def _reasons(reasons: LimitReasons) -> dict[str, Any]:
    return {
        "bare_eye_mag": round(reasons.bare_eye_mag, 4),
        "changes": [
            {"cause": CAUSE_NAMES[cause], "change_mag": round(change, 4)}
            for cause, change in reasons.changes
        ],
        "limit_mag": round(reasons.limit_mag, 4),
        "sky_darker_mag": round(reasons.sky_darker_mag, 2),
        "black_exit_pupil_mm": round(reasons.black_exit_pupil_mm, 3),
        "blue_star_gain_mag": round(reasons.blue_gain_mag, 2),
        "red_star_gain_mag": round(reasons.red_gain_mag, 2),
    }


def _bound(summary: InstrumentSummary, power: PowerBound) -> dict[str, Any]:
    return {
        "magnification": round(power.magnification, 1),
        "reason": bound_words(summary, power.bound),
    }


def _newtonian_document(newtonian: NewtonianSummary | None) -> dict[str, Any] | None:
    if newtonian is None:
        return None
    return {
        name: None if value is None else round(value, 4)
        for name, value in asdict(newtonian).items()
    }
