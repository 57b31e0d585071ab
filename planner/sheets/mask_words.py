"""The mask study in words: its pairs, the edge, and what a mask does."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from planner.verdict.scope.mask_study import NOTHING_SHARE, MaskVerdict, PairType

if TYPE_CHECKING:
    from planner.optics.telescope import Telescope
    from planner.verdict.scope.mask_study import MaskFinding, MaskStudy

PAIR_NAMES = {
    PairType.EQUAL: "equal",
    PairType.UNEQUAL: "unequal",
    PairType.VERY_UNEQUAL: "very unequal",
    PairType.FAINT_COMPANION: "faint companion",
}
VERDICT_WORDS = {
    MaskVerdict.GAIN: "pays",
    MaskVerdict.UNNOTICED: "no gain to notice",
    MaskVerdict.USELESS: "useless",
    MaskVerdict.NEVER: "never split",
}


def pair_name(finding: MaskFinding) -> str:
    """How the finding's pair is called."""
    return PAIR_NAMES[finding.pair.type]


def edge_words(telescope: Telescope) -> str:
    """The turned edge in words."""
    if not telescope.glass.has_turned_edge:
        return "no turned edge"
    return (
        f"turned edge in the outer {telescope.glass.edge_width_mm:.3g} mm, "
        f"{telescope.glass.edge_waves:g} wave{'s' * (telescope.glass.edge_waves != 1.0)} "
        "of the wavefront at the rim"
    )


def wave_words(telescope: Telescope) -> str:
    """The wave of the glass beside its turned edge, and where that is from."""
    rest = f"{telescope.glass.rms_waves:.3f} RMS"
    if telescope.glass.profile:
        return f"the wave as your mirror test has it, and {rest} for the rest"
    return f"wave error {rest}"


def finding_words(study: MaskStudy, finding: MaskFinding) -> str:
    """What a mask does for one pair, in a sentence without its name."""
    best = study.steps[finding.best_step]
    if finding.verdict is MaskVerdict.NEVER:
        return f"not split at {study.view.magnification:.0f}x in any seeing, masked or not"
    if finding.verdict is MaskVerdict.USELESS:
        return f"no mask helps; the widest costs {_cost(finding.widest_gain_share)}"
    ring = f"a ring of {best.covered_mm:.1f} mm"
    if math.isnan(finding.gain_share):
        return f"split under {ring} only"
    if finding.verdict is MaskVerdict.UNNOTICED:
        return f"no gain to notice: {ring} brings {finding.gain_share:+.0%}"
    return f"a mask pays: {ring} brings {finding.gain_share:+.0%}"


def _cost(gain_share: float) -> str:
    return "nothing to speak of" if gain_share > -NOTHING_SHARE else f"{-gain_share:.0%}"
