"""Pairs that share stars make one multiple star: its identifier, and the letters of its stars."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from planner.angles import separation_deg

if TYPE_CHECKING:
    from collections.abc import Iterable

    import pandas as pd

    from catalogs.compiler.typed import Sky

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
CLOSE_SHARE = 0.5  # a pair of companions is a pair of its own if this much closer than the primary


def with_systems(pairs: pd.DataFrame, stars: Sky) -> pd.DataFrame:
    """Pairs with pair_id, system_id and components; pairs of mere companions left out.

    A row is known by its stars, or by a key of its own where a star is in no catalogue. Letters:
    those of the hand table; else A is the brightest and B, C... follow by distance from it.
    """
    rows: list[dict[str, Any]] = pairs.to_dict("records")
    for k, row in enumerate(rows):
        row["key1"] = int(row["star1"]) if row["star1"] >= 0 else f"primary {k}"
        row["key2"] = int(row["star2"]) if row["star2"] >= 0 else f"companion {k}"
    kept: list[dict[str, Any]] = []
    for group in grouped(rows):
        kept.extend(_system(group, stars))
    _unique(kept)
    table = type(pairs)(kept).drop(columns=["key1", "key2"])
    return table.sort_values(["ra_deg", "dec_deg", "pair_id"], kind="stable").reset_index(drop=True)


def grouped(rows: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """Rows joined by a common star or a common ``system`` text, in the order of the first row."""
    parent: dict[Any, Any] = {}

    def root(key: Any) -> Any:
        parent.setdefault(key, key)
        while parent[key] != key:
            parent[key] = parent[parent[key]]
            key = parent[key]
        return key

    for row in rows:
        parent[root(row["key2"])] = root(row["key1"])
        if row["system"]:
            parent[root(f"system {row['system']}")] = root(row["key1"])
    groups: dict[Any, list[dict[str, Any]]] = {}
    for row in rows:
        groups.setdefault(root(row["key1"]), []).append(row)
    return list(groups.values())


def _system(group: list[dict[str, Any]], stars: Sky) -> list[dict[str, Any]]:
    """One multiple star: superfluous rows out, letters and identifiers in.

    A companion that the hand table measures from one star is not listed from another as well.
    """
    primary = min(group, key=lambda r: (r["v1"], str(r["key1"])))
    head = primary["key1"]
    distances = _distances(group, head, stars)
    by_hand = {r["key2"] for r in group if r["typed"]}
    rows = [
        r
        for r in group
        if r["typed"] or (r["key2"] not in by_hand and _worth_a_row(r, head, distances))
    ]
    letters = _letters(rows, head, distances)
    for row in rows:
        for column, star in (("ra_deg", stars.ra), ("dec_deg", stars.dec)):
            if row["star1"] >= 0:
                row[column] = float(star[row["star1"]])
        if not row["components"]:
            row["components"] = letters[row["key1"]] + letters[row["key2"]]
    system = _star_id(primary, stars)
    for row in rows:
        row["system_id"] = system
        row["pair_id"] = f"{_star_id(row, stars)}-{row['components'].replace(',', ':')}"
    return rows


def _distances(group: list[dict[str, Any]], head: Any, stars: Sky) -> dict[Any, float]:
    """Distance of each star of the group from its brightest, arcsec."""
    found: dict[Any, float] = {head: 0.0}
    for key in (k for row in group for k in (row["key1"], row["key2"])):
        if isinstance(key, int) and isinstance(head, int):
            place = (stars.ra[head], stars.dec[head], stars.ra[key], stars.dec[key])
            found[key] = 3600.0 * float(separation_deg(*place))
    for row in group:
        if row["key1"] == head:
            found.setdefault(row["key2"], float(row["separation_arcsec"]))
    return found


def _worth_a_row(row: dict[str, Any], head: Any, distances: dict[Any, float]) -> bool:
    """Whether a measured pair is more than two companions of the same brighter star."""
    if head in (row["key1"], row["key2"]):
        return True
    nearest = min(distances.get(row["key1"], np.inf), distances.get(row["key2"], np.inf))
    return bool(row["separation_arcsec"] < CLOSE_SHARE * nearest)


def _letters(rows: list[dict[str, Any]], head: Any, distances: dict[Any, float]) -> dict[Any, str]:
    """The letter of each star: fixed by the hand table, else A for the head and on by distance."""
    letters: dict[Any, str] = {}
    for row in rows:
        for key, letter in zip(("key1", "key2"), typed_letters(row["components"]), strict=True):
            if letter and letter not in letters.values():
                letters.setdefault(row[key], letter)
    keys = {k for row in rows for k in (row["key1"], row["key2"])} - set(letters)
    order = sorted(keys, key=lambda k: (k != head, distances.get(k, np.inf), str(k)))
    free = (c for c in _many_letters() if c not in letters.values())
    for key, letter in zip(order, list(_take(free, len(order))), strict=True):
        letters[key] = letter
    for row in rows:
        one, two = row["key1"], row["key2"]
        both_free = one in keys and two in keys
        if both_free and head not in (one, two) and letters[one] > letters[two]:
            letters[one], letters[two] = letters[two], letters[one]  # the brighter comes first
    return letters


def typed_letters(components: str) -> tuple[str, str]:
    """The letters a component text fixes: ``AB`` -> A, B; ``AB,C`` -> A, C; ``Aa,Ab`` -> none."""
    if "," in components:
        one, two = components.split(",", 1)
        return (one[0], two[0]) if one[0] != two[0] else ("", "")
    return (components[0], components[1]) if len(components) == 2 else ("", "")


def _many_letters() -> Iterable[str]:
    yield from LETTERS
    for first in LETTERS:
        yield from (first + second for second in LETTERS)


def _take(source: Iterable[str], count: int) -> Iterable[str]:
    for _, item in zip(range(count), source, strict=False):
        yield item


def _star_id(row: dict[str, Any], stars: Sky) -> str:
    """``hip91919``, or ``j1844365+394012``: hours to 0.1 s and degrees to 1" at 2016.0."""
    star = row["star1"]
    if star >= 0 and stars.hip[star] > 0:
        return f"hip{stars.hip[star]}"
    ra, dec = (stars.ra[star], stars.dec[star]) if star >= 0 else (row["ra_deg"], row["dec_deg"])
    tenths = round(float(ra) * 2400.0) % 864000
    seconds = round(abs(float(dec)) * 3600.0)
    hours, minutes = tenths // 36000, tenths // 600 % 60
    sign = "-" if dec < 0 else "+"
    place = f"{sign}{seconds // 3600:02d}{seconds // 60 % 60:02d}{seconds % 60:02d}"
    return f"j{hours:02d}{minutes:02d}{tenths % 600:03d}{place}"


def _unique(rows: list[dict[str, Any]]) -> None:
    """Give a second row of the same identifier a number."""
    seen: dict[str, int] = {}
    for row in rows:
        name = row["pair_id"]
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            row["pair_id"] = f"{name}-{seen[name]}"
