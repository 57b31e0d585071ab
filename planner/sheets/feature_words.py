"""What of a planet shows, in words and as rows of JSON."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from planner.verdict.bodies.features import Holds, Sureness

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.verdict.bodies.features import Feature

SURENESS_WORDS = {
    Sureness.PLAIN: "plain",
    Sureness.POSSIBLE: "possible",
    Sureness.NOT_TONIGHT: "not tonight",
}
STEADY = "possible in steady moments"
MOST_NAMED, MOST_TOLD = 8, 16  # of the Moon there are many; the page of hers has them all
WORST_TOLD_ARCSEC = 9.9  # seeing beyond which the number says nothing more


def feature_rows(features: Sequence[Feature]) -> list[dict[str, Any]]:
    """Every marking with its verdict; null where it faces away."""
    return [
        {
            "name": feature.name,
            "verdict": SURENESS_WORDS[feature.sureness],
            "margin": _down(feature.margin),
            "worst_seeing_arcsec": _down(feature.worst_seeing_arcsec),
            "limited_by": "" if feature.holds is Holds.NOTHING else feature.holds.value,
        }
        for feature in features
    ]


def shown_words(features: Sequence[Feature], most: int = MOST_NAMED) -> str:
    """One line: what is plain and what is possible, each at most so many; empty for nothing."""
    parts = []
    for sureness, word in ((Sureness.PLAIN, "plain"), (Sureness.POSSIBLE, STEADY)):
        names = [feature.name for feature in features if feature.sureness is sureness]
        if names:
            parts.append(f"{word}: {_listed(names, most)}")
    return "; ".join(parts)


def _listed(names: Sequence[str], most: int) -> str:
    more = len(names) - most
    return ", ".join(names[:most]) + (f" and {more} more" if more > 0 else "")


def feature_lines(features: Sequence[Feature]) -> list[str]:
    """The page of one planet: what shows, in which seeing it still goes, and what does not."""
    lines = []
    for sureness, word in ((Sureness.PLAIN, "plain"), (Sureness.POSSIBLE, STEADY)):
        names = [_with_seeing(feature) for feature in features if feature.sureness is sureness]
        if names:
            lines.append(f"{word}: {_listed(names, MOST_TOLD)}")
    lost = [
        f"{feature.name} ({_why(feature)})"
        for feature in features
        if feature.sureness is Sureness.NOT_TONIGHT
    ]
    if lost:
        lines.append(f"not tonight: {_listed(lost, MOST_TOLD)}")
    if lines:
        lines.append(
            "in brackets the worst zenith seeing in which it still goes; contrasts of markings "
            "are known to some 40 %"
        )
    return lines


def seeing_words(feature: Feature) -> str:
    """The worst zenith seeing in which it still goes: ``2.1"``, any, none; ``-`` turned away."""
    worst = feature.worst_seeing_arcsec
    if worst is None:
        return "-"
    if worst > WORST_TOLD_ARCSEC:
        return "any"
    return f'{math.floor(10.0 * worst) / 10.0:.1f}"' if worst else "none"


def _with_seeing(feature: Feature) -> str:
    return f"{feature.name} ({seeing_words(feature)})"


def _why(feature: Feature) -> str:
    if feature.holds is Holds.FACES_AWAY:
        return "faces away"
    if feature.worst_seeing_arcsec:
        return f'goes in {math.floor(10.0 * feature.worst_seeing_arcsec) / 10.0:.1f}"'
    return f"limited by {feature.holds.value}"


def _down(value: float | None) -> float | None:
    """Rounded down to hundredths: never better than it is."""
    return None if value is None else math.floor(100.0 * value) / 100.0
