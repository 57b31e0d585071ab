"""The limits in use: a file of their own beside the kit, which stays as the observer wrote it."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from math import exp, isfinite
from pathlib import Path
from typing import TYPE_CHECKING

from planner.errors import PlannerError
from planner.files import write_whole
from planner.limits.priors import Own

if TYPE_CHECKING:
    from planner.limits.fitting import Fit

FORMAT = "planner-limits/1"
SUFFIX = ".limits.json"
RANGES = {"tilt_followed": (0.5, 1.0), "companion_handicap_mag": (-5.0, 5.0),
          "eye_ratio": (0.1, 10.0), "seeing_arcsec": (0.3, 15.0)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class InUse:
    """What a log of ``records`` looks told, each None where it told nothing.

    ``eye_ratio`` is the eye's factor over the kit's, ``seeing_arcsec`` the usual seeing at
    ``site`` as it looks through ``telescope``; the rest is the ``observer``'s wherever.
    """

    observer: str
    telescope: str
    site: str
    records: int
    tilt_followed: float | None = None
    companion_handicap_mag: float | None = None
    eye_ratio: float | None = None
    seeing_arcsec: float | None = None


def told_by(fit: Fit, observer: str, telescope: str, site: str) -> InUse:
    """The settings that a fit tells."""
    value = {one.own: one.middle if one.told else None for one in fit.learnt}
    eye, seeing = value[Own.EYE], value[Own.SEEING]
    return InUse(
        observer, telescope, site, fit.records,
        tilt_followed=_short(value[Own.TILT]),
        companion_handicap_mag=_short(value[Own.HANDICAP]),
        eye_ratio=None if eye is None else _short(exp(eye)),
        seeing_arcsec=None if seeing is None else round(exp(seeing), 2),
    )  # fmt: skip


def _short(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def limits_file(kit_file: str | Path) -> Path:
    """The file of limits that belongs to a kit file."""
    path = Path(kit_file)
    return path.with_name(path.stem + SUFFIX)


def keep(path: Path, limits: InUse) -> None:
    """Write the limits, whole or not at all."""
    text = json.dumps({"format": FORMAT, **asdict(limits)}, indent=1, ensure_ascii=False)
    write_whole(path, (text + "\n").encode())


def kept(path: Path) -> InUse | None:
    """The limits of a file, None where there is none.

    Raises:
        PlannerError: the file is not one of limits.
    """
    remedy = "write it anew with: planner log limits --apply"
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as error:
        raise PlannerError(f"{path}: cannot be read as limits; {remedy}") from error
    if not isinstance(document, dict) or document.pop("format", None) != FORMAT:
        raise PlannerError(f"{path}: is no file of limits; {remedy}")
    names = {field.name for field in fields(InUse)}
    values = {name: value for name, value in document.items() if name in names}
    for name, value in values.items():
        if not _possible(name, value):
            raise PlannerError(f"{path}: {name}: {value!r} is impossible; {remedy}")
    try:
        return InUse(**values)
    except TypeError as error:
        raise PlannerError(f"{path}: lacks some of its values; {remedy}") from error


def _possible(name: str, value: object) -> bool:
    if name in RANGES:
        low, high = RANGES[name]
        number = isinstance(value, int | float) and not isinstance(value, bool)
        return value is None or (number and isfinite(value) and low <= value <= high)  # type: ignore[arg-type,operator]
    return type(value) is (int if name == "records" else str)
