"""The Moon's maps: packed and unpacked, and known places where they belong."""

from __future__ import annotations

import numpy as np
import pytest

from catalogs.compiler.moon_relief import relief_arrays
from catalogs.compiler.writing import npz_bytes
from planner.errors import CatalogError
from planner.targets.lunar_relief import RELIEF_FILE, load_lunar_relief


def at(values, lon, lat):
    """Mean of a map within a degree or so of a place."""
    relief = load_lunar_relief()
    column = round((lon - relief.first_lon_deg) / relief.cell_deg)
    row = round((90.0 - lat) / relief.cell_deg - 0.5)
    return float(values[row - 2 : row + 3, column - 2 : column + 3].mean())


def test_packing_loses_half_a_step_at_most(tmp_path):
    rng = np.random.default_rng(3)
    brightness = rng.integers(0, 256, (12, 24), dtype=np.uint8)
    height = rng.integers(-17000, 21000, (12, 24), dtype=np.int32)
    (tmp_path / RELIEF_FILE).write_bytes(npz_bytes(relief_arrays(brightness, height)))
    relief = load_lunar_relief(tmp_path)
    longitude = (np.arange(24) + 0.5) * 15.0 - 180.0
    near = np.abs(longitude) <= 112.5
    assert relief.first_lon_deg == longitude[near][0]
    assert np.abs(relief.height_km - height[:, near] * 0.0005).max() <= 0.0101
    assert np.abs(relief.brightness * 256.0 - brightness[:, near] - 0.5).max() <= 2.0


def test_damage_is_told(tmp_path):
    (tmp_path / RELIEF_FILE).write_bytes(b"no archive")
    with pytest.raises(CatalogError, match="damaged"):
        load_lunar_relief(tmp_path)


def test_seas_are_dark_and_low_and_the_southern_highland_high():
    """Places from the IAU gazetteer; that seas are dark plains below the highland is old lore."""
    relief = load_lunar_relief()
    for lon, lat in ((59.1, 17.0), (-15.0, 35.0), (18.0, 27.0)):  # Crisium, Imbrium, Serenitatis
        assert at(relief.brightness, lon, lat) < 0.35
        assert at(relief.height_km, lon, lat) < -1.5
    assert at(relief.brightness, -11.2, -43.3) > 0.45  # Tycho
    assert at(relief.height_km, 20.0, -30.0) > at(relief.height_km, 18.0, 27.0) + 2.0
