"""A telescope and its views as text of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.limit_text import reasons_text
from planner.sheets.page_text import cell_text, wrapped
from planner.sheets.purpose_words import rank_words, unit_words
from planner.sheets.ruled_table import ruled_table
from planner.sheets.scope_words import USE_WORDS, bound_words, closest_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.verdict.faintest_star import FaintestStar
    from planner.verdict.scope.closest_pairs import ClosestPairs
    from planner.verdict.scope.instrument import InstrumentSummary, NewtonianSummary
    from planner.verdict.scope.limit_reasons import LimitReasons
    from planner.verdict.scope.purpose import RankedView
    from planner.verdict.scope.view_summary import ViewSummary
    from planner.verdict.setup import Setup

EYEPIECE_WIDTH = 18
GOOD_FOR_WIDTH = 27
REASON_WIDTH = 55
TOLD_STREHL = 0.01  # a smaller change is not worth a word


def scope_text(
    summary: InstrumentSummary,
    views: Sequence[ViewSummary],
    faintest: FaintestStar,
    reasons: LimitReasons,
    closest: Sequence[ClosestPairs],
) -> str:
    """The whole answer of the scope command without a question: facts, then the table."""
    parts = [
        _heading(summary.setup),
        _facts(_image_facts(summary, closest) + _light_facts(summary, faintest)),
        reasons_text(summary.setup, reasons),
        _power_words(summary),
    ]
    if summary.newtonian is not None:
        parts.append(_facts(_newtonian_facts(summary, summary.newtonian)))
    parts.append(_view_table(views))
    parts.append(_notes(views))
    return "\n\n".join(parts)


def ranking_text(setup: Setup, ranked: Sequence[RankedView], question: str) -> str:
    """The views in order for one question, the best first, each with its reason.

    ``question`` opens the answer, such as ``Best for galaxies``.
    """
    best = ranked[0]
    rows = [
        [
            str(number),
            cell_text(r.view.name, EYEPIECE_WIDTH),
            f"{r.view.magnification:.0f}x",
            f"{r.view.exit_pupil_mm:.2f}",
            f"{r.score:.2f}",
            cell_text(rank_words(setup, r), REASON_WIDTH),
        ]
        for number, r in enumerate(ranked, start=1)
    ]
    table = ruled_table(["", "eyepiece", "power", "exit\npupil", "score", "reason"], rows, "rlrrrl")
    equals = sum(r.score > best.score - best.equal_within for r in ranked)
    note = f"Score: {unit_words(best.reason)}."
    if equals > 1:
        note += (
            f" The first {equals} differ by less than {best.equal_within:g}: take them as equals."
        )
    return "\n\n".join(
        [
            _heading(setup),
            wrapped(f"{question}: {best.view.name}, {best.view.magnification:.0f}x"),
            table,
            wrapped(note),
        ]
    )


def _heading(setup: Setup) -> str:
    telescope = setup.telescope
    mask = (
        f" (glass {telescope.aperture_mm:g} mm)"
        if telescope.aperture_mm != telescope.clear_aperture_mm
        else ""
    )
    return (
        wrapped(
            f"{telescope.name}: {telescope.design} of {telescope.clear_aperture_mm:g} mm{mask}, "
            f"f/{telescope.focal_ratio:.2f}, {telescope.mount}"
        )
        + "\n"
        + wrapped(
            f"For a sky of {setup.zenith_sky_mag:.2f} mag per square arcsecond, seeing "
            f'{setup.seeing_arcsec:.1f}", extinction {setup.extinction_mag:.2f}, an eye pupil '
            f"of {setup.observer.dark_pupil_mm:.1f} mm"
        )
    )


def _image_facts(
    summary: InstrumentSummary, closest: Sequence[ClosestPairs]
) -> list[tuple[str, str]]:
    return [
        (
            "two equal stars",
            f'Dawes {summary.dawes_arcsec:.2f}", Rayleigh {summary.rayleigh_arcsec:.2f}", Sparrow '
            f'(no dip) {summary.sparrow_arcsec:.2f}"',
        ),
        *([("closest pairs", closest_words(closest))] if closest else []),
        (
            "star image",
            f'first dark ring at {summary.dark_ring_arcsec:.2f}", '
            f"{summary.central_light_share:.0%} of the light inside it "
            f"(unobstructed {summary.clear_light_share:.0%})",
        ),
        ("Strehl ratio", strehl_words(summary)),
        ("focus", f"sharp within {summary.depth_of_focus_mm:.3f} mm either way"),
    ]


def strehl_words(summary: InstrumentSummary) -> str:
    """The Strehl ratio, where it comes from, and what the mask over the rim does for it."""
    rms, band, unmasked = (
        summary.setup.telescope.glass.rms_waves, summary.strehl_band, summary.open_strehl,
    )  # fmt: skip
    source = f"from a wave error of {rms:.3f} RMS"
    if band is not None:
        source = f"by your mirror test, which allows {band[0]:.2f} to {band[1]:.2f}"
    mask = ""
    if unmasked is not None and abs(unmasked - summary.strehl) >= TOLD_STREHL:
        mask = f"; {unmasked:.2f} without the mask"
    return f"{summary.strehl:.2f} {source}, before the air{mask}"


def _light_facts(summary: InstrumentSummary, faintest: FaintestStar) -> list[tuple[str, str]]:
    models = ", ".join(f"{name} {mag:.1f}" for name, mag in faintest.by_model)
    power = summary.setup.telescope.clear_aperture_mm / faintest.exit_pupil_mm
    return [
        ("light", f"{summary.light_grasp:.0f} times that of your bare eye"),
        (
            "faintest star",
            f"about {faintest.low_mag:.1f} (cautious) to {faintest.high_mag:.1f} (hopeful) "
            f"overhead at {power:.0f}x; by model: {models}. Published limits for one aperture "
            f"spread by about 0.9 mag. Old handbook rule, any dark sky: "
            f"{faintest.handbook_mag:.1f}",
        ),
    ]


def _power_words(summary: InstrumentSummary) -> str:
    lowest, highest = summary.lowest_power, summary.highest_powers
    first, last = highest[0].magnification, highest[-1].magnification
    lines = [
        f"Useful powers: from {lowest.magnification:.0f}x to {first:.0f}x, or to {last:.0f}x in "
        "the best case",
        *(
            f"  {each.magnification:4.0f}x  {bound_words(summary, each.bound)}"
            for each in (lowest, *highest)
        ),
        f"Close doubles bear {summary.doubles_power:.0f}x: they show in the best moments "
        "of the seeing (see --for doubles).",
    ]
    return "\n".join(wrapped(line, 9) for line in lines)


def _newtonian_facts(
    summary: InstrumentSummary, newtonian: NewtonianSummary
) -> list[tuple[str, str]]:
    if newtonian.fully_lit_field_mm is None:
        lit = "unknown: give diagonal_to_focus in the kit file"
    else:
        lit = (
            f"{newtonian.fully_lit_field_mm:.1f} mm = {newtonian.fully_lit_field_deg:.2f} deg; "
            f"{newtonian.edge_light:.0%} of the light at the focuser's rim"
        )
    facts = [
        ("fully lit field", lit),
        (
            "coma-free field",
            f"{newtonian.coma_free_field_mm:.1f} mm = {newtonian.coma_free_field_deg:.2f} deg "
            "across",
        ),
        (
            "collimation",
            f"main mirror's axis within {newtonian.collimation_tolerance_mm:.1f} mm of the "
            f"eyepiece's middle, {newtonian.collimation_limit_mm:.1f} mm at the most",
        ),
    ]
    if newtonian.diagonal_offset_mm is not None:
        facts.append(
            (
                "diagonal offset",
                f"{newtonian.diagonal_offset_mm:.1f} mm towards the main mirror and away from "
                "the focuser",
            )
        )
    return facts


def _facts(facts: Sequence[tuple[str, str]]) -> str:
    return "\n".join(wrapped(f"{label:16} {text}", 17) for label, text in facts)


def _view_table(views: Sequence[ViewSummary]) -> str:
    rows = [
        [
            cell_text(v.view.name, EYEPIECE_WIDTH),
            f"{v.view.magnification:.0f}x",
            f"{v.view.exit_pupil_mm:.2f}" + ("!" if v.below_least_pupil else ""),
            f"{v.view.true_field_deg:.2f}" + ("" if v.view.field_is_measured else "~"),
            _minutes(v.drift_s),
            _span(v.faintest_mag, v.second_mag),
            f"{v.sky_dimming_mag:.1f}",
            f"{v.wasted_aperture_mm:.0f}" if v.wasted_aperture_mm >= 0.5 else "-",
            cell_text(USE_WORDS[v.good_for], GOOD_FOR_WIDTH),
        ]
        for v in views
    ]
    headers = [
        "eyepiece", "power", "exit\npupil", "field\ndeg", "drift\nm:s", "faintest\nstar",
        "sky\ndarker", "lost\nmm", "good for",
    ]  # fmt: skip
    return ruled_table(headers, rows, "lrrrrrrrl")


def _notes(views: Sequence[ViewSummary]) -> str:
    notes = [
        "Drift: a star on the celestial equator across the whole field. Sky darker: mag, against "
        "the bare eye.",
        "Faintest star: overhead, by two models of the eye; people differ by half a magnitude.",
    ]
    if any(not v.view.field_is_measured for v in views):
        notes.append(
            "~ field from the apparent field, good to about a tenth; a field stop is better."
        )
    if any(v.wasted_aperture_mm >= 0.5 for v in views):
        notes.append("Lost: mm of aperture that your iris cuts off.")
    if any(v.below_least_pupil for v in views):
        notes.append("! exit pupil below your least.")
    return "\n".join(wrapped(note) for note in notes)


def _minutes(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"


def _span(one: float, other: float) -> str:
    low, high = f"{min(one, other):.1f}", f"{max(one, other):.1f}"
    return low if low == high else f"{low}-{high}"
