"""The door to the ephemeris: JPL DE421 from its package, and the scale of time."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from skyfield.functions import load_bundled_npy
from skyfield.jpllib import SpiceKernel
from skyfield.timelib import Timescale

from planner.constants import J2000_JD
from planner.errors import CatalogError, DateOutsideEphemerisError, UsageError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

_REMEDY = "put the ephemeris back with: python -m pip install --force-reinstall skyfield-data"
_EDGE = timedelta(days=2)  # a local night reaches over its date, and light is hours under way
_BYTES_PER_WORD = 8  # a DAF file counts double-precision words; NAIF, DAF Required Reading
_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_FIRST_UTC_YEAR = 1972  # whole leap seconds begin; CCIR Recommendation 460


def kernel_path() -> Path:
    """Where the ephemeris file of the skyfield-data package lies.

    Raises CatalogError when the package is missing.
    """
    try:
        return Path(str(files("skyfield_data"))) / "data" / "de421.bsp"
    except ModuleNotFoundError as error:
        raise CatalogError(f"the package skyfield-data is missing; {_REMEDY}") from error


def open_kernel(path: Path) -> Any:
    """Open one ephemeris file and check that it is whole.

    Raises CatalogError when it is missing, no ephemeris, or cut short.
    """
    if not path.is_file():
        raise CatalogError(f"the ephemeris file {path.name} is missing; {_REMEDY}")
    try:
        opened = SpiceKernel(str(path))
    except (ValueError, OSError, IndexError) as error:
        raise CatalogError(f"the ephemeris file {path.name} is damaged; {_REMEDY}") from error
    last_word = max((s.spk_segment.end_i for s in opened.segments), default=None)
    if last_word is None or path.stat().st_size < last_word * _BYTES_PER_WORD:
        raise CatalogError(f"the ephemeris file {path.name} is cut short; {_REMEDY}")
    return opened


@cache
def kernel() -> Any:
    """The ephemeris, opened once: index it with a body's NAIF number.

    DE421 gives Sun, Moon and planets; from Mars outwards the centre of mass of planet and
    moons stands for the planet, which is under 0.1" beside the planet's own (Jupiter 0.08").
    Source: Folkner, Williams & Boggs 2009, IPN Progress Report 42-178.
    """
    return open_kernel(kernel_path())


@cache
def timescale() -> Any:
    """Time with the leap seconds and the Earth's rotation that skyfield carries inside it.

    Read as skyfield's loader reads it, without the loader: that one can download, and brings
    everything a network needs. It steps in where an edition of skyfield keeps the table otherwise.
    """
    try:
        kept = load_bundled_npy("iers.npz")
        days = kept["tt_jd_minus_arange"]
        rotation = days + np.arange(len(days)), (kept["delta_t_1e7"] / 1e7).round(7)
        return Timescale(rotation, kept["leap_dates"], kept["leap_offsets"])
    except (OSError, KeyError):
        from skyfield.iokit import Loader

        return Loader(str(kernel_path().parent), verbose=False).timescale(builtin=True)


@cache
def covered_dates() -> tuple[date, date]:
    """First and last date whose local night the ephemeris covers at any site.

    Two days are kept free at either end: a local night reaches up to a day over its date
    and up to 14 hours from Greenwich, and light from Neptune is four hours old.
    """
    segments = [s.spk_segment for s in kernel().segments]
    first = max(s.start_jd for s in segments)
    last = min(s.end_jd for s in segments)
    return _calendar(first, round_up=True) + _EDGE, _calendar(last, round_up=False) - _EDGE


def require_covered(day: date) -> None:
    """Raise DateOutsideEphemerisError, with the range, if a date's night is not covered."""
    first, last = covered_dates()
    plain = date(day.year, day.month, day.day)
    if not first <= plain <= last:
        raise DateOutsideEphemerisError(
            f"{plain.isoformat()} lies outside the ephemeris, which covers the nights of "
            f"{first.isoformat()} to {last.isoformat()}; choose a date between them"
        )


def times_after(start: datetime, seconds: ArrayLike) -> Any:
    """A skyfield Time array: seconds (T,) after an aware datetime.

    Civil time is UTC from 1972 on. Before that it is taken as mean solar time at Greenwich
    (UT1), as clocks then kept it. A leap second within the span is not counted (1 s).
    Raises UsageError for a time without zone.
    """
    if start.utcoffset() is None:
        raise UsageError(f"the time {start} has no zone; give it one")
    u = start.astimezone(UTC)
    offset = np.asarray(seconds, dtype=float) + u.second + u.microsecond * 1e-6
    scale = timescale().utc if u.year >= _FIRST_UTC_YEAR else timescale().ut1
    return scale(u.year, u.month, u.day, u.hour, u.minute, offset)


def _calendar(julian_date: float, *, round_up: bool) -> date:
    """The calendar date at, or the whole one before or after, a Julian date."""
    moment = _J2000 + timedelta(days=julian_date - J2000_JD)
    whole = moment.date()
    on_midnight = moment.time() == datetime.min.time()
    return whole + timedelta(days=1) if round_up and not on_midnight else whole
