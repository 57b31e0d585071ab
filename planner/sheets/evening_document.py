"""The evening's order as one JSON object, format ``planner-plan/1``; docs/formats.md has it all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.sheets.hop_document import hop_document
from planner.sheets.json_text import rounded
from planner.sheets.reason_words import LEFT_OUT_WORDS, why_words

if TYPE_CHECKING:
    from planner.night.evening.evening import Evening, Look
    from planner.night.evening.preparing import Omitted

FORMAT = "planner-plan/1"


def evening_document(evening: Evening) -> dict[str, Any]:
    """The whole order as plain dicts, lists, numbers, texts and None."""
    plan = evening.plan
    return {
        "format": FORMAT,
        "site": plan.site.name,
        "telescope": plan.telescope.name,
        "date": plan.night.date.isoformat(),
        "score": round(evening.score, 2),
        "bound": round(evening.bound, 2),
        "idle_minutes": evening.idle_minutes,
        "unmet": [_omitted_row(item) for item in evening.unmet],
        "entries": [entry_row(look) for look in evening.looks],
        "left_out": [_omitted_row(item) for item in evening.left_out],
        "prices": dict(sorted(evening.prices.items())),
    }


def entry_row(look: Look) -> dict[str, Any]:
    """One look; a break has no target and nothing that belongs to one."""
    target = look.target
    view = target.view if target else None
    return {
        "start": look.start.isoformat(timespec="minutes"),
        "end": look.end.isoformat(timespec="minutes"),
        "target_id": target.id if target else None,
        "name": target.name if target else "break",
        "altitude_deg": rounded(target.altitude_deg if target else None, 1),
        "azimuth_deg": rounded(target.azimuth_deg if target else None, 1),
        "eyepiece": view.name if view else None,
        "magnification": rounded(view.magnification if view else None, 1),
        "filter": target.filter_name if target else None,
        "eyepiece_height_m": rounded(look.eyepiece_height_m, 2),
        "why": why_words(look.why),
        "hop": None if look.hop is None else hop_document(look.hop),
    }


def _omitted_row(item: Omitted) -> dict[str, Any]:
    return {"target_id": item.id or None, "name": item.name, "reason": LEFT_OUT_WORDS[item.why]}
