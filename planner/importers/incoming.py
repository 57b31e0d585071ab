"""Pairs as an outside file gives them, before they meet the pairs already known."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_YEAR
from planner.importers.rejected_rows import RejectedRows, judged
from planner.targets.columns import frozen, objects, rows_of
from planner.targets.pairs import NO_ORBIT, Pairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

PRECISE_ARCSEC = 5.0  # places to a second of arc, and what motion since adds; own judgement
COARSE_ARCSEC = 75.0  # half of 0.1 minute of time and half a minute of arc, with a margin
FAINTEST_MAG, BRIGHTEST_MAG = 30.0, -3.0  # beyond lies a slip of the column
WIDEST_ARCSEC = 36000.0
FASTEST_MAS_YR = 20000.0  # Barnard's star moves by half of it (from memory)
LONGEST_TEXT = 100  # of names and letters; own judgement, so that tables stay readable
FIELD_LABEL = re.compile(r"([A-Za-z]+(?: ?[A-Z0-9](?= ))?) *([0-9]{1,9})")


@dataclass(frozen=True, slots=True)
class PairRows:
    """N pairs of one file: units as in ``Pairs``, unknown numbers NaN, unknown texts empty.

    ``line`` is where each row stands in the file. ``place_error_arcsec`` says how far the place
    may be off; a ``position_epoch_yr`` that is not stated is NaN.
    """

    line: Integers
    ra_deg: Floats
    dec_deg: Floats
    place_error_arcsec: Floats
    position_epoch_yr: Floats
    pm_ra_mas_yr: Floats
    pm_dec_mas_yr: Floats
    v1: Floats
    v2: Floats
    separation_arcsec: Floats
    position_angle_deg: Floats
    epoch_yr: Floats
    components: Texts
    name: Texts
    discoverer: Texts
    wds: Texts
    physical: Texts
    note: Texts

    def __len__(self) -> int:
        """Number of rows."""
        return len(self.line)


@dataclass(frozen=True, slots=True)
class PairReading:
    """The usable rows of a file, the refused ones, and what else is to be said of it."""

    rows: PairRows
    refusals: tuple[RejectedRows, ...]
    remarks: tuple[str, ...] = ()


def possible_rows(
    rows: PairRows, checks: tuple[tuple[str, Bools], ...] = ()
) -> tuple[PairRows, tuple[RejectedRows, ...]]:
    """The rows that can be judged, each pair once; and why the others cannot.

    ``checks`` are the layout's own, made first.
    """
    common = (
        ("no position", np.isnan(rows.ra_deg) | np.isnan(rows.dec_deg)),
        ("a right ascension outside 0 to 360 degrees", ~_within(rows.ra_deg, 0.0, 360.0)),
        ("a declination outside -90 to 90 degrees", ~_within(rows.dec_deg, -90.0, 90.0)),
        ("no separation", np.isnan(rows.separation_arcsec)),
        ("a separation of zero or less", rows.separation_arcsec <= 0.0),
        ("no magnitude of the primary", np.isnan(rows.v1)),
        ("no magnitude of the companion", np.isnan(rows.v2)),
        ("an impossible number", ~_plausible(rows)),
        (f"a name of more than {LONGEST_TEXT} characters", _overlong(rows)),
    )
    keep, refusals = judged(rows.line, (*checks, *common))
    kept = rows_of(rows, keep)
    again, repeated = judged(kept.line, (("the same pair as an earlier row", _repeats(kept)),))
    return rows_of(kept, again), refusals + repeated


def discoverer_text(text: str) -> str:
    """A discoverer's code and number with one space between: ``STF1877`` to ``STF 1877``.

    Herschel's classes keep theirs: ``H 5  12`` to ``H 5 12``.
    """
    match = FIELD_LABEL.fullmatch(text.strip())
    return f"{match[1]} {int(match[2])}" if match else " ".join(text.split())


def as_pairs(rows: PairRows, source: str, measure_source: str, constellation: Texts) -> Pairs:
    """The rows as a table of pairs, each with an identifier of its own.

    A place whose epoch is not stated is taken as of 2000.
    """
    count = len(rows)
    blank, unknown = objects(("",) * count), frozen(np.full(count, np.nan))
    none = frozen(np.zeros(count, dtype=np.int64))
    systems = [_system(*item) for item in zip(rows.wds, rows.ra_deg, rows.dec_deg, strict=True)]
    own = {field.name for field in fields(PairRows)} & {field.name for field in fields(Pairs)}
    epoch = np.where(np.isnan(rows.position_epoch_yr), J2000_YEAR, rows.position_epoch_yr)
    return Pairs(
        **({name: getattr(rows, name) for name in own} | {"position_epoch_yr": frozen(epoch)}),
        pair_id=_pair_ids(rows, systems),
        system_id=objects(tuple(systems)),
        motion_ra_mas_yr=unknown,
        motion_dec_mas_yr=unknown,
        proper_name=blank,
        place_id=rows.wds,
        hip=none,
        hip_secondary=none,
        colour1_bv=unknown,
        colour2_bv=unknown,
        constellation=constellation,
        chance=unknown,
        source=objects((source,) * count),
        measure_epoch_yr=rows.epoch_yr,
        measure_source=objects((measure_source,) * count),
        orbit_row=frozen(np.full(count, NO_ORBIT)),
    )


def _within(values: Floats, low: float, high: float) -> Bools:
    return np.asarray((values >= low) & (values <= high))


def _plausible(rows: PairRows) -> Bools:
    """Magnitudes, separations, angles and years that can be."""
    angle = rows.position_angle_deg
    return (
        _within(rows.v1, BRIGHTEST_MAG, FAINTEST_MAG)
        & _within(rows.v2, BRIGHTEST_MAG, FAINTEST_MAG)
        & _within(rows.separation_arcsec, 0.0, WIDEST_ARCSEC)
        & (np.isnan(angle) | _within(angle, 0.0, 360.0))
        & _possible_motion(rows.pm_ra_mas_yr)
        & _possible_motion(rows.pm_dec_mas_yr)
        & _possible_years(rows.epoch_yr)
        & _possible_years(rows.position_epoch_yr)
    )


def _possible_years(years: Floats) -> Bools:
    return np.isnan(years) | _within(years, 1600.0, 2200.0)


def _possible_motion(motion: Floats) -> Bools:
    return np.isnan(motion) | _within(motion, -FASTEST_MAS_YR, FASTEST_MAS_YR)


def _overlong(rows: PairRows) -> Bools:
    columns = (rows.components, rows.name, rows.discoverer)
    longest = [max(map(len, texts)) for texts in zip(*columns, strict=True)]
    return np.array(longest, dtype=np.int64) > LONGEST_TEXT


def _repeats(rows: PairRows) -> Bools:
    """Rows whose pair stands in an earlier one: by its designation, else by its numbers."""
    seen: set[tuple[object, ...]] = set()
    columns = (
        rows.wds, rows.discoverer, rows.components, rows.ra_deg, rows.dec_deg,
        rows.separation_arcsec, rows.position_angle_deg, rows.name,
    )  # fmt: skip
    repeated = np.zeros(len(rows), dtype=bool)
    for number, (wds, discoverer, parts, *numbers) in enumerate(zip(*columns, strict=True)):
        key = (wds, discoverer, parts) if wds and discoverer else (parts, *map(str, numbers))
        repeated[number] = key in seen
        seen.add(key)
    return repeated


def _system(wds: str, ra_deg: float, dec_deg: float) -> str:
    """``wds14450+2704``, or the place ``j1445000+270400`` where there is no identifier."""
    if wds:
        return f"wds{wds}"
    tenths = round(ra_deg * 2400.0) % 864000
    seconds = round(abs(dec_deg) * 3600.0)
    hours, minutes = divmod(tenths // 600, 60)
    degrees, arcmin = divmod(seconds // 60, 60)
    sign = "-" if dec_deg < 0.0 else "+"
    place = f"{hours:02d}{minutes:02d}{tenths % 600:03d}"
    return f"j{place}{sign}{degrees:02d}{arcmin:02d}{seconds % 60:02d}"


def _pair_ids(rows: PairRows, systems: list[str]) -> Texts:
    """``wds14450+2704-STF1877-AB``; a number is added where that is not unique."""
    used: dict[str, int] = {}
    found = []
    for system, discoverer, parts in zip(systems, rows.discoverer, rows.components, strict=True):
        label = [discoverer.replace(" ", "")] if discoverer else []
        identifier = "-".join([system, *label, (parts or "AB").replace(",", ":")])
        used[identifier] = used.get(identifier, 0) + 1
        times = used[identifier]
        found.append(identifier if times == 1 else f"{identifier}-{times}")
    return objects(tuple(found))
