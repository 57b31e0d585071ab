"""A mirror test reduced, in words: the wave, how sure it is, and what the trade's criteria say."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from tabulate import tabulate

from planner.mirror.criteria import (
    airy_radius_mm,
    fitting_constants_mm,
    greatest_ratio_band,
    least_greatest_ratio,
    tolerances_mm,
    transverse_doubts,
)
from planner.mirror.doubts import Doubt, doubts, edge_departure, odd_reading
from planner.mirror.tester import theory_mm
from planner.mirror.whole import strehl_with_edge
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from planner.mirror.reduction import Interval, Reduction
    from planner.mirror.tester import MirrorTest

SHOWN_RADII = 9
SPHERE_WITHIN = 0.05  # of a conic constant; own judgement
AT_RIM = 0.98  # of the radius
SURE_WAVES = 0.01  # by which the band must leave 0; own judgement
QUARTER_WAVE = 0.25  # peak to valley; Rayleigh 1879 (from memory)
NEVER_SHOWN = (
    "No test of this kind shows astigmatism, roughness, rings narrower than a window, or how the "
    "mirror hangs in its cell: turn the mirror by a quarter and test again, and look at a star in "
    "and out of focus. They lie outside every interval here."
)
DOUBT_WORDS = {
    Doubt.SHAKY: (
        "The runs scatter by {error} across the beam; a knife is set to 1 or 2 um. Let the mirror "
        "cool, look for a loose stand, and test anew before you believe what follows."
    ),
    Doubt.SAME: (
        "Every window reads the same: this is a sphere, or the readings are not yet filled in."
    ),
    Doubt.SIGN: (
        "No figuring between sphere and paraboloid has a conic constant above 0, but a good "
        "paraboloid read the other way has +1: check readings_grow, then source."
    ),
    Doubt.SOURCE: (
        "The conic constant is about that of a paraboloid tested with the other kind of source: "
        "check source, and that radius_of_curvature is not the focal length. Or figuring is half "
        "done."
    ),
    Doubt.RADIUS: (
        "The conic constant is about that of a paraboloid whose focal length was given as "
        "radius_of_curvature: check it. Or figuring is half done."
    ),
    Doubt.SHORT: (
        "The last window ends far within the rim: what lies outside is guessed from the rest."
    ),
    Doubt.INTO_EDGE: (
        "The last window reaches into the turned edge that you told, so its reading has some of it "
        "too: end the window where turning begins."
    ),
    Doubt.EDGE: (
        "Edge? The last window is far off what the others make likely ({low}): look at the rim "
        "with the knife, end the last window where turning begins, and tell {edge} in [edge]."
    ),
}


def mirror_text(found: Reduction) -> str:
    """The whole report, at most 100 columns."""
    told = [wrapped(_doubt(found, doubt), 2) for doubt in doubts(found)]
    parts = [_heading(found), *(["\n".join(told)] if told else [])]
    parts += [_windows(found), _profile(found), _summary(found), wrapped(NEVER_SHOWN, 0)]
    return "\n\n".join(parts)


def _heading(found: Reduction) -> str:
    test, mean = found.test, found.averaged
    ratio = test.radius_mm / 2.0 / test.optical_diameter_mm
    source = "the lamp at rest" if test.fixed_source else "the lamp moving with the knife"
    error = _error(found)
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


def _error(found: Reduction) -> str:
    return f"{1000.0 * found.averaged.knife_error_mm:.1f} um"


def _windows(found: Reduction) -> str:
    """Each window: its reading against the paraboloid's, in the unit of the file."""
    test, mean = found.test, found.averaged
    _, zero = least_greatest_ratio(test)
    theory, room = theory_mm(test), tolerances_mm(test)
    unit = _unit(test)
    fine, coarse = (4, 2) if unit == "in" else (3, 1)

    def told(length_mm: float, digits: int = fine, sign: str = "") -> str:
        return f"{length_mm / test.unit_mm:{sign}.{digits}f}"

    rows = [
        [f"{number}  {told(inner, coarse)}-{told(outer, coarse)}", told(radius, coarse),
         told(read, sign="+"), told(wanted), told(read - wanted + zero, sign="+"), told(limit),
         f"{(read - wanted + zero) / limit:+.2f} ± {doubt:.2f}"]
        for number, ((inner, outer), radius, read, wanted, limit, doubt) in enumerate(
            zip(test.zones, test.rms_radii_mm, mean.readings_mm, theory, room,
                transverse_doubts(test), strict=True), 1
        )
    ]  # fmt: skip
    heads = [
        f"window, {unit}", "radius", "reading", "parabola", "off by", "allowed", "Airy radii",
    ]  # fmt: skip
    table = tabulate(rows, heads, tablefmt="simple", stralign="right", disable_numparse=True)
    note = (
        f"Off by: reading less parabola and a zero of {told(zero, sign='+')} {unit}, chosen so "
        "that the worst window is least off. Allowed is one Airy radius "
        f"({1000.0 * airy_radius_mm(test):.1f} um at the focus) of transverse error "
        "(Millies-Lacroix 1976); above 0 the glass slopes down too much outwards; ± is 90 %."
    )
    return f"{table}\n{wrapped(note, 0)}"


