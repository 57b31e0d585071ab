"""One record of the log: one look at one target, or what takes an earlier record back."""

from __future__ import annotations

import datetime as dt  # the reader of lines needs the types at run time
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planner.log.outcome import Companion, Outcome
from planner.targets.kind import Kind


@dataclass(frozen=True, slots=True)
class LoggedPair:
    """The pair of a double that was looked at, with the values of that night.

    ``separation_arcsec`` and ``position_angle_deg`` (None: unknown) for the night's date, ``v1``
    and ``v2`` the V magnitudes of the first star and its companion.
    """

    id: str
    components: str
    separation_arcsec: float
    position_angle_deg: float | None
    v1: float
    v2: float


@dataclass(frozen=True, slots=True)
class Promise:
    """What the planner said beforehand, and under which assumptions.

    ``outcome`` is the verdict in the words of the log, None for no word. A double has
    ``worst_seeing_arcsec``: the worst zenith seeing of elongated, notched, just, clean, 0 for
    never; everything else ``margin_mag``, magnitudes in hand, None for unknown.
    ``seeing_arcsec`` and ``sky_mag`` are the zenith's as assumed, ``settings`` what of the models
    differs between people, by name, and ``model`` tells one edition of the models from another.
    """

    outcome: Outcome | None
    worst_seeing_arcsec: tuple[float, float, float, float] | None
    margin_mag: float | None
    seeing_arcsec: float
    sky_mag: float
    settings: Mapping[str, float]
    model: str


@dataclass(frozen=True, slots=True)
class Record:
    """One look at one target through one view.

    ``written`` is UTC, ``at`` the moment of the look with the site's zone, ``night`` the date of
    the evening. ``site``, ``telescope``, ``observer`` and ``eyepiece`` are names of the kit.
    ``target`` is the catalog's id, ``name`` the title as shown. ``outcome`` None is a look
    without a word on how it looked. ``companion_clock`` is where in the eyepiece the companion
    was drawn, in hours of a clock face over 0 to 12. ``seeing_arcsec`` (zenith, full width at
    half maximum), ``transparency`` and ``sky_mag`` are judged by the observer, else None.
    ``replaces`` names the record that this one corrects; with ``withdraws`` it takes that
    back and says nothing of its own. Records of one ``batch`` came together, ``origin`` is the
    line of a sheet or file that a record stands for.
    """

    id: str
    written: dt.datetime
    at: dt.datetime
    night: dt.date
    target: str
    name: str
    kind: Kind
    site: str = ""
    telescope: str = ""
    observer: str = ""
    eyepiece: str | None = None
    magnification: float | None = None
    clear_aperture_mm: float | None = None
    airmass: float | None = None
    outcome: Outcome | None = None
    companion: Companion | None = None
    companion_clock: float | None = None
    seeing_arcsec: float | None = None
    transparency: str | None = None
    sky_mag: float | None = None
    pair: LoggedPair | None = None
    said: Promise | None = None
    note: str = ""
    replaces: str | None = None
    withdraws: bool = False
    batch: str | None = None
    origin: str | None = None
    format: Literal["planner-log/1"] = "planner-log/1"
