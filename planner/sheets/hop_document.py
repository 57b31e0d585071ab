"""The way to a target as plain values for JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.hops.hop import Hop, Stop


def hop_document(hop: Hop) -> dict[str, Any]:
    """A hop as plain dicts, lists, numbers, texts and None; docs/formats.md has its fields."""
    return {
        "means": hop.means.value,
        "instrument": hop.instrument,
        "field_deg": round(hop.field_deg, 2),
        "altitude_deg": round(hop.altitude_deg, 1),
        "azimuth_deg": round(hop.azimuth_deg, 1),
        "start": None if hop.start is None else _stop(hop.start),
        "legs": [
            {
                "to": _stop(leg.to),
                "length_deg": round(leg.length_deg, 2),
                "share": round(leg.share, 2),
                "sky_hour": round(leg.sky_hour, 1),
                "image_hour": None if leg.image_hour is None else round(leg.image_hour, 1),
            }
            for leg in hop.legs
        ],
        "line_share": None if hop.line_share is None else round(hop.line_share, 2),
        "sweep": hop.sweep,
        "bare_eye": hop.bare_eye,
        "in_finder": hop.in_finder,
    }


def _stop(stop: Stop) -> dict[str, Any]:
    return {
        "name": stop.name or None,
        "v_mag": None if stop.v_mag is None else round(stop.v_mag, 2),
        "ra_deg": round(stop.ra_deg, 4),
        "dec_deg": round(stop.dec_deg, 4),
    }
