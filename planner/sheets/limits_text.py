"""The observer's own limits in words."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING, Any

from planner.limits.priors import Own
from planner.limits.surprises import Reason
from planner.log.outcome import outcomes_of
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.limits.fitting import Fit, Learnt
    from planner.limits.keeping import InUse
    from planner.limits.surprises import Surprise
    from planner.verdict.setup import Setup

NAMES = {
    Own.SEEING: "usual seeing",
    Own.EYE: "eye factor",
    Own.HANDICAP: "companion handicap",
    Own.TILT: "motion followed",
}
KEYS = {
    Own.SEEING: "seeing_arcsec",
    Own.EYE: "eye_factor",
    Own.HANDICAP: "companion_handicap_mag",
    Own.TILT: "tilt_followed",
}
WORDS = {KEYS[own]: NAMES[own] for own in NAMES}
MEANINGS = {
    Own.SEEING: "at the zenith, as it looks through this telescope at this site",
    Own.EYE: "1.4 keen, 2 typical, 2.4 casual: smaller sees fainter",
    Own.HANDICAP: "above 0: unequal pairs are harder for you than the planner took them to be",
    Own.TILT: "share of the image's dancing that your eye follows: more splits closer pairs",
}


def in_use_words(limits: InUse, before: Setup, own: Setup) -> str:
    """What a verdict rests on by the log: ``by your own log (34 records): seeing 1.8"``."""
    told = []
    if own.seeing_arcsec != before.seeing_arcsec:
        told.append(f'seeing {own.seeing_arcsec:.1f}"')
    if limits.eye_ratio is not None:
        told.append(f"eye factor {own.observer.field_factor:.2f}")
    if limits.companion_handicap_mag is not None:
        told.append(f"companion handicap {limits.companion_handicap_mag:+.2f} mag")
    if limits.tilt_followed is not None:
        told.append(f"motion followed {limits.tilt_followed:.2f}")
    if not told:
        return ""
    return f"by your own log ({limits.records} records): {', '.join(told)}"


def shown_value(own: Own, value: float, factor: float) -> float:
    """A setting as people know it, from its column; ``factor`` is the kit's eye factor."""
    if own is Own.SEEING:
        return exp(value)
    return factor * exp(value) if own is Own.EYE else value


def _value_words(own: Own, value: float, factor: float) -> str:
    number = shown_value(own, value, factor)
    if own is Own.SEEING:
        return f'{number:.1f}"'
    return f"{number:+.2f} mag" if own is Own.HANDICAP else f"{number:.2f}"


def limits_text(fit: Fit, factor: float, where: str, tell: Sequence[str]) -> str:
    """The settings, what the log tells of each, what cannot be parted, what would tell most."""
    lines = [f"{fit.records} looks of {fit.nights} nights, {where}", ""]
    head = f"{'setting':<20}{'kit':>10}{'your log':>12}   {'90 % between':<22}{'looks':>5}"
    lines.append(head)
    for own in NAMES:
        lines.append(_row(fit.learnt[own], factor))
    lines.append("")
    lines += [wrapped(f"{NAMES[own]}: {MEANINGS[own]}", 2) for own in NAMES]
    unknown = [NAMES[own] for own in NAMES if not fit.learnt[own].told]
    if unknown:
        lines += ["", wrapped(f"Your log does not tell: {', '.join(unknown)}.", 2)]
    for one, other in fit.alike:
        lines.append(
            wrapped(
                f"These looks cannot tell {NAMES[one]} and {NAMES[other]} apart well: "
                f"either would explain them (correlation {fit.correlation[one, other]:+.1f}).", 2,
            )
        )  # fmt: skip
    if tell:
        lines += ["", "What would tell most tonight:", *(f"  {line}" for line in tell)]
    return "\n".join(lines)


def _row(one: Learnt, factor: float) -> str:
    kit = _value_words(one.own, one.kit, factor)
    if not one.told:
        return f"{NAMES[one.own]:<20}{kit:>10}{'not told':>12}   {'':<22}{one.records:>5}"
    ends = [_value_words(one.own, end, factor) for end in (one.low, one.high)]
    middle = _value_words(one.own, one.middle, factor)
    return f"{NAMES[one.own]:<20}{kit:>10}{middle:>12}   {' and '.join(ends):<22}{one.records:>5}"


def limits_document(fit: Fit, factor: float, tell: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """The same as values for JSON."""
    return {
        "format": "planner-own-limits/1",
        "records": fit.records,
        "nights": fit.nights,
        "settings": [
            {
                "name": KEYS[one.own],
                "kit": round(shown_value(one.own, one.kit, factor), 4),
                "value": round(shown_value(one.own, one.middle, factor), 4),
                "low": round(shown_value(one.own, one.low, factor), 4),
                "high": round(shown_value(one.own, one.high, factor), 4),
                "told": one.told,
                "records": one.records,
            }
            for one in fit.learnt
        ],
        "hard_to_part": [[KEYS[a], KEYS[b]] for a, b in fit.alike],
        "would_tell": list(tell),
    }


def surprises_text(found: Sequence[Surprise], records: int) -> str:
    """Each surprise in two lines."""
    if not found:
        return f"None of {records} looks is a surprise."
    lines = [f"{len(found)} of {records} looks came otherwise than foretold, the oddest first:"]
    for one in found:
        record = one.record
        expected = outcomes_of(record.kind)[one.expected]
        way = "better" if one.better else "worse"
        lines.append(
            wrapped(
                f"{record.night}  {record.name}: {record.outcome}, {way} than foretold "
                f"({expected}); about {max(1, round(100 * one.chance))} in 100", 12,
            )
        )  # fmt: skip
        lines.append(wrapped(f"            {_reason_words(one)}", 12))
    return "\n".join(lines)


def _reason_words(one: Surprise) -> str:
    way = "better" if one.better else "worse"
    if one.reason is Reason.NIGHT:
        return f'a night of {way} seeing than usual, about {one.seeing_arcsec:.1f}"'
    if one.reason is Reason.SEPARATION and one.record.pair is not None:
        return (
            f'the pair may have moved: {one.separation_arcsec:.1f}" would explain it, the catalog '
            f'had {one.record.pair.separation_arcsec:.1f}"'
        )
    if one.reason is Reason.SKY:
        return f"the sky or your eye was {way} than assumed, or the margin is off"
    return "nothing here explains it: another star, a slip of the pen, or the planner is off"
