"""Whether a site's coordinates go with its time zone: a wrong sign makes noon the night."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from planner.kit.zones import likely_coordinates

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.ephemeris.site import Site

ZONE_SLACK_HOURS = 3.6  # legal time runs up to about 3.2 h from the Sun's (western China, Alaska)
POLAR_LATITUDE_DEG = 75.0  # beyond it stations keep the time of their supplier


def position_remarks(site: Site) -> Iterator[str]:
    """What looks mistyped about a place: at most one remark, without the name of the site."""
    meant = likely_coordinates(site)
    if meant is not None:
        yield (
            f"latitude {site.latitude_deg:g}, longitude {site.longitude_deg:g} is far from "
            f"{site.timezone}; is it latitude {meant[0]:g}, longitude {meant[1]:g}? "
            "(north and east are positive)"
        )
        return
    offset = datetime(2026, 1, 15, 12, tzinfo=UTC).astimezone(ZoneInfo(site.timezone)).utcoffset()
    if offset is None or abs(site.latitude_deg) > POLAR_LATITUDE_DEG:
        return
    apart = (offset.total_seconds() / 3600.0 - site.longitude_deg / 15.0) % 24.0
    apart = min(apart, 24.0 - apart)
    if apart > ZONE_SLACK_HOURS:
        yield (
            f"longitude {site.longitude_deg:g} and time zone {site.timezone} are {apart:.0f} hours "
            "apart; east longitudes are positive"
        )
