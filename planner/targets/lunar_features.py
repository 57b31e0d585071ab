"""Named features of the Moon's near side: craters, rilles, scarps, domes, mountains, seas."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.columns import frozen
from planner.targets.files import damaged, read_columns
from planner.targets.lunar_names import LUNAR_FEATURES_FILE

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]


_TEXTS = ("name", "kind", "source", "status")
_NUMBERS = ("lon_east_deg", "lat_deg", "size_km", "width_km", "height_km")


@dataclass(frozen=True, slots=True, eq=False)
class LunarFeatures:
    """N named features, arrays (N,).

    ``lon_east_deg`` and ``lat_deg`` on the mean-Earth axes of maps; ``size_km`` diameter or
    length; ``width_km`` of rilles and valleys, ``height_km`` height or depth, NaN where not
    known. ``status`` is ``table`` where place and size were compared with the IAU gazetteer,
    ``memory`` where typed from memory and not compared.
    """

    name: Texts
    kind: Texts
    source: Texts
    status: Texts
    lon_east_deg: Floats
    lat_deg: Floats
    size_km: Floats
    width_km: Floats
    height_km: Floats

    def __len__(self) -> int:
        """Number of features."""
        return len(self.name)


@cache
def load_lunar_features(folder: Path | None = None) -> LunarFeatures:
    """Every feature there is, in the file's order.

    ``folder`` is the package's own catalogs unless given. Raises CatalogError for a missing or
    damaged file.
    """
    columns = read_columns(LUNAR_FEATURES_FILE, (*_TEXTS, *_NUMBERS), folder)
    try:
        numbers = {
            name: frozen(np.array([float(text or "nan") for text in columns[name]]))
            for name in _NUMBERS
        }
    except ValueError as error:
        raise damaged(LUNAR_FEATURES_FILE, error) from error
    texts = {name: frozen(np.array(columns[name], dtype=object)) for name in _TEXTS}
    return LunarFeatures(**texts, **numbers)
