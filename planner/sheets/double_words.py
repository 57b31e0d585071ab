"""How a double star looks and in which seeing, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from planner.verdict.pairs.criteria import GOOD_SEEING_ARCSEC, UNEQUAL_FROM_MAG, SplitClass
from planner.verdict.pairs.judge import SHOWN_FROM
from planner.verdict.steps import Step

if TYPE_CHECKING:
    from planner.night.plan import DoubleDetail
    from planner.verdict.pairs.outlook import Outlook

BAD_SEEING_ARCSEC = 5.0  # nobody observes in worse; common practice, no source
BEYOND = "beyond this telescope in any seeing"
OVER = f'over {BAD_SEEING_ARCSEC:.0f}"'
CLASS_NAMES = {
    SplitClass.NOT_SPLIT: "not split",
    SplitClass.ELONGATED: "elongated",
    SplitClass.NOTCHED: "notched",
    SplitClass.JUST: "just",
    SplitClass.CLEAN: "clean",
}
TOLD_CLASSES = (SplitClass.CLEAN, SplitClass.JUST, SplitClass.NOTCHED, SplitClass.ELONGATED)
_EQUAL = {
    SplitClass.NOT_SPLIT: "not split",
    SplitClass.ELONGATED: "elongated",
    SplitClass.NOTCHED: "notched, a figure of eight",
    SplitClass.JUST: "just split, discs touching",
    SplitClass.CLEAN: "clean split, dark gap",
}
_UNEQUAL = {
    SplitClass.NOT_SPLIT: "not split",
    SplitClass.ELONGATED: "not split",
    SplitClass.NOTCHED: "companion glimpsed",
    SplitClass.JUST: "companion held steadily",
    SplitClass.CLEAN: "companion easy",
}


def split_words(split_class: SplitClass, difference_mag: float) -> str:
    """The class in words, for a difference of magnitude (0 or more) between the two stars."""
    return (_UNEQUAL if difference_mag >= UNEQUAL_FROM_MAG else _EQUAL)[split_class]


def double_verdict_words(double: DoubleDetail) -> str:
    """How a pair that is up looks tonight, and whether that is borderline."""
    words = split_words(double.split_class, double.difference_mag)
    if double.step is not Step.BORDERLINE:
        return words
    if words == "not split":
        return "only just not split"
    _, companion, how = words.rpartition("companion ")
    return f"{companion}perhaps {how}"


def further_pair_words(double: DoubleDetail) -> str:
    """The verdict of a further pair, which may be down with its star."""
    return "not up" if double.limiting_seeing_arcsec is None else double_verdict_words(double)


def whole_tenths(seeing_arcsec: float) -> float:
    """Worst seeing cut to whole tenths, never rounded up: what is told must still hold."""
    return math.floor(seeing_arcsec * 10.0 + 1e-6) / 10.0


def seeing_told(seeing_arcsec: float) -> str:
    """Worst seeing for a reader: to a tenth, and no number where no night is so bad."""
    if seeing_arcsec > BAD_SEEING_ARCSEC:
        return OVER
    return f'about {whole_tenths(seeing_arcsec):.1f}"'


def limiting_seeing(double: DoubleDetail, split_class: SplitClass) -> float | None:
    """Worst seeing of a class in whole tenths; None where it is never reached, or nothing is up."""
    if double.limiting_seeing_arcsec is None or split_class is SplitClass.NOT_SPLIT:
        return None
    worst = double.limiting_seeing_arcsec[split_class - 1]
    return whole_tenths(worst) if worst > 0.0 else None


def seeing_words(double: DoubleDetail) -> str:
    """In which seeing a pair that is up goes."""
    worst = double.limiting_seeing_arcsec or (0.0, 0.0, 0.0, 0.0)
    elongated, notched, just = (
        worst[c - 1] for c in (SplitClass.ELONGATED, SHOWN_FROM, SplitClass.JUST)
    )
    unequal = double.difference_mag >= UNEQUAL_FROM_MAG
    if just > 0.0:
        how, told = "companion held" if unequal else "split", SplitClass.JUST
    elif notched > 0.0:
        how, told = "companion at best glimpsed," if unequal else "at best notched,", SHOWN_FROM
    elif elongated > 0.0 and not unequal:
        how, told = "at best elongated,", SplitClass.ELONGATED
    else:
        return BEYOND
    seeing = worst[told - 1]
    if seeing > BAD_SEEING_ARCSEC:
        return f"{how} even in seeing {OVER}"
    return f"{how} in seeing up to {seeing_told(seeing)}{_by_test(double, told)}"


def _by_test(double: DoubleDetail, told: SplitClass) -> str:
    """What the mirror test leaves open of a worst seeing, where that makes a tenth."""
    if double.tested_seeing_arcsec is None or double.limiting_seeing_arcsec is None:
        return ""
    poor, good = (whole_tenths(worst[told - 1]) for worst in double.tested_seeing_arcsec)
    here = whole_tenths(double.limiting_seeing_arcsec[told - 1])
    low, high = min(poor, good, here), max(poor, good, here)
    if low == high:
        return ""
    if low == 0.0:
        return f' (at best {high:.1f}", at worst not at all, as your mirror test allows)'
    return f' ({low:.1f}" to {high:.1f}" as your mirror test allows)'


def outlook_words(found: Outlook) -> str:
    """The outlook in a sentence; of a rough orbit only what may be."""
    now, later = found.separations_arcsec[0], found.separations_arcsec[-1]
    last = found.first_year + len(found.separations_arcsec) - 1
    seeing = f'in good seeing of {GOOD_SEEING_ARCSEC:.0f}" it'
    if found.rough:
        later_words = f'perhaps {later:.1f}" in {last:.0f} by a rough orbit'
        course = f'{now:.2f}" now, {later_words}; {seeing} may'
        opens, closes, stays = "open", "close", "stay"
    else:
        course = f'{now:.2f}" now, about {later:.2f}" in {last:.0f}; {seeing}'
        opens, closes, stays = "opens", "closes", "stays"
    if found.opens_year is not None:
        return f"{course} {opens} for this telescope {_when(found.opens_year, found.rough)}"
    if found.closes_year is not None:
        return f"{course} {closes} for this telescope {_when(found.closes_year, found.rough)}"
    return f"{course} {stays} {'open' if found.open_now else 'closed'} for this telescope"


def _when(year: float, rough: bool) -> str:
    return f"in the {year // 10 * 10:.0f}s" if rough else f"about {year:.0f}"
