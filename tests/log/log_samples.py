"""Records for the tests of the log; the observer and the garden are invented."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from planner.log.outcome import Companion, Outcome
from planner.log.record import LoggedPair, Promise, Record
from planner.targets.kind import Kind

CET = dt.timezone(dt.timedelta(hours=1))
FIRST_LOOK = dt.datetime(2026, 11, 3, 21, 40, tzinfo=CET)


def look(number: int = 0, **more: Any) -> Record:
    """One look at a double with every field filled; each number a minute later than the last."""
    at = FIRST_LOOK + dt.timedelta(minutes=number)
    values: dict[str, Any] = {
        "id": str(uuid.uuid4()),
        "written": at.astimezone(dt.UTC) + dt.timedelta(seconds=20),
        "at": at,
        "night": at.date(),
        "target": f"P{number % 700:05d}",
        "name": f"pair {number}",
        "kind": Kind.DOUBLE,
        "site": "Lindenhof",
        "telescope": "Elsa",
        "observer": "observer",
        "eyepiece": "7 mm",
        "magnification": 148.6,
        "clear_aperture_mm": 154.0,
        "airmass": 1.21,
        "outcome": Outcome.CLEAN,
        "companion": Companion.HELD,
        "companion_clock": 4.5,
        "seeing_arcsec": 2.0,
        "transparency": "average",
        "sky_mag": 20.9,
        "pair": LoggedPair("P1-AB", "AB", 2.8, 341.0, 2.4, 4.8),
        "said": Promise(
            Outcome.CLEAN, (4.1, 3.2, 2.8, 2.3), None, 2.0, 20.9,
            {"tilt_followed": 0.85, "companion_handicap_mag": 0.0, "field_factor": 1.4}, "m1",
        ),
        "note": "gold und grünlich",
    }  # fmt: skip
    return Record(**(values | more))
