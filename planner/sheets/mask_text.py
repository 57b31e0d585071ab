"""The mask study in words: a table of masks and what it says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.mask_words import edge_words, finding_words, pair_name, wave_words
from planner.sheets.page_text import cell_text, wrapped
from planner.verdict.scope.mask_study import (
    NOTHING_SHARE,
    NOTICED_SHARE,
    STRIPES_ARCSEC,
    MaskVerdict,
)

if TYPE_CHECKING:
    from planner.verdict.scope.mask_study import MaskFinding, MaskStep, MaskStudy

OWN_MARK = "*"


def mask_text(study: MaskStudy) -> str:
    """The whole study as text of at most 100 columns."""
    return "\n\n".join([_heading(study), _table(study), *_readings(study)])


def has_own_mask(study: MaskStudy) -> bool:
    """Whether the telescope of the kit is masked."""
    telescope = study.telescope
    return telescope.clear_aperture_mm < telescope.aperture_mm


def _heading(study: MaskStudy) -> str:
    telescope = study.telescope
    lines = (
        f"Masks over the edge of {telescope.name}: {telescope.design}, glass of "
        f"{telescope.aperture_mm:g} mm, {edge_words(telescope)}, {wave_words(telescope)}",
        "Worst zenith seeing (FWHM in arcsec, about) in which each pair is just split or its "
        f"companion held, at {study.view.magnification:.0f}x ({study.view.name}):",
    )
    return "\n".join(wrapped(line) for line in lines)


def _table(study: MaskStudy) -> str:
    pairs = [
        cell_text(pair_name(finding), 9)
        + f'\n{finding.separation_arcsec:.1f}"\n{finding.pair.difference_mag:.1f} mag'
        for finding in study.findings
    ]
    headers = [
        "ring\nmm",
        "clear\nmm",
        "second-\nary",
        "Strehl",
        "light\nlost\nmag",
        *pairs,
    ]
    own = study.telescope.clear_aperture_mm
    rows = [
        _row(step, OWN_MARK if abs(step.clear_aperture_mm - own) < 0.1 else "")
        for step in study.steps
    ]
    with_edge = study.telescope.glass.has_turned_edge
    if with_edge:
        rows.append(_row(study.good_edge, "", "good edge"))
    table = tabulate(
        rows, headers=headers, colalign=("right",) * len(headers), disable_numparse=True
    )
    notes = f"{OWN_MARK} the clear aperture in your kit"
    if with_edge:
        notes += "; good edge: the full glass if its edge were not turned"
    return f"{table}\n{wrapped(notes)}"


def _row(step: MaskStep, mark: str, name: str | None = None) -> list[str]:
    return [
        name or f"{step.covered_mm:.1f}",
        f"{mark}{step.clear_aperture_mm:.1f}",
        f"{step.obstruction_ratio:.1%}",
        f"{step.strehl:.2f}",
        f"{step.light_lost_mag:.2f}",
        *(f"{seeing:.2f}" if seeing > 0.0 else "-" for seeing in step.limiting_seeing_arcsec),
    ]


def _readings(study: MaskStudy) -> list[str]:
    """What the numbers say, pair by pair and together, and how far to trust them."""
    lines = [
        f'{pair_name(f)}, {f.separation_arcsec:.1f}" and {f.pair.difference_mag:.1f} mag: '
        f"{finding_words(study, f)}"
        + (f"; a good edge would bring {f.good_edge_gain_share:+.0%}" if _edge_matters(f) else "")
        for f in study.findings
    ]
    parts = ["\n".join(wrapped(line) for line in lines), wrapped(_contrast(study))]
    parts.append(wrapped(_advice(study)))
    parts.append(
        wrapped(
            f"How far to trust this: changes below {NOTICED_SHARE:.0%} are not noticed at the "
            "eyepiece. All figures share the image model's uncertainty of some 15%, but the "
            "differences between masks suffer less. A turned edge is taken to fall with the "
            "square of the distance into the zone; a real one may not."
        )
    )
    return parts


def _contrast(study: MaskStudy) -> str:
    """What is left of the contrast of fine markings: open, under a mask, with a good edge."""
    apart = ", ".join(f'{stripes:g}"' for stripes in STRIPES_ARCSEC)
    cases = [(study.steps[0], "with the full glass")]
    if study.compromise:
        best = study.steps[study.compromise]
        cases.append((best, f"under a ring of {best.covered_mm:.1f} mm"))
    if study.telescope.glass.has_turned_edge:
        cases.append((study.good_edge, "with a good edge"))
    told = "; ".join(
        f"{', '.join(f'{100.0 * kept:.0f}' for kept in step.contrast_kept)} % {words}"
        for step, words in cases
    )
    return (
        f"Planets' markings, contrast left of a perfect mirror's on stripes {apart} apart: {told}."
    )


def _edge_matters(finding: MaskFinding) -> bool:
    return finding.good_edge_gain_share > NOTHING_SHARE


def _advice(study: MaskStudy) -> str:
    """One paragraph: mask or not, how wide, and what it does to each pair."""
    paying = [f for f in study.findings if f.verdict is MaskVerdict.GAIN]
    step = study.steps[study.compromise]
    if not paying or study.compromise == 0:
        return (
            "In short: leave the aperture open. No mask brings a gain you would notice on these "
            "pairs" + ("" if not paying else " together") + ", and every mask costs light."
        )
    changes = ", ".join(
        f"{pair_name(f)} {_change(study, row)}" for row, f in enumerate(study.findings)
    )
    words = (
        f"In short: a ring of {step.covered_mm:.1f} mm ({step.clear_aperture_mm:.1f} mm clear) "
        f"serves these pairs best together: {changes}; it costs {step.light_lost_mag:.2f} mag."
    )
    if study.compromise == len(study.steps) - 1:
        words += (
            " It is the widest ring tried, and wider ones may do more: such a wave wants figuring "
            "rather than a mask."
        )
    if step.covered_mm < study.telescope.glass.edge_width_mm:
        words += " It need not cover the whole turned zone."
    if _half_way_harms(study):
        words += " A ring that covers only the outermost part may do harm instead."
    return words


def _change(study: MaskStudy, row: int) -> str:
    full = study.steps[0].limiting_seeing_arcsec[row]
    masked = study.steps[study.compromise].limiting_seeing_arcsec[row]
    if full == 0.0:
        return "now split" if masked > 0.0 else "never split"
    return f"{masked / full - 1.0:+.0%}"


def _half_way_harms(study: MaskStudy) -> bool:
    """Whether a narrow ring leaves a pair worse off than none, where a wider one pays."""
    narrow = study.steps[1 : study.compromise]
    full = study.steps[0].limiting_seeing_arcsec
    return any(
        step.limiting_seeing_arcsec[row] < (1.0 - NOTHING_SHARE) * full[row]
        for step in narrow
        for row, finding in enumerate(study.findings)
        if finding.verdict is MaskVerdict.GAIN
    )
