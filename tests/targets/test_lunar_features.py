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
