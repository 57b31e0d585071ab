"""Names of stars by Hipparcos number, from the letters and numbers of the sky's old catalogues."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pandas as pd

from catalogs.compiler.constellation import CONSTELLATIONS, constellations

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

_GREEK_TEXT = """
    alp bet gam del eps zet eta the iot kap lam mu nu xi omi pi rho sig tau ups phi chi psi ome"""
GREEK = dict(zip("αβγδεζηθικλμνξοπρστυφχψω", _GREEK_TEXT.split(), strict=True))
REPAIRED = {"undefined3": "υ3"}  # a slip of the source: upsilon 3 Eridani
# Proper names that belong to another star by the list of the International Astronomical Union
# (from memory): the source gives them twice, or to a star of an older list.
NOT_CALLED_SO = {
    13954: "Menkar", 15474: "Angetenar", 18246: "Atik", 19343: "Nembus", 20042: "Beemim",
    21248: "Beemim", 28734: "Propus", 36046: "Propus", 37229: "Markab", 42438: "Muscida",
    42527: "Museida", 45448: "Markeb", 46509: "Ukdah", 68002: "Alnair", 78727: "Grafias",
    82729: "Grafias", 89908: "Aldhiba", 94779: "Fawaris", 97804: "Tarazed", 98162: "Terebellum",
    98353: "Terebellum", 98688: "Terebellum", 107418: "Castula",
}  # fmt: skip
COLUMNS = [
    "hip", "bayer", "flamsteed", "hd", "hr", "ads", "constellation", "variable", "proper_name",
]  # fmt: skip
NUMBERS = ("hd", "hr", "ads")


def bayer_text(letter: str) -> str:
    """ASCII form of a Bayer letter: ``γ1`` -> ``gam1``; Latin letters stay as they are.

    Raises ValueError on anything else.
    """
    letter = REPAIRED.get(letter, letter)
    match = re.fullmatch(r"([α-ωa-zA-Z])(\d?)", letter)
    if match is None:
        raise ValueError(f"not a Bayer letter: {letter!r}")
    return GREEK.get(match[1], match[1]) + match[2]


def designation_table(
    names: Mapping[str, Mapping[str, str]],
    sky: Mapping[int, tuple[float, float]],
    typed: pd.DataFrame | None = None,
    red_stars: pd.DataFrame | None = None,
    numbers: pd.DataFrame | None = None,
) -> pd.DataFrame:
    """One row per star, by HIP number: the columns ``COLUMNS``; ``NUMBERS`` 0 unknown.

    ``names`` as the source has them; ``sky`` holds (ra_deg, dec_deg) by HIP number and gives the
    constellation where the source has none, or a slip. ``typed`` (hip, proper_name as texts)
    stands above the source's proper names, a blank one too; ``red_stars`` (hip, name,
    common_name) adds letters of variable stars, and ``numbers`` (hip, hr, ads) those of two more
    catalogues; both add stars that the source lacks.
    """
    rows = [_row(int(key), names[key]) for key in sorted(names, key=int)]
    table = pd.DataFrame(rows, columns=COLUMNS)
    blank = (table["constellation"] == "") & table["hip"].isin(list(sky))
    if blank.any():
        places = [sky[h] for h in table.loc[blank, "hip"]]
        table.loc[blank, "constellation"] = _by_position(places)
    if typed is not None:
        better = dict(zip(typed["hip"].astype(int), typed["proper_name"], strict=True))
        table["proper_name"] = table["hip"].map(better).fillna(table["proper_name"])
    if red_stars is not None:
        table = _with_red_stars(table, red_stars)
    return table if numbers is None else _with_numbers(table, numbers)


def _row(hip: int, entry: Mapping[str, str]) -> dict[str, Any]:
    """One line from what the source says of a star."""
    bayer, const = entry.get("bayer", ""), entry.get("c", "")
    hd = re.sub(r"\D", "", entry.get("hd", ""))
    return {
        "hip": hip,
        "bayer": bayer_text(bayer) if bayer else "",
        "flamsteed": entry.get("flam", ""),
        "hd": int(hd) if hd else 0,
        "hr": 0,
        "ads": 0,
        "constellation": const if const in CONSTELLATIONS else "",
        "variable": "",
        "proper_name": _proper_name(hip, entry.get("name", "")),
    }


def _with_red_stars(table: pd.DataFrame, red_stars: pd.DataFrame) -> pd.DataFrame:
    """The table with the letters and names of red stars, sorted by HIP number."""
    rows = {row["hip"]: row for row in table.to_dict("records")}
    for entry in red_stars.to_dict("records"):
        hip, (letters, const) = int(entry["hip"]), entry["name"].split(" ")
        row = rows.setdefault(hip, _nameless(hip))
        row["constellation"] = const
        row["variable"] = "" if row["bayer"] == letters else letters
        row["proper_name"] = row["proper_name"] or entry["common_name"]
    return pd.DataFrame([rows[hip] for hip in sorted(rows)], columns=COLUMNS)


def _with_numbers(table: pd.DataFrame, numbers: pd.DataFrame) -> pd.DataFrame:
    """The table with the typed numbers of other catalogues, sorted by HIP number."""
    rows = {row["hip"]: row for row in table.to_dict("records")}
    for entry in numbers.to_dict("records"):
        hip = int(entry["hip"])
        row = rows.setdefault(hip, _nameless(hip))
        row["hr"], row["ads"] = (int(entry[name] or 0) for name in ("hr", "ads"))
    return pd.DataFrame([rows[hip] for hip in sorted(rows)], columns=COLUMNS)


def _nameless(hip: int) -> dict[str, Any]:
    """The row of a star that the source lacks."""
    return dict.fromkeys(COLUMNS, "") | dict.fromkeys(NUMBERS, 0) | {"hip": hip}


def _proper_name(hip: int, name: str) -> str:
    """The source's proper name, blank where it is another star's."""
    name = " ".join(name.split())
    return "" if NOT_CALLED_SO.get(hip) == name else name


def _by_position(places: list[tuple[float, float]]) -> NDArray[Any]:
    ra, dec = zip(*places, strict=True)
    return constellations(ra, dec)


def short_names(table: pd.DataFrame) -> dict[int, tuple[str, str]]:
    """(designation, proper name) by HIP number: ``("eps Boo", "Izar")``; Bayer before Flamsteed."""
    found = {}
    for row in table.itertuples(index=False):
        first = row.bayer or row.flamsteed
        text = f"{first} {row.constellation}" if first and row.constellation else ""
        found[int(row.hip)] = (text, row.proper_name)
    return found
