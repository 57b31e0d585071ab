"""What the user asks of a night."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from planner.targets.kind import Kind
from planner.verdict.setup import Settings, Setup

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Mapping
    from pathlib import Path

    from planner.ephemeris.red_spot import RedSpot
    from planner.ephemeris.site import Site
    from planner.eye.observer import Observer
    from planner.log.seen import Seen
    from planner.optics.eyepiece import Filter, Finder
    from planner.optics.telescope import Telescope
    from planner.optics.view import View

LEAST_ALTITUDE_DEG = 15.0  # seeing and extinction spoil most targets lower; common practice


@dataclass(frozen=True, slots=True)
class Request:
    """One night at one place with one telescope, and which targets are wanted.

    ``seeing_arcsec`` is the zenith seeing (full width at half maximum), ``zenith_sky_mag`` the
    moonless zenith in mag per square arcsecond and ``extinction_mag`` the magnitudes lost per
    airmass; ``sky_words`` and ``air_words`` say where they came from. ``views`` are all
    combinations the observer owns. ``start`` and ``end`` are clock times at the site that
    narrow the night, ``start_usual`` and ``end_usual`` tell which of them are the observer's
    usual hours rather than tonight's wish; ``faintest`` refers to a target's total magnitude;
    ``limit`` is the greatest number of targets (None for all), and with ``include_all`` that of
    those not shown beside them. ``only`` names the ids of the only targets wanted, of pairs or of
    whole multiple stars; ``without`` names those of the list's targets to leave out. ``seen`` is
    what the log has, by the id of a list's target.
    ``red_spot`` is what the observer knows of Jupiter's Red Spot.
    ``cache_folder`` keeps tables between runs; None works them out anew.
    ``library_folder`` holds the observer's own catalogs. ``settings`` are those of the models
    that differ between people, ``own_log_words`` which of the values the observer's log has told.
    """

    site: Site
    telescope: Telescope
    views: tuple[View, ...]
    filters: tuple[Filter, ...]
    observer: Observer
    date: dt.date
    seeing_arcsec: float
    zenith_sky_mag: float
    sky_words: str
    extinction_mag: float
    air_words: str
    kinds: frozenset[Kind] = field(default_factory=lambda: frozenset(Kind))
    start: dt.time | None = None
    end: dt.time | None = None
    start_usual: bool = False
    end_usual: bool = False
    constellation: str | None = None
    faintest: float | None = None
    least_altitude_deg: float = LEAST_ALTITUDE_DEG
    only: frozenset[str] | None = None
    without: frozenset[str] = frozenset()
    seen: Mapping[str, Seen] = field(default_factory=dict)
    limit: int | None = 25
    cache_folder: Path | None = None
    library_folder: Path | None = None
    finders: tuple[Finder, ...] = ()
    include_all: bool = False
    red_spot: RedSpot | None = None
    settings: Settings = field(default_factory=Settings)
    own_log_words: str = ""

    @property
    def setup(self) -> Setup:
        """The telescope, the observer and the sky as the verdicts want them."""
        return Setup(
            telescope=self.telescope,
            observer=self.observer,
            zenith_sky_mag=self.zenith_sky_mag,
            seeing_arcsec=self.seeing_arcsec,
            extinction_mag=self.extinction_mag,
            settings=self.settings,
        )
