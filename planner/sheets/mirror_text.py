"""A mirror test reduced, in words: the wave, how sure it is, and what the trade's criteria say."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from tabulate import tabulate

from planner.mirror.criteria import (
    airy_radius_mm,
    fitting_constants_mm,
    least_greatest_ratio,
    tolerances_mm,
)
from planner.mirror.doubts import Doubt, doubts, edge_departure
from planner.mirror.tester import theory_mm
from planner.mirror.whole import strehl_with_edge
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from planner.mirror.reduction import Interval, Reduction

SHOWN_RADII = 9
QUARTER_WAVE = 0.25  # peak to valley; Rayleigh 1879 (from memory)
NEVER_SHOWN = (
    "No test of this kind shows astigmatism, roughness, rings narrower than a window, or how the "
    "mirror hangs in its cell: turn the mirror by a quarter and test again, and look at a star in "
    "and out of focus. They lie outside every interval here."
)
DOUBT_WORDS = {
    Doubt.SIGN: (
        "The conic constant is near +1, as of a good paraboloid read the other way: check "
        "readings_grow."
    ),
    Doubt.SOURCE: (
        "The conic constant is that of a good paraboloid tested with the other kind of source: "
        "check source."
    ),
    Doubt.EDGE: (
        "Edge? The last window is far off what the others make likely ({low}): look at the rim "
        "with the knife, end the last window where turning begins, and tell the edge in [edge]."
    ),
}


def mirror_text(found: Reduction) -> str:
    """The whole report, at most 100 columns."""
    parts = [_heading(found), _windows(found), _profile(found), _summary(found)]
    told = [_doubt(found, doubt) for doubt in doubts(found)]
    parts += ["\n".join(wrapped(line, 2) for line in told)] if told else []
    return "\n\n".join([*parts, wrapped(NEVER_SHOWN, 0)])


def _heading(found: Reduction) -> str:
    test, mean = found.test, found.averaged
    ratio = test.radius_mm / 2.0 / test.optical_diameter_mm
    source = "the lamp at rest" if test.fixed_source else "the lamp moving with the knife"
    error = f"{1000.0 * mean.knife_error_mm:.1f} um"
    sure = (
        f"{mean.runs} runs: you set the knife to about {error} across the beam"
        if mean.freedom
        else f"one run tells nothing of how sure you are: {error} across the beam are assumed; "
        "make four"
    )
    lines = [
        f"{test.name}: {test.optical_diameter_mm:g} mm, radius of curvature {test.radius_mm:g} mm, "
        f"f/{ratio:.1f}; {len(test.zones)} windows, {source}",
        sure,
    ]
    return "\n".join(wrapped(line, 2) for line in lines)


def _windows(found: Reduction) -> str:
    """Each window: its reading against the paraboloid's, and what that means at the focus."""
    test, mean = found.test, found.averaged
    _, constant = least_greatest_ratio(test)
    theory, room = theory_mm(test), tolerances_mm(test)
    off = mean.readings_mm - theory + constant
    rows = [
        [f"{number}  {inner:g}-{outer:g}", f"{radius:.1f}", f"{read:+.3f}", f"{wanted:.3f}",
         f"{gap:+.3f}", f"{limit:.3f}", f"{-gap / limit:+.2f}"]
        for number, ((inner, outer), radius, read, wanted, gap, limit) in enumerate(
            zip(test.zones, test.rms_radii_mm, mean.readings_mm, theory, off, room, strict=True), 1
        )
    ]  # fmt: skip
    heads = ["window, mm", "radius", "reading", "parabola", "off by", "allowed", "Airy radii"]
    table = tabulate(rows, heads, tablefmt="simple", stralign="right", disable_numparse=True)
    note = (
        "Readings in mm of knife travel, the zero chosen so that the worst window is least off. "
        f"Allowed is one Airy radius ({1000.0 * airy_radius_mm(test):.1f} um at the focus) of "
        "transverse error (Millies-Lacroix 1976); below 0 the glass slopes down too much outwards."
    )
    return f"{table}\n{wrapped(note, 0)}"


def _profile(found: Reduction) -> str:
    """The wave over the mirror with its band."""
    rim = found.test.optical_diameter_mm / 2.0
    places = np.linspace(0, len(found.rho) - 1, SHOWN_RADII).round().astype(int)
    rows = [
        [f"{found.rho[k] * rim:.0f}", f"{found.wave[k]:+.3f}",
         f"{found.low[k]:+.3f} to {found.high[k]:+.3f}"]
        for k in places
    ]  # fmt: skip
    heads = ["mm from the middle", "wave", "90 % band"]
    table = tabulate(rows, heads, tablefmt="simple", stralign="right", disable_numparse=True)
    return f"{table}\nWaves of 550 nm at the best focus; above 0 the glass stands too high."


def _summary(found: Reduction) -> str:
    rms, strehl, conic = found.rms_waves, found.strehl, found.conic
    wave = (
        f"at most {rms.high:.3f} RMS"
        if found.is_upper_limit
        else f"{rms.value:.3f} RMS ({_range(rms, 3)})"
    )
    ratio, _ = least_greatest_ratio(found.test)
    fits = fitting_constants_mm(found.test) is not None
    quarter = found.peak_to_valley_waves <= QUARTER_WAVE
    whole = strehl_with_edge(found)
    edge = "" if whole is None else f"; {whole:.2f} with its turned edge in the open"
    rows = [
        ("wave error", f"{wave}, {found.peak_to_valley_waves:.2f} peak to valley"),
        ("Strehl ratio", f"{strehl.value:.2f} ({_range(strehl, 2)}) of this glass alone{edge}"),
        ("conic constant", f"{conic.value:.2f} ({_range(conic, 2)}); a paraboloid has -1"),
        ("quarter wave", f"{'kept' if quarter else 'not kept'}: peak to valley "
         f"{found.peak_to_valley_waves:.2f} (Rayleigh)"),
        ("transverse", f"{'kept' if fits else 'not kept'}: the worst window is off by {ratio:.2f} "
         "Airy radii at best"),
    ]  # fmt: skip
    lines = [f"{name:<15} {words}" for name, words in rows]
    if fits is not quarter:
        lines.append("Where the two criteria differ judge by the wave: a quarter-wave sphere fails "
                     "the second.")  # fmt: skip
    test = found.test
    if test.edge_waves:
        lines.append(
            f"{'turned edge':<15} {test.edge_width_mm:g} mm, {test.edge_waves:g} waves at the rim, "
            "as you told it; planner scope --mask-study weighs a mask"
        )
    lines.append("In brackets: 90 % of what these readings leave possible.")
    return "\n".join(wrapped(line, 16) for line in lines)


def _range(told: Interval, digits: int) -> str:
    return f"{told.low:.{digits}f} to {told.high:.{digits}f}"


def _doubt(found: Reduction, doubt: Doubt) -> str:
    low = "glass too low there, as of a turned-down edge"
    if edge_departure(found).airy_radii > 0.0:
        low = "glass too high there"
    return DOUBT_WORDS[doubt].format(low=low)
