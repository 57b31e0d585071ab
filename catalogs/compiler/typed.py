"""The hand table of pairs applied to the measured ones: add, replace, swap, drop or only name."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from planner.angles import position_angle_deg, separation_deg

ACTIONS = ("add", "replace", "swap", "drop", "name")
NAMES = ("components", "name", "proper_name", "discoverer", "wds", "system", "note")
MEASURES = ("separation_arcsec", "position_angle_deg", "epoch_yr", "v1", "v2")
FIND_ARCSEC, FIND_MAG = 20.0, 1.5  # a row without a usable HIP number is sought this near
SAME_ARCSEC, SAME_SHARE = 1.0, 0.2  # a measure this close to the typed one is the same pair
COMPANION_SHARE, COMPANION_ARCSEC = 0.03, 2.0  # a typed companion sought in the star list
COMPANION_MAG = 1.0
CLOSE_ARCSEC, CLOSE_MAG = 2.0, 0.7  # a measured pair so close and alike is the typed one


@dataclass(slots=True)
class Sky:
    """The star list as arrays, and the row of each HIP number.

    ``hip`` may be changed: a Hipparcos entry of both stars fell to the brighter, and the hand
    table can call the other one A.
    """

    ra: Any
    dec: Any
    v: Any
    hip: Any
    row_of_hip: dict[int, int]
    warnings: list[str] = field(default_factory=list)


def sky(stars: pd.DataFrame) -> Sky:
    """Arrays and HIP index of a star list."""
    hip = stars["hip"].to_numpy().copy()
    rows = np.flatnonzero(hip > 0)
    index = {int(h): int(r) for h, r in zip(hip[rows], rows, strict=True)}
    ra, dec, v = (stars[c].to_numpy(float) for c in ("ra_deg", "dec_deg", "v"))
    return Sky(ra, dec, v, hip, index)


def read_typed(path: Path) -> pd.DataFrame:
    """A hand table with numbers as floats (NaN for blank) and hip as integer (0 for blank)."""
    table = pd.read_csv(path, dtype=str, keep_default_na=False, comment="#")
    for name in ("ra_deg", "dec_deg", *MEASURES):
        table[name] = pd.to_numeric(table[name].replace("", np.nan))
    table["hip"] = pd.to_numeric(table["hip"].replace("", "0")).astype(int)
    unknown = sorted(set(table["action"]) - set(ACTIONS))
    if unknown:
        raise ValueError(f"{path.name}: unknown action {', '.join(unknown)}; known: {ACTIONS}")
    return table


def read_typed_nothing() -> pd.DataFrame:
    """A hand table without rows."""
    return pd.DataFrame(columns=["hip", "ra_deg", "dec_deg", "action", "source", *NAMES, *MEASURES])


def apply(pairs: pd.DataFrame, typed: pd.DataFrame, stars: Sky) -> pd.DataFrame:
    """Pairs with the hand table's rows worked in; those that it drops left out.

    Adds the columns of ``NAMES``, ``source`` (blank: measured here), ``epoch_yr``, ``typed`` and
    the place of a primary that is in no catalogue (``ra_deg``, ``dec_deg``; else NaN). Rows that
    fit nothing are told in ``stars.warnings``.
    """
    pairs = pairs.assign(**{n: "" for n in (*NAMES, "source")}, epoch_yr=2016.0, typed=False)
    pairs = pairs.assign(ra_deg=np.nan, dec_deg=np.nan)
    rows: list[dict[str, Any]] = pairs.to_dict("records")
    by_star: dict[int, list[int]] = {}
    for k, row in enumerate(rows):
        for star in (row["star1"], row["star2"]):
            by_star.setdefault(int(star), []).append(k)
    dropped: set[int] = set()
    for entry in typed.to_dict("records"):
        primary = primary_row(entry, stars)
        match = best_match(entry, primary, [(k, rows[k]) for k in by_star.get(primary, [])])
        if match is None:
            _unmatched(entry, primary, rows, stars)
        elif entry["action"] == "drop":
            dropped.add(match)
        else:
            _merge(entry, primary, rows[match], stars)
    return pd.DataFrame([row for k, row in enumerate(rows) if k not in dropped])


def primary_row(entry: dict[str, Any], stars: Sky) -> int:
    """Row of the typed primary in the star list: by HIP number, else by place; -1 for none."""
    if entry["hip"] in stars.row_of_hip:
        return stars.row_of_hip[entry["hip"]]
    if not np.isfinite(entry["ra_deg"]):
        return -1
    d = 3600.0 * separation_deg(stars.ra, stars.dec, entry["ra_deg"], entry["dec_deg"])
    near = np.flatnonzero(d < FIND_ARCSEC)
    if np.isfinite(entry["v1"]):
        near = near[np.abs(stars.v[near] - entry["v1"]) < FIND_MAG]
    return int(near[np.argmin(d[near])]) if near.size else -1


def best_match(
    entry: dict[str, Any], primary: int, candidates: list[tuple[int, dict[str, Any]]]
) -> int | None:
    """Number of the measured row that is the typed pair, or None.

    The companions' places must agree, whichever of the two stars is called A. ``replace`` takes
    the nearest without asking for agreement: it is there because the measure is wrong.
    """
    best, best_miss = None, np.inf
    for k, row in candidates:
        if row["typed"]:
            continue
        miss = 0.0 if _close_double(entry, row) else _miss_arcsec(entry, row)
        miss += 1e-3 * (row["star1"] != primary)
        if miss < best_miss:
            best, best_miss = k, miss
    separation = entry["separation_arcsec"]
    allowed = max(SAME_ARCSEC, SAME_SHARE * separation) if np.isfinite(separation) else np.inf
    if entry["action"] == "add":
        allowed = min(allowed, SAME_ARCSEC / 2.0 + SAME_SHARE * separation / 3.0)
    return best if best_miss < allowed or entry["action"] == "replace" else None


def _close_double(entry: dict[str, Any], row: dict[str, Any]) -> bool:
    """Whether a typed addition under 2" is a measured pair under 2" with the same V of B.

    Such measures of bright stars can be far off: no star has two companions so alike.
    """
    if entry["action"] != "add":
        return False
    widest = max(entry["separation_arcsec"], row["separation_arcsec"])
    return bool(widest < CLOSE_ARCSEC and abs(entry["v2"] - row["v2"]) < CLOSE_MAG)


def _miss_arcsec(entry: dict[str, Any], row: dict[str, Any]) -> float:
    """Distance between the typed and the measured companion; the nearer of both senses."""
    typed, measured = entry["separation_arcsec"], row["separation_arcsec"]
    if not np.isfinite(typed):
        return float(measured)
    if not np.isfinite(entry["position_angle_deg"]):
        return float(abs(typed - measured))
    turn = np.radians(entry["position_angle_deg"] - row["position_angle_deg"])
    square = typed**2 + measured**2 - 2.0 * typed * measured * abs(np.cos(turn))
    return float(np.sqrt(max(square, 0.0)))


def _merge(entry: dict[str, Any], primary: int, row: dict[str, Any], stars: Sky) -> None:
    """Names and, for replace or add, measures of a typed row into a measured one."""
    if _other_way(entry, primary, row):
        _swap(row)
    one, two = row["star1"], row["star2"]
    if entry["hip"] and stars.hip[one] == 0 and stars.hip[two] == entry["hip"]:
        stars.hip[one], stars.hip[two] = entry["hip"], 0
        stars.row_of_hip[entry["hip"]] = one
    if entry["hip"] and stars.hip[one] == 0 and entry["hip"] not in stars.row_of_hip:
        stars.hip[one] = entry["hip"]  # a number that the reduction of 2007 lacks
        stars.row_of_hip[entry["hip"]] = one
    if entry["action"] in ("add", "replace"):
        if entry["action"] == "add":
            stars.warnings.append(f"{_label(entry)}: already measured; the typed row replaces it")
        row.update({m: entry[m] for m in MEASURES if np.isfinite(entry[m])})
    row.update({n: entry[n] for n in NAMES})
    row["source"], row["typed"] = entry["source"], True


def _other_way(entry: dict[str, Any], primary: int, row: dict[str, Any]) -> bool:
    """Whether A and B must be exchanged: the typed position angle says so where there is one."""
    if entry["action"] == "replace":
        return bool(row["star1"] != primary)
    if not np.isfinite(entry["position_angle_deg"]):
        return bool(entry["action"] == "swap")
    turn = np.radians(entry["position_angle_deg"] - row["position_angle_deg"])
    return bool(np.cos(turn) < 0.0)


def _swap(row: dict[str, Any]) -> None:
    """Exchange A and B of a row."""
    row["star1"], row["star2"] = row["star2"], row["star1"]
    row["v1"], row["v2"] = row["v2"], row["v1"]
    row["position_angle_deg"] = (row["position_angle_deg"] + 180.0) % 360.0


def _unmatched(entry: dict[str, Any], primary: int, rows: list[dict[str, Any]], stars: Sky) -> None:
    """A typed row that is no measured pair: added, or told."""
    complete = np.isfinite(entry["v1"]) and np.isfinite(entry["v2"])
    if entry["action"] != "add" and not complete:
        stars.warnings.append(f"{_label(entry)}: no measured pair fits this '{entry['action']}'")
        return
    if entry["action"] != "add":
        stars.warnings.append(f"{_label(entry)}: nothing to {entry['action']}; added")
    row: dict[str, Any] = {m: entry[m] for m in MEASURES} | {n: entry[n] for n in NAMES}
    row |= {"star1": primary, "star2": _companion(entry, primary, stars)}
    row |= {"ra_deg": entry["ra_deg"], "dec_deg": entry["dec_deg"]}
    row |= {"source": entry["source"], "typed": True}
    rows.append(row)


def _companion(entry: dict[str, Any], primary: int, stars: Sky) -> int:
    """Row of the typed companion in the star list, -1 for none."""
    if primary < 0 or not np.isfinite(entry["position_angle_deg"]):
        return -1
    ra, dec = stars.ra[primary], stars.dec[primary]
    d = 3600.0 * separation_deg(ra, dec, stars.ra, stars.dec)
    near = np.flatnonzero((d < 1.2 * entry["separation_arcsec"] + 5.0) & (d > 0.05))
    angle = position_angle_deg(ra, dec, stars.ra[near], stars.dec[near])
    turn = np.radians(angle - entry["position_angle_deg"])
    s = entry["separation_arcsec"]
    miss = np.sqrt(np.maximum(d[near] ** 2 + s**2 - 2.0 * s * d[near] * np.cos(turn), 0.0))
    allowed = min(COMPANION_ARCSEC + COMPANION_SHARE * s, s / 2.0)
    fits = (miss < allowed) & (np.abs(stars.v[near] - entry["v2"]) < COMPANION_MAG)
    return int(near[fits][np.argmin(miss[fits])]) if fits.any() else -1


def _label(entry: dict[str, Any]) -> str:
    return f"HIP {entry['hip']} {entry['name']} {entry['components']}".replace("  ", " ")
