"""What a chart is asked for: a target by its name or a bare place, at one moment of a night."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import declination_text, right_ascension_text
from planner.charts.letters import printed
from planner.charts.subject import Subject
from planner.ephemeris.moments import seconds_between
from planner.ephemeris.site import horizon_altitude_deg
from planner.ephemeris.track import track
from planner.errors import PlannerError, UnknownTargetError, UsageError
from planner.importers.library import load_all_orbits, load_all_pairs
from planner.night.evening.leading import goal_hops
from planner.night.evening.plain_sight import Goal
from planner.targets.catalog import load_deepsky, load_designations, load_stars
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.names import Domain
from planner.targets.pairs import at_epoch, combined_magnitude, take

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.ephemeris.bodies import BodyTrack
    from planner.ephemeris.track import Track
    from planner.hops.hop import Hop
    from planner.night.conditions import Conditions
    from planner.targets.names import Match

SLACK_S = 1800.0  # a time so far outside the night is still taken


@dataclass(frozen=True, slots=True)
class Found:
    """A subject when it is looked at, how high it stands there (degrees) and the way to it."""

    subject: Subject
    when: dt.datetime
    altitude_deg: float
    azimuth_deg: float
    hop: Hop


def bare_place(ra_deg: float, dec_deg: float) -> Subject:
    """A place (ICRS, degrees) where nothing is named."""
    name = f"{right_ascension_text(ra_deg)} {declination_text(dec_deg)}"
    return Subject(name.replace("-", "−"), ra_deg, dec_deg)


def found_at(conditions: Conditions, sought: Match | Subject, clock_time: dt.time | None) -> Found:
    """What is sought at a clock time of the night, else when it stands highest in the dark.

    Raises:
        PlannerError: the Sun does not set, or the target is below the horizon then.
        UsageError: a clock time outside the night.
    """
    if not conditions.down.any():
        raise PlannerError(
            f"the Sun does not set in the night of {conditions.night.date}: there are no stars "
            "to find the way by; give another --date"
        )
    body = _body(conditions, sought)
    fixed = None if body is not None else _fixed(conditions, sought)
    path: Track | BodyTrack
    if body is not None:
        path = body
    else:
        assert fixed is not None
        path = track(conditions.request.site, conditions.grid,
                     np.array([fixed.ra_deg]), np.array([fixed.dec_deg]))  # fmt: skip
    altitude, azimuth = np.atleast_2d(path.altitude_deg)[0], np.atleast_2d(path.azimuth_deg)[0]
    least = horizon_altitude_deg(conditions.request.site, azimuth)
    moment, when = _moment(conditions, altitude, least, clock_time)
    subject = fixed or _body_subject(body, moment)
    if altitude[moment] < least[moment]:
        at = f"at {when:%H:%M}" if clock_time else "at any dark time"
        raise PlannerError(
            f"{subject.name}: below the local horizon {at} in the night of "
            f"{conditions.night.date}; give another {'--time' if clock_time else '--date'}"
        )
    goal = Goal(subject.ra_deg, subject.dec_deg, subject.kind, subject.magnitude, subject.object_id)
    (hop,) = goal_hops(conditions, [goal], [moment])
    return Found(subject, when, float(altitude[moment]), float(azimuth[moment]), hop)


def _moment(
    conditions: Conditions,
    altitude: NDArray[np.float64],
    least: NDArray[np.float64],
    clock_time: dt.time | None,
) -> tuple[int, dt.datetime]:
    """The moment of the grid and the exact time."""
    if clock_time is not None:
        return _at_clock(conditions, clock_time)
    dark, up = conditions.dark, altitude >= least
    for wanted in (dark & conditions.hours & up, dark & up, conditions.safe & up, dark):
        if wanted.any():
            break
    moment = int(np.argmax(np.where(wanted, altitude, -np.inf)))
    return moment, conditions.instants[moment]


def _at_clock(conditions: Conditions, clock_time: dt.time) -> tuple[int, dt.datetime]:
    import datetime as dt

    first, last = conditions.instants[0], conditions.instants[-1]
    days = (first.date(), first.date() + dt.timedelta(days=1))
    times = [dt.datetime.combine(day, clock_time, tzinfo=first.tzinfo) for day in days]
    for when in times:
        if seconds_between(first, when) >= -SLACK_S and seconds_between(when, last) >= -SLACK_S:
            passed = seconds_between(first, when)
            return int(np.argmin(np.abs(conditions.grid.seconds - passed))), when
    raise UsageError(
        f"--time {clock_time:%H:%M} is not in the night of {conditions.night.date}, which lasts "
        f"from {first:%H:%M} to {last:%H:%M}"
    )


def _body(conditions: Conditions, sought: Match | Subject) -> BodyTrack | None:
    if isinstance(sought, Subject) or sought.domain is not Domain.SOLAR_SYSTEM:
        return None
    tracks = (conditions.moon, *conditions.planets)
    return next(body for body in tracks if body.name == sought.label)


def _body_subject(body: BodyTrack | None, moment: int) -> Subject:
    assert body is not None
    wide = float(body.diameter_arcsec[moment]) / 60.0
    return Subject(
        name=body.name,
        ra_deg=float(body.ra_deg[moment]),
        dec_deg=float(body.dec_deg[moment]),
        kind=Kind.MOON if body.name == "Moon" else Kind.PLANET,
        magnitude=float(body.magnitude[moment]),
        axes_arcmin=(wide, wide),
        object_id=body.name,
    )


def _fixed(conditions: Conditions, sought: Match | Subject) -> Subject:
    if isinstance(sought, Subject):
        return sought
    if sought.domain is Domain.PAIR:
        return _pair(conditions, sought)
    if sought.domain is Domain.DEEP_SKY:
        return _deepsky(sought)
    return _star(sought)


def _pair(conditions: Conditions, match: Match) -> Subject:
    folder = conditions.request.library_folder
    year = float(np.mean(conditions.grid.years))
    pair = at_epoch(take(load_all_pairs(folder), [match.row]), load_all_orbits(folder), year)
    angle = float(pair.position_angle_deg[0])
    return Subject(
        name=printed(match.label),
        ra_deg=float(pair.ra_deg[0]),
        dec_deg=float(pair.dec_deg[0]),
        kind=Kind.DOUBLE,
        magnitude=float(combined_magnitude(pair.v1[0], pair.v2[0])),
        position_angle_deg=None if np.isnan(angle) else angle,
        separation_arcsec=float(pair.separation_arcsec[0]),
        magnitudes=(float(pair.v1[0]), float(pair.v2[0])),
        object_id=str(pair.pair_id[0]),
    )


def _deepsky(match: Match) -> Subject:
    table, row = load_deepsky(), match.row
    kind, major, minor = table.kind[row], float(table.major_arcmin[row]), table.minor_arcmin[row]
    angle = float(table.position_angle_deg[row])
    return Subject(
        name=match.label,
        ra_deg=float(table.ra_deg[row]),
        dec_deg=float(table.dec_deg[row]),
        kind=kind if kind in DEEP_SKY_KINDS else None,
        magnitude=float(table.v_mag[row]),
        axes_arcmin=None if np.isnan(major) else (
            major, major if np.isnan(minor) else float(minor)
        ),
        position_angle_deg=None if np.isnan(angle) else angle,
        object_id=str(table.id[row]),
    )  # fmt: skip


def _star(match: Match) -> Subject:
    stars = load_stars()
    hip = load_designations().hip[match.row]
    (rows,) = np.nonzero(stars.hip == hip) if hip else (np.empty(0, dtype=np.intp),)
    if not len(rows):
        raise UnknownTargetError(
            f"{match.label}: its place is not in the star table; give the place itself, like "
            '"05 35.3 -05 23"'
        )
    row = rows[0]
    ra, dec = float(stars.ra_deg[row]), float(stars.dec_deg[row])
    return Subject(printed(match.label), ra, dec, magnitude=float(stars.v_mag[row]))
