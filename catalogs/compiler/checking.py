"""The shipped pairs against a table of published measures: found, missed, mean and scatter."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from planner.angles import separation_deg

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    Carried = Callable[[pd.DataFrame, float], pd.DataFrame]

ALIASES = {
    "ra": ("ra", "ra_deg"),
    "dec": ("dec", "dec_deg"),
    "hip": ("hip", "HIP"),
    "wds": ("wds", "WDS"),
    "separation": ("separation", "separation_arcsec", "sep", "rho"),
    "pa": ("pa", "position_angle_deg", "theta"),
    "v1": ("v1", "m1"),
    "v2": ("v2", "m2"),
    "date": ("date", "epoch_yr", "epoch", "year"),
}
NEAR_ARCSEC, NEAR_WDS_ARCSEC = 60.0, 120.0  # a place at J2000; one rounded to 0.1 min of time
SAME_ARCSEC, SAME_SHARE, SAME_MAG = 0.3, 0.3, 1.0  # separation and V1 of the same pair


@dataclass(frozen=True, slots=True)
class Limits:
    """Which rows of the table take part."""

    v1_max: float = 99.0
    v2_max: float = 99.0
    closest_arcsec: float = 0.0
    widest_arcsec: float = 1e9


@dataclass(frozen=True, slots=True)
class Check:
    """Result: rows found and missed, and the errors catalogue minus table of those found."""

    found: int
    missed: tuple[str, ...]
    separation_arcsec: tuple[float, ...]
    position_angle_deg: tuple[float, ...]
    v2: tuple[float, ...]
    exchanged: int


def column_words(words: Sequence[str]) -> dict[str, str]:
    """``OURS=THEIRS`` words as a dictionary. Raises ValueError for another form."""
    wrong = [word for word in words if not all(word.partition("="))]
    if wrong:
        raise ValueError(f"--columns: {wrong[0]!r} is not of the form OURS=THEIRS")
    return dict(word.split("=", 1) for word in words)


def normalised(table: pd.DataFrame, columns: Mapping[str, str]) -> pd.DataFrame:
    """The table with the columns of ``ALIASES``; ``columns`` maps ours to the table's names.

    Raises ValueError for a key that is none of ours, and when separation or every kind of place
    is lacking.
    """
    unknown = [key for key in columns if key not in ALIASES]
    if unknown:
        raise ValueError(f"--columns: {unknown[0]!r} is no key (known: {', '.join(ALIASES)})")
    found = {}
    for ours, known in ALIASES.items():
        name = columns.get(ours) or next((n for n in known if n in table.columns), None)
        if name is not None and name not in table.columns:
            raise ValueError(f"the table has no column {name!r}; it has {list(table.columns)}")
        text = ours == "wds"
        values = table[name] if name else pd.Series([""] * len(table), dtype=object)
        found[ours] = values.astype(str) if text else pd.to_numeric(values, errors="coerce")
    result = pd.DataFrame(found)
    if result["separation"].isna().all():
        raise ValueError("no column of separations; name it with --columns separation=NAME")
    has_place = result["ra"].notna() | result["hip"].notna() | (result["wds"].str.len() > 8)
    if not has_place.any():
        raise ValueError("the rows have no place: give ra and dec, or hip, or wds")
    return result


def wds_place(identifier: str) -> tuple[float, float]:
    """Right ascension and declination (deg, J2000) of a WDS identifier; NaN for other text."""
    match = re.match(r"(\d\d)(\d\d)(\d)([+-])(\d\d)(\d\d)", identifier)
    if match is None:
        return float("nan"), float("nan")
    hours, minutes, tenth, sign, degrees, arcmin = match.groups()
    ra = 15.0 * (int(hours) + (int(minutes) + int(tenth) / 10.0) / 60.0)
    dec = int(degrees) + int(arcmin) / 60.0
    return ra, -dec if sign == "-" else dec


def check(
    table: pd.DataFrame, pairs: pd.DataFrame, limits: Limits, carried: Carried | None = None
) -> Check:
    """Compare a normalised table with the pairs (as shipped).

    ``carried`` gives the pairs as they stand in a year; it is asked for each row with a date.
    """
    rows = table[
        table["separation"].between(limits.closest_arcsec, limits.widest_arcsec)
        & ~(table["v1"] > limits.v1_max)
        & ~(table["v2"] > limits.v2_max)
    ]
    missed, matches = [], []
    at_year = {
        year: carried(pairs, year) if carried else pairs for year in rows["date"].dropna().unique()
    }
    for k, row in zip(rows.index, rows.to_dict("records"), strict=True):
        then = at_year.get(row["date"], pairs)
        match = _match(row, then)
        if match is None:
            missed.append(f'row {k + 2} {row["wds"]} {row["separation"]:g}"'.replace("  ", " "))
        else:
            matches.append((row, then.loc[match]))
    errors = [_errors(row, pair) for row, pair in matches]
    separation, angle, v2 = zip(*errors, strict=True) if errors else ((), (), ())
    turned = [a for a in angle if np.isfinite(a)]
    straight = [a - 180.0 if a > 90.0 else a + 180.0 if a < -90.0 else a for a in turned]
    exchanged = sum(abs(a) > 90.0 for a in turned)
    return Check(
        len(matches), tuple(missed), tuple(separation), tuple(straight),
        tuple(x for x in v2 if np.isfinite(x)), exchanged,
    )  # fmt: skip


def _match(row: dict[str, Any], pairs: pd.DataFrame) -> Any:
    """Index of the shipped pair that is this row, or None."""
    near = np.zeros(len(pairs), dtype=bool)
    if row["hip"] > 0:
        near |= ((pairs["hip"] == row["hip"]) | (pairs["hip_secondary"] == row["hip"])).to_numpy()
    if not near.any():
        ra, dec, radius = row["ra"], row["dec"], NEAR_ARCSEC
        if not np.isfinite(ra):
            (ra, dec), radius = wds_place(row["wds"]), NEAR_WDS_ARCSEC
        if np.isfinite(ra):
            d = separation_deg(ra, dec, pairs["ra_deg"], pairs["dec_deg"])
            near = 3600.0 * d < radius
    allowed = SAME_ARCSEC + SAME_SHARE * row["separation"]
    miss = np.abs(pairs["separation_arcsec"].to_numpy(float) - row["separation"])
    fits = near & (miss < allowed)
    if np.isfinite(row["v1"]):
        fits &= np.abs(pairs["v1"].to_numpy(float) - row["v1"]) < SAME_MAG
    return pairs.index[fits][np.argmin(miss[fits])] if fits.any() else None


def _errors(row: dict[str, Any], pair: Any) -> tuple[float, float, float]:
    """Separation, position angle (-180..180) and V2, shipped minus table."""
    angle = (float(pair["position_angle_deg"]) - row["pa"] + 180.0) % 360.0 - 180.0
    return (
        float(pair["separation_arcsec"]) - row["separation"],
        angle,
        float(pair["v2"]) - row["v2"],
    )


def report(name: str, result: Check) -> str:
    """The figures of one table, as printed."""
    total = result.found + len(result.missed)
    lines = [f"{name}: {result.found} of {total} found, {len(result.missed)} missed"]
    for label, unit, values in (
        ("separation", '"', result.separation_arcsec),
        ("position angle", " deg", result.position_angle_deg),
        ("V2", " mag", result.v2),
    ):
        if values:
            a = np.array(values)
            lines.append(
                f"  {label}: {len(a)} compared, mean {a.mean():+.3f}{unit}, sd {a.std():.3f}{unit},"
                f" median {np.median(a):+.3f}{unit}"
            )
    lines.append(f"  A and B exchanged: {result.exchanged}")
    lines.extend(f"  missed: {text}" for text in result.missed)
    return "\n".join(lines)
