"""The Moon of one night as a page to read: when, with what, and what lies at the terminator."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from tabulate import tabulate

from planner.night.plan import BodyDetail
from planner.sheets.event_words import eclipse_header
from planner.sheets.feature_words import seeing_words
from planner.sheets.lunar_words import (
    DIRECTIONS_NOTE,
    KIND_WORDS,
    LOW_SUN_NOTE,
    SHORT_KINDS,
    face_words,
    look_words,
    next_moon_words,
)
from planner.sheets.night_words import cut, night_lines
from planner.sheets.page_text import wrapped
from planner.sheets.sun_words import EYES
from planner.sheets.target_verdict import verdict_lines
from planner.verdict.bodies.features import Holds, Sureness
from planner.verdict.bodies.lunar_markings import LIGHT_KINDS, RELIEF_SUN_DEG, LightKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.night.lunar_nights import LunarNight
    from planner.night.moon_tonight import LunarSight, MoonTonight
    from planner.night.plan import Plan, PlannedTarget
    from planner.optics.view import View

LISTED = 28  # features in the table, about a screenful
NEVER_LISTED = 8
NAME_COLUMNS = 21
HEADERS = ("feature", "kind", "Sun", "km", '"', "verdict", "margin", "worst", "what to look for")
ALIGN = ("left", "left", "right", "right", "right", "left", "right", "right", "left")
STEP = {Sureness.PLAIN: "plain", Sureness.POSSIBLE: "possible", Sureness.NOT_TONIGHT: "no"}
RELIEF_BEFORE_CRATERS = 4.0  # points that a rille, dome or scarp has over a crater; own judgement
ENOUGH = 9.9  # margin from which the number says nothing more


def moon_text(plan: Plan, following: LunarNight | None, *, every: bool = False) -> str:
    """The page. Without a Moon in the night's hours: why, and one line that tells the next one.

    ``every`` lists all features in good light, those that do not show too.
    """
    target = plan.targets[0]
    head = [wrapped(eclipse_header(event)) for event in plan.events]
    head += [wrapped(line) for line in verdict_lines(target, None)[: 2 if _moon(target) else 1]]
    moon = _moon(target)
    if moon is None:
        head.append(wrapped(next_moon_words(following)))
        return "\n\n".join(["\n".join(head), _header(plan), wrapped(EYES, 0)])
    head += [wrapped(line) for line in (*_eyepiece_lines(plan, moon), face_words(moon))]
    head += _caution(target)
    blocks = ["\n".join(head)]
    low = relief_sights(moon.sights)
    if low:
        chosen = low if every else chosen_sights(low)
        blocks.append(f"{_title(chosen, low)}\n{sight_table(chosen)}")
        if not every and (lost := _lost_words(low)):
            blocks.append(wrapped(lost))
        blocks.append("\n".join(wrapped(note, 0) for note in (LOW_SUN_NOTE, DIRECTIONS_NOTE)))
    else:
        blocks.append("No terminator with features to speak of; look at the seas and bright rays.")
    if high := _high_words(moon.sights):
        blocks.append(wrapped(high))
    return "\n\n".join([*blocks, _header(plan), wrapped(EYES, 0)])


def relief_sights(sights: Sequence[LunarSight]) -> list[LunarSight]:
    """Those that low light shows, without seas and bright patches."""
    return [sight for sight in sights if LIGHT_KINDS[sight.kind] is not LightKind.SHADE]


def chosen_sights(sights: Sequence[LunarSight], most: int = LISTED) -> list[LunarSight]:
    """The features most worth a look, in their order: the hard before the easy and the large."""
    ranked = sorted((s for s in sights if s.feature.sureness), key=_rank, reverse=True)[:most]
    kept = {sight.name for sight in ranked}
    return [sight for sight in sights if sight.name in kept]


def sight_table(sights: Sequence[LunarSight]) -> str:
    """A line for each feature."""
    rows = [
        [
            cut(sight.name, NAME_COLUMNS),
            _kind(sight),
            f"{sight.sun_altitude_deg:.1f}",
            f"{sight.size_km:.0f}",
            f"{sight.size_arcsec:.0f}",
            STEP[sight.feature.sureness],
            _margin(sight),
            seeing_words(sight.feature),
            look_words(sight),
        ]
        for sight in sights
    ]
    columns = zip(HEADERS, *rows, strict=True)
    dashes = ["-" * max(map(len, column)) for column in columns]
    table = [list(HEADERS), dashes, *rows]
    text = tabulate(table, tablefmt="plain", colalign=ALIGN, disable_numparse=True)
    return "\n".join(line.rstrip() for line in str(text).splitlines())


def whole_moon_words(views: Sequence[View]) -> str:
    """The highest power whose field holds the whole Moon."""
    from planner.verdict.bodies.planets import MOON_FIELD_DEG, whole_moon_view

    view = views[whole_moon_view(views)]
    holds = "the whole Moon" if view.true_field_deg >= MOON_FIELD_DEG else "the widest field"
    return f"{holds} in the {view.name}, {view.magnification:.0f}x"


def _moon(target: PlannedTarget) -> MoonTonight | None:
    return target.detail.moon if isinstance(target.detail, BodyDetail) else None


def _header(plan: Plan) -> str:
    return "\n".join(wrapped(line) for line in night_lines(plan))


def _eyepiece_lines(plan: Plan, moon: MoonTonight) -> list[str]:
    whole = whole_moon_words(plan.views)
    if moon.view is None:
        return [f"Eyepiece: {whole}; no feature on the list tells more powers apart"]
    return [
        f"Eyepiece: {moon.view.name}, {moon.view.magnification:.0f}x, for {moon.hardest}, the "
        f"hardest that still goes; {whole}"
    ]


def _caution(target: PlannedTarget) -> list[str]:
    """What binds a look at a Moon beside the Sun."""
    from planner.sheets.verdict_words import reason_words

    detail = target.detail
    if not isinstance(detail, BodyDetail) or (detail.safe_from or detail.safe_until) is None:
        return []
    return [wrapped(f"Mind the Sun: {reason_words(target)}.")]


def _title(chosen: Sequence[LunarSight], low: Sequence[LunarSight]) -> str:
    rising = sum(sight.morning for sight in low)
    few = 0.2 * len(low)
    morning, evening = rising > few, len(low) - rising > few
    where = "both terminators" if morning and evening else (
        "the morning terminator" if morning else "the evening terminator"
    )  # fmt: skip
    shown = sum(sight.feature.sureness > Sureness.NOT_TONIGHT for sight in low)
    count = f"{len(chosen)} of {shown} that show" if len(chosen) < shown else f"{shown} that show"
    more = " (--all for the rest)" if len(chosen) < shown else ""
    return f"Along {where}, north to south: {count}{more}\n"


def _lost_words(low: Sequence[LunarSight]) -> str:
    lost = [s for s in low if s.feature.sureness is Sureness.NOT_TONIGHT]
    lost.sort(key=lambda sight: -(sight.feature.margin or 0.0))
    if not lost:
        return ""
    named = ", ".join(f"{s.name} ({_why(s)})" for s in lost[:NEVER_LISTED])
    return f"Well lit but not tonight: {named}" + (" and others" * (len(lost) > NEVER_LISTED))


def _why(sight: LunarSight) -> str:
    worst = sight.feature.worst_seeing_arcsec
    if worst:
        return f"goes in {seeing_words(sight.feature)}"
    return "too fine for this aperture" if sight.feature.holds is Holds.APERTURE else (
        f"limited by {sight.feature.holds.value}"
    )  # fmt: skip


def _high_words(sights: Sequence[LunarSight]) -> str:
    low = {sight.name for sight in relief_sights(sights)}
    names = [s.name for s in sights if s.name not in low and s.feature.sureness]
    return f"By high Sun, plain as dark or bright ground: {', '.join(names)}" if names else ""


def _kind(sight: LunarSight) -> str:
    words = KIND_WORDS[sight.kind]
    return SHORT_KINDS.get(words, words)


def _margin(sight: LunarSight) -> str:
    margin = sight.feature.margin
    if margin is None:
        return "-"
    return "ample" if margin > ENOUGH else f"{np.floor(10.0 * margin) / 10.0:.1f}"


def _rank(sight: LunarSight) -> float:
    """Points: what is only just possible, what is no crater, large, and near the terminator."""
    special = RELIEF_BEFORE_CRATERS * (sight.kind != "crater")
    hard = RELIEF_BEFORE_CRATERS * (sight.feature.sureness is Sureness.POSSIBLE)
    low = 1.0 - sight.sun_altitude_deg / RELIEF_SUN_DEG
    return special + hard + 2.0 * low + 2.0 * float(np.log10(max(sight.size_km, 1.0)))
