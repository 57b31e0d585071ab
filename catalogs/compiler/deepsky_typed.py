"""The hand table of deep-sky objects: magnitudes, sizes, kinds, merged and added rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from catalogs.compiler.constellation import constellations

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

NUMBERS = ("ra_deg", "dec_deg", "v_mag", "major_arcmin", "minor_arcmin", "hb_v_mag")
TEXTS = (
    "id", "new_id", "same_as", "names", "kind", "nebula_type", "v_of", "hubble_type", "source",
    "note",
)  # fmt: skip
KINDS = (
    "open-cluster", "globular-cluster", "galaxy", "planetary-nebula", "nebula", "asterism",
)  # fmt: skip
NEBULA_TYPES = (
    "emission", "reflection", "supernova-remnant", "pulsar-wind-nebula", "dark",
    "cluster-with-nebula",
)  # fmt: skip
OBJECT, STARS = "object", "stars"  # words of the hand table; the first is blank when shipped


def read_deepsky_typed(path: Path) -> pd.DataFrame:
    """The hand table with numbers as floats, NaN for blank.

    Raises ValueError for an unknown word in ``kind``, ``nebula_type`` or ``v_of``, and for an id
    given twice.
    """
    table = pd.read_csv(path, dtype=str, keep_default_na=False, comment="#")
    words = {"kind": KINDS, "nebula_type": NEBULA_TYPES, "v_of": (OBJECT, STARS)}
    for column, known in words.items():
        unknown = sorted(set(table[column]) - {"", *known})
        if unknown:
            raise ValueError(f"{path.name}: {column} {', '.join(unknown)}; known: {known}")
    if table["id"].duplicated().any():
        raise ValueError(f"{path.name}: id given twice")
    for column in NUMBERS:
        table[column] = pd.to_numeric(table[column].replace("", np.nan))
    return table


def apply_typed(
    table: pd.DataFrame, typed: pd.DataFrame | None, common: Mapping[str, list[str]]
) -> tuple[pd.DataFrame, list[str]]:
    """The objects with the hand table worked in, and what found no object.

    The columns ``v_of`` and ``hb_v_mag`` (NaN where the table has none) are new.

    A typed row changes what it fills; a typed major axis without a minor one makes the object
    round. ``same_as`` drops a row and gives its names to the object named, ``new_id`` makes
    another of its names the first. A row with a place that the table lacks is added; its
    names in words come from ``common``. At the end ``v_of`` is "stars" where the table says so,
    and by rule at a cluster with nebula that has a magnitude, unless the table says "object".
    """
    rows: dict[str, dict[str, Any]] = {row["id"]: row for row in table.to_dict("records")}
    warnings: list[str] = []
    entries = [] if typed is None else typed.to_dict("records")
    for entry in entries:
        known = entry["id"] in rows
        if not known and np.isfinite(entry["ra_deg"]):
            rows[entry["id"]] = _added(entry, common)
        elif not known:
            warnings.append(f"{entry['id']}: no such object")
        else:
            _fill(rows[entry["id"]], entry)
    warnings += _merge_all(rows, entries)
    said = {entry["id"]: entry["v_of"] for entry in entries}
    for name, row in rows.items():
        row["v_of"] = _whose_light(row, said.get(name, ""))
    for entry in entries:
        if entry["new_id"] and entry["id"] in rows:
            _rename(rows[entry["id"]], entry["new_id"])
    worked = pd.DataFrame(list(rows.values()), columns=[*table.columns, "v_of", "hb_v_mag"])
    return worked.astype({"hb_v_mag": float}), warnings


def _fill(row: dict[str, Any], entry: dict[str, Any]) -> None:
    """Put what a typed row holds in the place of what the source says."""
    for column in ("kind", "nebula_type", "hubble_type"):
        row[column] = entry[column] or row[column]
    if row["kind"] != "nebula":
        row["nebula_type"] = ""
    if np.isfinite(entry["v_mag"]):
        row["v_mag"], row["v_source"] = entry["v_mag"], entry["source"]
    if np.isfinite(entry["major_arcmin"]):
        row["major_arcmin"], row["minor_arcmin"] = entry["major_arcmin"], entry["minor_arcmin"]
    row["hb_v_mag"] = entry["hb_v_mag"]
    row["names"] = _joined(row["names"], entry["names"])


def _added(entry: dict[str, Any], common: Mapping[str, list[str]]) -> dict[str, Any]:
    """A row for an object that the source lacks."""
    where = constellations([entry["ra_deg"]], [entry["dec_deg"]])[0]
    row = {"id": entry["id"], "names": "", "common_name": "|".join(common.get(entry["id"], []))}
    row |= {"kind": "", "nebula_type": "", "constellation": where, "hubble_type": ""}
    row |= {"ra_deg": entry["ra_deg"], "dec_deg": entry["dec_deg"], "position_angle_deg": np.nan}
    row |= {"v_mag": np.nan, "v_source": "", "major_arcmin": np.nan, "minor_arcmin": np.nan}
    _fill(row, entry)
    return row


def _merge_all(rows: dict[str, dict[str, Any]], entries: list[dict[str, Any]]) -> list[str]:
    """Drop rows that are another object's, whose names go to that; returns what cannot be."""
    warnings = []
    for entry in entries:
        name, target = entry["id"], entry["same_as"]
        if not target or name not in rows:
            continue
        if target not in rows:
            warnings.append(f"{name}: no object {target} to be the same as")
            continue
        gone, kept = rows.pop(name), rows[target]
        kept["names"] = _joined(kept["names"], name, gone["names"])
        kept["common_name"] = _joined(kept["common_name"], gone["common_name"])
    return warnings


def _whose_light(row: dict[str, Any], said: str) -> str:
    """The word "stars" where the magnitude is that of stars inside a nebula, else blank."""
    if row["kind"] != "nebula" or not np.isfinite(row["v_mag"]) or said == OBJECT:
        return ""
    return STARS if said == STARS or row["nebula_type"] == "cluster-with-nebula" else ""


def _rename(row: dict[str, Any], new_id: str) -> None:
    """Give a row another first name; the old one stays among its names."""
    others = [n for n in (row["id"], *row["names"].split("|")) if n not in ("", new_id)]
    ours = [n for n in others if n.startswith(("M ", "Caldwell "))]
    row["id"], row["names"] = new_id, _joined(*ours, *others)


def _joined(*texts: str) -> str:
    """Names with | between them, each once."""
    names = [name for text in texts for name in text.split("|") if name]
    return "|".join(dict.fromkeys(names))
