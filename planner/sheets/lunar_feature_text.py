"""One feature of the Moon as a page: tonight's verdict and light, facts, the next good nights."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.angles import compass_point
from planner.constants import ARCSEC_PER_RADIAN, MEAN_MOON_DISTANCE_KM
from planner.sheets.clock_words import clock
from planner.sheets.feature_words import STEADY, seeing_words
from planner.sheets.lunar_words import (
    DIRECTIONS_NOTE,
    KIND_WORDS,
    LONG_SHADOW_KM,
    light_words,
    longitude_latitude_words,
    look_words,
    night_words,
)
from planner.sheets.night_words import night_lines
from planner.sheets.page_text import wrapped
from planner.sheets.sun_words import EYES
from planner.sheets.verdict_words import reason_words
from planner.verdict.bodies.features import Sureness
from planner.verdict.bodies.lunar_markings import EDGE_DEG

if TYPE_CHECKING:
    from planner.night.lunar_nights import LunarFeatureTonight
    from planner.night.moon_tonight import LunarSight, MoonTonight
    from planner.night.plan import Plan

FROM_MEMORY = "place and size from memory, to about half a degree"
SURE = {Sureness.PLAIN: "plain tonight", Sureness.POSSIBLE: f"{STEADY} tonight"}


def lunar_feature_text(plan: Plan, told: LunarFeatureTonight) -> str:
    """The page, the night's header last."""
    blocks = [
        "\n".join(wrapped(line) for line in (*_tonight_lines(plan, told), *_fact_lines(told))),
        "\n".join(wrapped(line) for line in _night_lines(told)),
        "\n".join(wrapped(line) for line in night_lines(plan)),
        wrapped(EYES, 0),
    ]
    return "\n\n".join(blocks)


def _tonight_lines(plan: Plan, told: LunarFeatureTonight) -> list[str]:
    what = f"{told.name}, {KIND_WORDS[told.kind]} on the Moon"
    target, moon = plan.targets[0], told.moon
    if moon is None:
        return [f"{what}: not shown tonight: the Moon is {reason_words(target)}."]
    (sight,) = moon.sights
    lines = [
        f"{what}: {_verdict_words(sight)}.",
        f"When and where: at {clock(moon.time)}, the Moon {moon.altitude_deg:.0f}° high in the "
        f"{compass_point(moon.azimuth_deg)}; {reason_words(target)}.",
        f"Light: {light_words(sight)}{_other_light(sight, told)}.",
    ]
    if sight.feature.sureness is Sureness.NOT_TONIGHT:
        return lines
    return [*lines, f"Eyepiece: {_eyepiece(moon)}.", f"Look for: {look_words(sight)}."]


def _verdict_words(sight: LunarSight) -> str:
    feature = sight.feature
    if feature.sureness is not Sureness.NOT_TONIGHT:
        return (
            f"{SURE[feature.sureness]}, margin {feature.margin or 0.0:.1f}, worst seeing "
            f"{seeing_words(feature)}"
        )
    if sight.sun_altitude_deg <= 0.0:
        return "not tonight: it lies in the dark"
    if sight.from_centre_deg > EDGE_DEG:
        return "not tonight: too near the limb, or behind it"
    if feature.margin is None:
        return "not tonight: the Sun only just touches it"
    worst = feature.worst_seeing_arcsec
    goes = f"; it goes in a seeing of {seeing_words(feature)}" if worst else ""
    return f"not tonight: margin {feature.margin:.1f}, limited by {feature.holds.value}{goes}"


def _other_light(sight: LunarSight, told: LunarFeatureTonight) -> str:
    """That the Sun stands higher or lower than is good for it."""
    low, high = told.good_sun_deg
    sun = sight.sun_altitude_deg
    if sun > high:
        return (
            f", more than is good for it ({low:.2g}° to {high:.0f}°): short shadows, little relief"
        )
    return f", less than is good for it (from {low:.2g}°)" if 0.0 < sun < low else ""


def _eyepiece(moon: MoonTonight) -> str:
    return "-" if moon.view is None else f"{moon.view.name}, {moon.view.magnification:.0f}x"


def _fact_lines(told: LunarFeatureTonight) -> list[str]:
    arcsec = told.size_km / MEAN_MOON_DISTANCE_KM * ARCSEC_PER_RADIAN
    lines = [
        f"{longitude_latitude_words(told.lon_east_deg, told.lat_deg)}; {told.size_km:g} km, about "
        f"{arcsec:.0f}\" at the Moon's mean distance"
    ]
    if told.source == "from memory":
        lines.append(FROM_MEMORY)
    else:
        lines.append(f"place and size: {told.source}")
    if told.moon is not None:
        (sight,) = told.moon.sights
        narrow = f"{sight.width_km:g} km across" if sight.width_km < sight.size_km else ""
        short = sight.sun_altitude_deg > 0.0 and (sight.shadow_km or np.inf) < LONG_SHADOW_KM
        shadow = f"a shadow of about {sight.shadow_km:.0f} km" if short else ""
        tonight = (f'{sight.size_arcsec:.0f}" tonight', narrow, shadow)
        lines.append(", ".join(words for words in tonight if words))
    return lines


def _night_lines(told: LunarFeatureTonight) -> list[str]:
    low, high = told.good_sun_deg
    light = f"Sun {low:.2g}° to {high:.0f}° high there" if high < 90.0 else f"Sun over {low:.2g}°"
    if not told.good_nights:
        return [f"No night of good light ({light}) with the Moon in reach within two months."]
    return [
        f"Next nights of good light ({light}), to the hour:",
        *(f"  {night_words(night)}" for night in told.good_nights),
        DIRECTIONS_NOTE,
    ]
