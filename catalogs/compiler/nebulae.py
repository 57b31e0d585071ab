"""Two hand tables worked into the deep-sky objects: planetaries, and the bright part of nebulae."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

PLANETARY_NUMBERS = ("v_mag", "major_arcsec", "minor_arcsec")
BRIGHT_NUMBERS = (
    "bright_major_arcmin", "bright_minor_arcmin", "bright_v_mag", "bright_surface_mag",
    "bright_lines_rayleigh",
)  # fmt: skip
BRIGHT_COLUMNS = (*BRIGHT_NUMBERS, "bright_light")
LIGHTS = ("emission", "reflection", "remnant", "mixed", "planetary")


def read_planetaries(path: Path) -> pd.DataFrame:
    """The hand table of planetary nebulae; NaN for blank. Raises ValueError as ``_read`` does."""
    return _read(path, PLANETARY_NUMBERS)


def read_nebulae(path: Path) -> pd.DataFrame:
    """The hand table of bright parts; NaN for blank.

    Raises ValueError as ``_read`` does, for an unknown word in ``bright_light``, and for a row
    that has both or neither of magnitude and surface brightness.
    """
    table = _read(path, BRIGHT_NUMBERS)
    unknown = sorted(set(table["bright_light"]) - set(LIGHTS))
    if unknown:
        raise ValueError(f"{path.name}: bright_light {', '.join(unknown)}; known: {LIGHTS}")
    given = table["bright_v_mag"].notna().astype(int) + table["bright_surface_mag"].notna()
    if (given != 1).any():
        names = ", ".join(table.loc[given != 1, "id"])
        raise ValueError(f"{path.name}: one of magnitude and surface brightness, not {names}")
    return table


def with_planetaries(table: pd.DataFrame, typed: pd.DataFrame | None) -> list[str]:
    """Put typed magnitudes and sizes into the objects; returns what found no planetary nebula.

    ``table`` is changed in place. Blank cells leave what is there; a typed major axis without a
    minor one makes the nebula round.
    """
    lost = []
    for entry in [] if typed is None else typed.to_dict("records"):
        row = table.index[(table["id"] == entry["id"]) & (table["kind"] == "planetary-nebula")]
        if row.empty:
            lost.append(f"{entry['id']}: no such planetary nebula")
            continue
        table.loc[row, ["v_mag", "v_source"]] = [entry["v_mag"], entry["source"]]
        if np.isfinite(entry["major_arcsec"]):
            axes = [entry["major_arcsec"] / 60.0, entry["minor_arcsec"] / 60.0]
            table.loc[row, ["major_arcmin", "minor_arcmin"]] = np.round(axes, 2)
    return lost


def with_bright_parts(
    table: pd.DataFrame, typed: pd.DataFrame | None
) -> tuple[pd.DataFrame, list[str]]:
    """The objects with ``BRIGHT_COLUMNS``, blank where nothing is typed, and what was not found.

    Magnitude m and surface brightness mu of an ellipse with the full axes a and b (arcsec) follow
    from one another: mu = m + 2.5 log10(pi a b / 4).
    """
    if typed is None:
        blank: dict[str, Any] = dict.fromkeys(BRIGHT_NUMBERS, np.nan) | {"bright_light": ""}
        return table.assign(**blank), []
    typed = typed.copy()
    axes = 60.0 * typed[["bright_major_arcmin", "bright_minor_arcmin"]].to_numpy(float)
    spread = _spread_mag(axes[:, 0], axes[:, 1])
    v, surface = typed["bright_v_mag"], typed["bright_surface_mag"]
    typed["bright_v_mag"] = v.fillna(surface - spread).round(2)
    typed["bright_surface_mag"] = surface.fillna(v + spread).round(2)
    joined = table.merge(typed[["id", *BRIGHT_COLUMNS]], on="id", how="left", validate="1:1")
    joined["bright_light"] = joined["bright_light"].fillna("")
    lost = [f"{name}: no such object" for name in typed["id"] if name not in set(table["id"])]
    return joined, lost


def _spread_mag(major_arcsec: NDArray[Any], minor_arcsec: NDArray[Any]) -> NDArray[Any]:
    """Magnitudes by which light fades when spread over an ellipse: 2.5 log10(pi a b / 4)."""
    return 2.5 * np.log10(np.pi / 4.0 * major_arcsec * minor_arcsec)


def _read(path: Path, numbers: tuple[str, ...]) -> pd.DataFrame:
    """A hand table with these columns as floats. Raises ValueError for an id given twice."""
    table = pd.read_csv(path, dtype=str, keep_default_na=False, comment="#")
    if table["id"].duplicated().any():
        raise ValueError(f"{path.name}: id given twice")
    for column in numbers:
        table[column] = pd.to_numeric(table[column].replace("", np.nan))
    return table
