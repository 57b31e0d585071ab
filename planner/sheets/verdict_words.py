"""Verdicts in words: how surely, what limits, and why; made from enums and numbers once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.night.plan import Absence, BodyDetail, DoubleDetail, RedStarDetail
from planner.sheets.clock_words import clock
from planner.sheets.double_words import BEYOND, double_verdict_words, seeing_words
from planner.sheets.sun_words import safe_words
from planner.targets.kind import Kind
from planner.verdict.deepsky.cluster_stars import RESOLVED_MAG, GlobularStars
from planner.verdict.steps import Step
from planner.verdict.verdicts import Limit

if TYPE_CHECKING:
    from planner.night.plan import ObjectDetail, PlannedTarget, Unusable
    from planner.verdict.deepsky.cluster_stars import StarCount

UNKNOWN_BRIGHTNESS = "brightness unknown"
NEAR_SUN_DEG = 25.0  # below this a planet is sought close to the Sun; own judgement
SUN_CAUTION = "near the Sun: only while the Sun is below the horizon"
STEP_WORDS = {
    Step.UNKNOWN: UNKNOWN_BRIGHTNESS,
    Step.NOT_SEEN: "not seen",
    Step.BORDERLINE: "borderline",
    Step.SEEN: "seen with care",
    Step.PLAIN: "plain",
}
LIMIT_WORDS = {
    Limit.NOTHING: "",
    Limit.COMPANION_TOO_FAINT: "companion too faint",
    Limit.POWER_TOO_LOW: "power too low",
    Limit.ALTITUDE: "altitude",
    Limit.SEEING: "seeing",
    Limit.GLARE: "glare",
    Limit.RESOLUTION: "resolution",
    Limit.MOON: "the Moon",
    Limit.TWILIGHT: "twilight",
    Limit.HAZE: "haze",
    Limit.SKY_GLOW: "sky glow",
    Limit.FAINTNESS: "its faintness",
    Limit.SPREAD_LIGHT: "its faint spread-out light",
    Limit.SMALLNESS: "its smallness",
    Limit.UNKNOWN_BRIGHTNESS: UNKNOWN_BRIGHTNESS,
}


def verdict_words(target: PlannedTarget) -> str:
    """How surely the target is seen tonight, or how a double looks."""
    detail = target.detail
    if target.unusable is not None:
        return "not up" if target.unusable.elsewhen is None else "only at other hours"
    if isinstance(detail, DoubleDetail):
        return double_verdict_words(detail)
    if isinstance(detail, BodyDetail):
        return STEP_WORDS[target.step] if target.shown else "lost in the sky"
    if isinstance(detail, RedStarDetail):
        return STEP_WORDS[target.step]
    if detail.nebula_unknown and target.step is not Step.UNKNOWN:
        return f"stars {STEP_WORDS[target.step]}"
    return STEP_WORDS[target.step]


def limit_words(target: PlannedTarget) -> str:
    """What stands in the way, in a word or two; empty for nothing to speak of."""
    low = target.limit is Limit.ALTITUDE and target.unusable is None
    return "low altitude" if low and target.double is None else LIMIT_WORDS[target.limit]


def reason_words(target: PlannedTarget) -> str:
    """Why the verdict is what it is, or why there is none tonight."""
    if target.unusable is not None:
        return _unusable_words(target, target.unusable)
    detail = target.detail
    if isinstance(detail, DoubleDetail):
        return _double_reason(target, detail)
    if isinstance(detail, BodyDetail):
        return _body_reason(target, detail)
    if isinstance(detail, RedStarDetail):
        return "; ".join((*_margin_reasons(target), _red_star_words(detail)))
    if target.step is Step.UNKNOWN:
        return "the catalog gives no magnitude, so nothing can be promised"
    return "; ".join(_object_reasons(target, detail))


def _unusable_words(target: PlannedTarget, unusable: Unusable) -> str:
    why, highest, least = unusable.why, unusable.highest_deg, unusable.least_deg
    if unusable.elsewhen is not None:
        first, last = unusable.elsewhen
        return f"only {clock(first)}-{clock(last)}, outside the hours looked at (--whole-night)"
    if why is Absence.HIGH:
        return "higher than the mount or the site lets the telescope point, whenever it is dark"
    if isinstance(target.detail, BodyDetail):
        if why is Absence.TOO_BRIGHT:
            return "the Sun is not down in the hours asked for"
        if why is Absence.NEVER_UP:
            return "below the horizon while the Sun is down"
        if why is Absence.HIDDEN:
            return "behind the local horizon, or high enough only in bright twilight"
        return (
            f"never clear of {least:.0f}° and the local horizon while the Sun is down (at most "
            f"{highest:.0f}°)"
        )
    if why is Absence.TOO_BRIGHT:
        return "it does not get dark enough in the hours asked for"
    if why is Absence.NEVER_UP:
        return "below the horizon all night"
    if why is Absence.LOW:
        return f"never above {least:.0f}°: at most {highest:.0f}° tonight"
    return "behind the local horizon, or up only in twilight"


def _double_reason(target: PlannedTarget, double: DoubleDetail) -> str:
    chance = "; probably a chance alignment" if double.chance_alignment else ""
    seeing, limit = seeing_words(double), limit_words(target)
    if target.limit is Limit.ALTITUDE and seeing == BEYOND:
        return f"too low tonight for this telescope to part it in any seeing{chance}"
    by = f"; limited by {limit}" if limit else ""
    return f"{seeing}{by}{chance}"


def _body_reason(target: PlannedTarget, body: BodyDetail) -> str:
    disc = body.diameter_arcsec
    size = f"{disc / 60.0:.0f}'" if disc > 600.0 else f'{disc:.1f}"'
    words = f"disc {size}, {body.illuminated_fraction:.0%} lit"
    return "; ".join(filter(None, (words, near_sun_words(target))))


def near_sun_words(target: PlannedTarget) -> str:
    """What to heed of the Moon or a planet beside the Sun; empty for everything else."""
    body = target.detail
    if not isinstance(body, BodyDetail):
        return ""
    caution = SUN_CAUTION if body.elongation_deg < NEAR_SUN_DEG else ""
    span = safe_words(target.best_time, body.safe_from, body.safe_until)
    return "; ".join(filter(None, (caution, span)))


def _red_star_words(star: RedStarDetail) -> str:
    """How a red star varies; where it stands tonight nobody knows beforehand."""
    bright, faint = star.range_mag
    period = "" if star.period_days is None else f" in about {star.period_days:.0f} days"
    return (
        f"varies from about mag {bright:.1f} to {faint:.1f}{period}, judged in the middle: look "
        "where it stands"
    )


def _margin_reasons(target: PlannedTarget) -> list[str]:
    """How many magnitudes are in hand or short, and what limits."""
    parts = []
    if target.margin is not None:
        word = "in hand" if target.margin >= 0 else "short"
        parts.append(f"{abs(target.margin):.1f} mag {word}, give or take {target.uncertainty:.1f}")
    if target.limit is not Limit.NOTHING:
        like = ", like a star at any power" if target.limit is Limit.SMALLNESS else ""
        parts.append(f"limited by {limit_words(target)}{like}")
    return parts


def _object_reasons(target: PlannedTarget, detail: ObjectDetail) -> list[str]:
    parts = _margin_reasons(target)
    if detail.nebula_unknown:
        parts.append("for the stars inside: of the nebula's own light the catalog says nothing")
    elif target.kind is Kind.NEBULA:
        parts.append("a diffuse nebula: judged with caution")
    if detail.overflows:
        parts.append("larger than every field")
    if detail.stars is not None:
        parts.append(cluster_words(detail.stars))
    return parts


def cluster_words(stars: StarCount | GlobularStars) -> str:
    """What of a cluster's stars shows."""
    return globular_words(stars) if isinstance(stars, GlobularStars) else open_cluster_words(stars)


def open_cluster_words(count: StarCount) -> str:
    """What of an open cluster shows."""
    counted = (
        f"{count.stars} star{'s' * (count.stars != 1)} to mag {count.limit_mag:.1f} in its circle, "
        f"about {count.above_field} more than the field has"
    )
    if count.complete:
        return counted
    if count.above_field == 0:
        return f"its stars are fainter than our star catalog reaches, mag {count.limit_mag:.1f}"
    return f"{counted}; the star catalog ends there, more show"


def globular_words(stars: GlobularStars) -> str:
    """Whether a globular would be resolved."""
    if stars.over_mag >= RESOLVED_MAG:
        how = "outer stars resolved"
    elif stars.over_mag >= 0.0:
        how = "grainy, its brightest stars at the limit"
    else:
        how = "a glow without stars"
    bright = stars.brightest_mag
    told = f"about mag {bright:.1f}" if stars.by_branch else f"perhaps mag {bright:.0f}"
    return f"{how} (brightest {told})"
