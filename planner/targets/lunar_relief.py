"""Maps of the Moon's near side: brightness and height of its surface."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.columns import frozen
from planner.targets.files import damaged, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float32]

RELIEF_FILE = "moon_relief.npz"
WIDEST_LON_DEG = 105.0  # further round libration never brings anything into sight
BRIGHTNESS_STEP = 4  # of 256: what the maps keep
HEIGHT_STEP_M = 20.0


@dataclass(frozen=True, slots=True, eq=False)
class LunarRelief:
    """Maps (R, C), rows from north to south, columns from west to east, on the axes of maps.

    ``brightness`` 0..1 as a camera above saw it, ``height_km`` over a globe of 1737.4 km. The
    cells are squares of ``180 / R`` degrees; their middles run from ``first_lon_deg`` on.
    """

    brightness: Floats
    height_km: Floats
    first_lon_deg: float

    @property
    def cell_deg(self) -> float:
        """Width and height of a cell."""
        return 180.0 / len(self.brightness)


@cache
def load_lunar_relief(folder: Path | None = None) -> LunarRelief:
    """The maps, unpacked. Raises CatalogError for a missing or damaged file."""
    content = read_bytes(RELIEF_FILE, folder)
    try:
        with np.load(io.BytesIO(content), allow_pickle=False) as packed:
            shades = np.cumsum(packed["brightness"], axis=1, dtype=np.uint8)
            bytes_of = np.stack([packed["height_low"], packed["height_high"]], axis=-1)
            steps = np.ascontiguousarray(bytes_of).view("<i2")[..., 0]
    except (OSError, EOFError, KeyError, ValueError, zipfile.BadZipFile) as error:
        raise damaged(RELIEF_FILE, error) from error
    height = np.cumsum(steps, axis=1, dtype=np.int16) * np.float32(HEIGHT_STEP_M / 1000.0)
    rows, columns = shades.shape
    return LunarRelief(
        brightness=frozen((shades.astype(np.float32) + 0.5) * (BRIGHTNESS_STEP / 256.0)),
        height_km=frozen(height.astype(np.float32)),
        first_lon_deg=-(columns - 1) / 2.0 * 180.0 / rows,
    )