def _unit(test: MirrorTest) -> str:
    """The unit that the readings were written in."""
    return "mm" if test.unit_mm == 1.0 else "in"


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
        f"at most {rms.high:.3f} RMS; most likely"
        if found.is_upper_limit
        else f"{rms.value:.3f} RMS ({_range(rms, 3)}),"
    )
    ratio, _ = least_greatest_ratio(found.test)
    valley, worst = found.peak_to_valley_waves, greatest_ratio_band(found.test)
    quarter = _kept(valley.low, valley.high, QUARTER_WAVE)
    fits = _kept(*worst, 1.0)
    whole = strehl_with_edge(found)
    edge = "" if whole is None else f"; {whole:.2f} with its turned edge in the open"
    rows = [
        ("wave error", f"{wave} {valley.value:.2f} ({_range(valley, 2)}) peak to valley"),
        ("Strehl ratio", f"{strehl.value:.2f} ({_range(strehl, 2)}) of this glass alone{edge}"),
        ("conic constant", f"{conic.value:.2f} ({_range(conic, 2)}): {_conic_words(conic)}"),
        *_extremes(found),
        ("quarter wave", f"{quarter}: peak to valley {valley.value:.2f} (Rayleigh)"),
        ("transverse", f"{fits}: the worst window is off by {ratio:.2f} "
         f"({worst[0]:.2f} to {worst[1]:.2f}) Airy radii at best{_zeros(found)}"),
    ]  # fmt: skip
    lines = [f"{name:<15} {words}" for name, words in rows]
    if fits != quarter:
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


def _zeros(found: Reduction) -> str:
    """From which zero to which every window keeps within its tolerance; nothing where none does."""
    zeros = fitting_constants_mm(found.test)
    if zeros is None:
        return ""
    low, high = (f"{zero / found.test.unit_mm:+.3f}" for zero in zeros)
    return f"; any zero from {low} to {high} {_unit(found.test)} keeps all within"


def _kept(low: float, high: float, limit: float) -> str:
    """Whether an interval keeps within a limit, or leaves that open."""
    if high <= limit:
        return "kept"
    return "not kept" if low > limit else "open"


def _conic_words(conic: Interval) -> str:
    """Where a conic constant stands between the sphere's and the paraboloid's."""
    if conic.low <= -1.0 <= conic.high:
        return "a paraboloid (-1), as far as this test tells"
    if conic.value < -1.0:
        return "overcorrected; a paraboloid has -1"
    if abs(conic.value) < SPHERE_WITHIN:
        return "a sphere; a paraboloid has -1"
    if conic.value < 0.0:
        return f"undercorrected, {-conic.value:.0%} of the way from sphere (0) to paraboloid (-1)"
    return "not between sphere (0) and paraboloid (-1)"


def _extremes(found: Reduction) -> list[tuple[str, str]]:
    """Where the glass surely stands highest and lowest, for the polisher; none where nothing is."""
    rim, told = found.test.optical_diameter_mm / 2.0, []
    for name, sure in (("highest", found.low), ("lowest", -found.high)):
        place = int(np.argmax(sure))
        if sure[place] > SURE_WAVES:
            where = f"{found.rho[place] * rim:.0f} mm out"
            if place == 0 or found.rho[place] > AT_RIM:
                where = "at the rim" if place else "in the middle"
            told.append(f"{name} {where} ({found.wave[place]:+.2f} wave)")
    return [("glass stands", ", ".join(told))] if told else []


def _range(told: Interval, digits: int) -> str:
    return f"{told.low:.{digits}f} to {told.high:.{digits}f}"


def _doubt(found: Reduction, doubt: Doubt) -> str:
    if doubt is Doubt.SLIP:
        return _slip_words(found)
    low = "glass too low there, as of a turned-down edge"
    if edge_departure(found).airy_radii > 0.0:
        low = "glass too high there"
    edge = "where it begins" if found.test.edge_waves else "the edge"
    return DOUBT_WORDS[doubt].format(low=low, edge=edge, error=_error(found))


def _slip_words(found: Reduction) -> str:
    odd = odd_reading(found.test)
    assert odd is not None
    off = f"{abs(odd.off_mm) / found.test.unit_mm:.2f} {_unit(found.test)}"
    return (
        f"Run {odd.run}, window {odd.window} is {off} off the other runs, a slip of the "
        "pen? Mend it or leave the run out; until then believe nothing of what follows."
    )
