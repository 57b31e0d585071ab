"""Deep-sky objects from OpenNGC: kinds, identifiers, names and magnitudes one may believe."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from catalogs.compiler.deepsky_typed import apply_typed

if TYPE_CHECKING:
    from collections.abc import Iterable

COLUMNS = [
    "id", "names", "common_name", "kind", "nebula_type", "constellation", "ra_deg", "dec_deg",
    "v_mag", "v_source", "v_of", "major_arcmin", "minor_arcmin", "position_angle_deg",
    "hubble_type", "hb_v_mag",
]  # fmt: skip
KINDS = {  # type in OpenNGC: kind, nebula type; other types are dropped
    "OCl": ("open-cluster", ""),
    "*Ass": ("open-cluster", ""),
    "GCl": ("globular-cluster", ""),
    "G": ("galaxy", ""),
    "GPair": ("galaxy", ""),
    "GTrpl": ("galaxy", ""),
    "GGroup": ("galaxy", ""),
    "PN": ("planetary-nebula", ""),
    "Neb": ("nebula", ""),
    "HII": ("nebula", "emission"),
    "EmN": ("nebula", "emission"),
    "RfN": ("nebula", "reflection"),
    "SNR": ("nebula", "supernova-remnant"),
    "DrkN": ("nebula", "dark"),
    "Cl+N": ("nebula", "cluster-with-nebula"),
    "**": ("double", ""),  # Messier objects only: M 40
    "Other": ("asterism", ""),  # Messier objects only: M 73
}
ONLY_MESSIER = ("**", "Other")
PREFIXES = {
    "B": "Barnard", "C": "Caldwell", "Cl": "Collinder", "H": "Harvard", "HCG": "Hickson", "M": "M",
    "Mel": "Melotte",
}  # fmt: skip
B_MINUS_V_BELIEVED = (-0.3, 1.7)  # outside, one of the two magnitudes is wrong
B_MINUS_V_GUESS = {"galaxy": 0.8, "globular-cluster": 0.8, "open-cluster": 0.4}
LARGE_NEBULA_ARCMIN = 10.0  # magnitudes of larger nebulae cannot be used
# Names of the source that are another object's, a radio source's, or not in common use (from
# memory and own judgement): the Flame is NGC 2024, the Cocoon NGC 4490, the Lobster NGC 6357, the
# Little Gem NGC 6818.
WRONG_NAMES = {
    ("IC 434", "Flame Nebula"), ("IC 434", "Orion B"), ("IC 443", "Gem A"),
    ("NGC 253", "Sculptor Filament"), ("NGC 1980", "Lower Sword"), ("NGC 1981", "Upper Sword"),
    ("NGC 2237", "Rosette A"), ("NGC 2238", "Rosette A"), ("NGC 2246", "Rosette B"),
    ("NGC 2537", "Bear Claw Nebula"), ("NGC 4486", "Virgo Galaxy"), ("NGC 4990", "Cocoon Galaxy"),
    ("NGC 6445", "Little Gem"), ("NGC 6618", "Lobster Nebula"),
    ("NGC 6705", "Amas de l'Ecu de Sobieski"), ("NGC 6960", "Filamentary Nebula"),
}  # fmt: skip


def identifier(source_name: str) -> str:
    """``NGC0253`` -> ``NGC 253``; ``Mel022`` -> ``Melotte 22``; ``IC0359A`` -> ``IC 359A``."""
    match = re.fullmatch(r"([A-Za-z]+)0*(\d.*)", source_name)
    if match is None:
        raise ValueError(f"not a catalogue name: {source_name!r}")
    prefix, number = match.groups()
    number = re.sub(r"-0*(\d)", r"-\1", number) if prefix == "ESO" else number
    return f"{PREFIXES.get(prefix, prefix)} {number}"


def deepsky_table(
    source: pd.DataFrame, hand_names: pd.DataFrame | None, typed: pd.DataFrame | None = None
) -> tuple[pd.DataFrame, list[str]]:
    """The objects (``COLUMNS``), sorted by right ascension, and what found no object.

    ``source`` is the table ``objects`` of OpenNGC; ``hand_names`` has the columns id and
    common_name, ``typed`` is as ``read_deepsky_typed`` gives it; None: no such hand table.
    """
    duplicates = _duplicates(source)
    by_hand = _hand_names(hand_names)
    parts = _parts(source)
    rows = []
    for entry in source.to_dict("records"):
        if not _wanted(entry, source):
            continue
        rows.append(_row(entry, duplicates, by_hand, parts))
    given = [column for column in COLUMNS if column not in ("v_of", "hb_v_mag")]
    table, warnings = apply_typed(pd.DataFrame(rows, columns=given), typed, by_hand)
    table = table[COLUMNS].sort_values(["ra_deg", "id"], kind="stable").reset_index(drop=True)
    return table.round({"ra_deg": 5, "dec_deg": 5, "v_mag": 2}), warnings


def _wanted(entry: dict[str, Any], source: pd.DataFrame) -> bool:
    """Whether an object stays: of a known kind, with a place, not a part of a listed pair."""
    if entry["type"] not in KINDS or entry["ra"] is None or np.isnan(entry["ra"]):
        return False
    if entry["type"] in ONLY_MESSIER:
        return bool(entry["messier"])
    if entry["type"] == "*Ass":
        return not np.isnan(entry["majax"])
    return " NED" not in entry["name"] or entry["name"].split(" ")[0] not in set(source["name"])


def _row(
    entry: dict[str, Any],
    duplicates: dict[str, list[str]],
    by_hand: dict[str, list[str]],
    parts: dict[str, float],
) -> dict[str, Any]:
    """One line of the shipped table."""
    name = identifier(entry["name"])
    kind, nebula_type = KINDS[entry["type"]]
    v, v_source = magnitude(kind, nebula_type, entry)
    if not np.isfinite(v) and entry["name"] in parts:
        v, v_source = parts[entry["name"]], "sum of its parts"
    others = [n for n in other_names(entry, duplicates) if n != name]
    commons = [c for n in (name, *others) for c in by_hand.get(n, [])]
    commons += [name.removeprefix("the ") for name in _split(entry["commonnames"])]
    commons = [c for c in _once(commons) if (name, c) not in WRONG_NAMES]
    const = entry["const"]
    return {
        "id": name,
        "names": "|".join(others),
        "common_name": "|".join(commons),
        "kind": kind,
        "nebula_type": nebula_type,
        "constellation": "Ser" if const in ("Se1", "Se2") else const,
        "ra_deg": np.degrees(entry["ra"]) % 360.0,
        "dec_deg": np.degrees(entry["dec"]),
        "v_mag": v,
        "v_source": v_source,
        "major_arcmin": entry["majax"],
        "minor_arcmin": entry["minax"],
        "position_angle_deg": entry["pa"],
        "hubble_type": entry["hubble"] or "",
    }


def magnitude(kind: str, nebula_type: str, entry: dict[str, Any]) -> tuple[float, str]:
    """V magnitude and where it comes from; (NaN, "") when no value can be believed.

    V stands unless B - V is impossible (-0.3..1.7); then, and
    without V, B less a typical B - V. Planetary nebulae keep their V whatever B says, for their
    light is in lines. Nebulae over 10' have no usable magnitude; a cluster with nebula keeps the
    magnitude, which is that of its stars.
    """
    b, v = _number(entry["bmag"]), _number(entry["vmag"])
    low, high = B_MINUS_V_BELIEVED
    doubtful = bool(np.isfinite(b - v)) and not low <= b - v <= high
    if kind in B_MINUS_V_GUESS:
        if np.isfinite(v) and not doubtful:
            return v, "V"
        guess = B_MINUS_V_GUESS[kind]
        return (b - guess, f"B-{guess}") if np.isfinite(b) else (np.nan, "")
    clouds = kind == "nebula" and nebula_type != "cluster-with-nebula"
    large = clouds and not _number(entry["majax"]) <= LARGE_NEBULA_ARCMIN
    return (v, "V") if np.isfinite(v) and not large else (np.nan, "")


def other_names(entry: dict[str, Any], duplicates: dict[str, list[str]]) -> list[str]:
    """Messier, Caldwell, other NGC and IC numbers, then a few more catalogues."""
    found = [f"M {int(entry['messier'])}"] if entry["messier"] else []
    extra = _split(entry["identifiers"])
    found += [f"Caldwell {int(x[2:])}" for x in extra if re.fullmatch(r"C \d+", x)]
    for catalog in ("NGC", "IC"):
        numbers = _split(entry[catalog.lower()])
        found += [identifier(f"{catalog}{n}") for n in numbers]
    found += duplicates.get(entry["name"], [])
    found += [f"Melotte {int(x[4:])}" for x in extra if re.fullmatch(r"Mel \d+", x)]
    found += [f"Collinder {int(x[3:])}" for x in extra if re.fullmatch(r"Cl \d+", x)]
    found += [f"Sharpless {x[5:]}" for x in extra if re.fullmatch(r"SH 2-\d+", x)]
    return _once(found)


def _duplicates(source: pd.DataFrame) -> dict[str, list[str]]:
    """NGC and IC names entered as duplicates, by the source name of the object they mean."""
    found: dict[str, list[str]] = {}
    rows = source[(source["type"] == "Dup") & source["name"].str.match("NGC|IC")]
    for entry in rows.to_dict("records"):
        for catalog in ("NGC", "IC"):
            for number in _split(entry[catalog.lower()]):
                found.setdefault(f"{catalog}{number}", []).append(identifier(entry["name"]))
    return found


def _parts(source: pd.DataFrame) -> dict[str, float]:
    """V of all parts together, by the name of a pair or group whose parts are listed too."""
    rows = source[source["name"].str.contains(" NED") & source["vmag"].notna()]
    light = (10.0 ** (-0.4 * rows["vmag"])).groupby(rows["name"].str.split(" ").str[0]).sum()
    return {str(name): float(-2.5 * np.log10(flux)) for name, flux in light.items()}


def _hand_names(table: pd.DataFrame | None) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    if table is not None:
        for name, common in zip(table["id"], table["common_name"], strict=True):
            found.setdefault(name, []).extend(c.strip() for c in str(common).split("|"))
    return found


def _split(text: str | None) -> list[str]:
    return [part.strip() for part in (text or "").split(",") if part.strip()]


def _once(names: Iterable[str]) -> list[str]:
    """Names in order, each once, without regard to capitals."""
    seen: dict[str, str] = {}
    for name in names:
        seen.setdefault(name.casefold(), name)
    return list(seen.values())


def _number(value: Any) -> float:
    return float("nan") if value is None else float(value)
