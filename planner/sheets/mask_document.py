"""The mask study as plain values: a JSON document and rows for CSV."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.sheets.mask_words import VERDICT_WORDS, pair_name
from planner.targets.columns import known

if TYPE_CHECKING:
    from planner.verdict.scope.mask_study import MaskFinding, MaskStep, MaskStudy

FORMAT = "planner-mask-study/1"


def mask_document(study: MaskStudy) -> dict[str, Any]:
    """The study as plain values, format ``planner-mask-study/1``."""
    telescope = study.telescope
    return {
        "format": FORMAT,
        "telescope": {
            "name": telescope.name,
            "aperture_mm": telescope.aperture_mm,
            "obstruction_mm": telescope.obstruction_mm,
            "wavefront_rms_waves": telescope.glass.rms_waves,
            "turned_edge_width_mm": round(telescope.glass.edge_width_mm, 3),
            "turned_edge_waves": telescope.glass.edge_waves,
        },
        "magnification": round(study.view.magnification, 1),
        "eyepiece": study.view.name,
        "pairs": [_finding(study, finding) for finding in study.findings],
        "masks": [_step(study, step) for step in study.steps],
        "good_edge": _step(study, study.good_edge),
        "best_compromise_clear_aperture_mm": study.steps[study.compromise].clear_aperture_mm,
    }


def mask_rows(study: MaskStudy) -> list[dict[str, Any]]:
    """One flat row per mask, for CSV, and the full glass with a good edge as the last."""
    rows = [(step, "as it is") for step in study.steps] + [(study.good_edge, "good")]
    return [{"edge": edge} | _step(study, step) for step, edge in rows]


def _finding(study: MaskStudy, finding: MaskFinding) -> dict[str, Any]:
    return {
        "pair": pair_name(finding),
        "separation_arcsec": round(finding.separation_arcsec, 2),
        "difference_mag": finding.pair.difference_mag,
        "a_mask": VERDICT_WORDS[finding.verdict],
        "best_clear_aperture_mm": study.steps[finding.best_step].clear_aperture_mm,
        "gain": _share(finding.gain_share),
        "gain_under_widest_mask": _share(finding.widest_gain_share),
        "gain_of_a_good_edge": _share(finding.good_edge_gain_share),
    }


def _share(value: float) -> float | None:
    told = known(value)
    return None if told is None else round(told, 3)


def _step(study: MaskStudy, step: MaskStep) -> dict[str, Any]:
    values: dict[str, Any] = {
        "clear_aperture_mm": round(step.clear_aperture_mm, 2),
        "ring_covered_mm": round(step.covered_mm, 2),
        "obstruction_ratio": round(step.obstruction_ratio, 4),
        "strehl": round(step.strehl, 3),
        "contrast_kept": [round(kept, 3) for kept in step.contrast_kept],
        "light_lost_mag": round(step.light_lost_mag, 3),
    }
    for finding, seeing in zip(study.findings, step.limiting_seeing_arcsec, strict=True):
        name = pair_name(finding).replace(" ", "_")
        values[f"worst_seeing_{name}_arcsec"] = round(seeing, 2) if seeing > 0.0 else None
    return values
