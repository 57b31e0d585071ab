"""Deep-sky objects whose magnitude, surface brightness and axes do not go together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

BRIGHTEST_CHECKED_MAG = 13.0  # what a small telescope may show; fainter rows are not listed


@dataclass(frozen=True, slots=True)
class Usual:
    """The usual mean surface brightness of one kind, mag/arcsec2, bright and faint end."""

    bright: float
    faint: float


# From the spread over the whole table: some 0.5 per cent lie outside. Own judgement.
USUAL = {
    "galaxy": Usual(19.3, 25.0),
    "open-cluster": Usual(16.5, 24.6),
    "globular-cluster": Usual(18.5, 24.3),
    "planetary-nebula": Usual(11.0, 23.5),
    "nebula": Usual(16.5, 25.6),
}
THINNEST = 0.1  # minor over major axis of an edge-on spiral; Hubble 1926 has 0.15 to 0.2 for most
THINNEST_ELLIPTICAL = 0.28  # ellipticals end at E7, ratio 0.3 (Hubble 1926)
MOST_MARKED_MAG = 11.0  # brighter galaxies must have both axes


def surface_mag(table: pd.DataFrame) -> Floats:
    """Mean V within the ellipse of the axes, mag/arcsec2: V + 2.5 log10(pi a b / 4).

    Axes in arcsec there; an object without a minor axis is round. NaN where anything lacks.
    """
    major = 60.0 * table["major_arcmin"].to_numpy(float)
    minor = 60.0 * table["minor_arcmin"].to_numpy(float)
    area = np.pi / 4.0 * major * np.where(np.isfinite(minor), minor, major)
    with np.errstate(divide="ignore"):
        spread = 2.5 * np.log10(area)
    return np.asarray(table["v_mag"].to_numpy(float) + spread)


def outliers(table: pd.DataFrame) -> dict[str, str]:
    """What is odd, by object; the table as shipped.

    Surface brightness outside ``USUAL`` (V of the object's own light, down to V = 13), a galaxy
    thinner than edge-on spirals or than E7, an axis of zero, a minor axis larger than the
    major, and a bright galaxy without one of its axes.
    """
    surface = surface_mag(table)
    ratio = (table["minor_arcmin"] / table["major_arcmin"]).to_numpy(float)
    found: dict[str, str] = {}
    for row, mu, axes in zip(table.to_dict("records"), surface, ratio, strict=True):
        told = [*_odd_axes(row, axes), *_odd_light(row, mu)]
        if told:
            found[row["id"]] = "; ".join(told)
    return found


def _odd_light(row: dict[str, object], mu: float) -> list[str]:
    """The surface brightness, if it is not usual for the kind."""
    usual = USUAL.get(str(row["kind"]))
    bright = float(str(row["v_mag"])) <= BRIGHTEST_CHECKED_MAG
    if usual is None or not bright or row["v_of"] == "stars" or not np.isfinite(mu):
        return []
    return [] if usual.bright <= mu <= usual.faint else [f"{mu:.1f} mag/arcsec2"]


def _odd_axes(row: dict[str, object], ratio: float) -> list[str]:
    """Axes that no object of the kind has."""
    major, v_mag = float(str(row["major_arcmin"])), float(str(row["v_mag"]))
    told = ["size zero"] if major <= 0.0 or ratio <= 0.0 else []
    told += ["minor axis the larger"] if ratio > 1.0 else []
    if row["kind"] == "galaxy" and v_mag <= BRIGHTEST_CHECKED_MAG:
        least = THINNEST_ELLIPTICAL if row["hubble_type"] == "E" else THINNEST
        told += [f"axes 1 : {ratio:.2f}"] if 0.0 < ratio < least else []
        told += ["an axis lacks"] if v_mag <= MOST_MARKED_MAG and not np.isfinite(ratio) else []
    return told


def report(table: pd.DataFrame) -> str:
    """The list as printed."""
    found = outliers(table)
    lines = [f"deep sky: {len(found)} objects with odd magnitude or axes"]
    return "\n".join([*lines, *(f"  {name}: {text}" for name, text in found.items())])
