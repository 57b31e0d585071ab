"""The words for what was seen: those of the verdicts, the poorest first."""

from __future__ import annotations

from enum import StrEnum

from planner.targets.kind import Kind


class Outcome(StrEnum):
    """How a target looked; a double has words of its own."""

    NOT_SPLIT = "not split"
    ELONGATED = "elongated"
    NOTCHED = "notched"
    JUST = "just"
    CLEAN = "clean"
    NOT_SEEN = "not seen"
    GLIMPSED = "glimpsed"
    WITH_CARE = "with care"
    PLAIN = "plain"


class Companion(StrEnum):
    """How the fainter star of a double showed itself."""

    NOT_SEEN = "not seen"
    GLIMPSED = "glimpsed"
    HELD = "held"
    PLAIN = "plain"


PAIR_OUTCOMES = (
    Outcome.NOT_SPLIT, Outcome.ELONGATED, Outcome.NOTCHED, Outcome.JUST, Outcome.CLEAN,
)  # fmt: skip
OTHER_OUTCOMES = (Outcome.NOT_SEEN, Outcome.GLIMPSED, Outcome.WITH_CARE, Outcome.PLAIN)
FAILURES = frozenset({Outcome.NOT_SPLIT, Outcome.NOT_SEEN})


def outcomes_of(kind: Kind) -> tuple[Outcome, ...]:
    """The outcomes that a target of this kind can have, the poorest first."""
    return PAIR_OUTCOMES if kind is Kind.DOUBLE else OTHER_OUTCOMES
