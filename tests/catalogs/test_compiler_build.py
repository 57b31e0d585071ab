"""A whole build on an invented sample: the same bytes twice, and the hand table worked in."""

import gzip
import io

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler import sources, stars, typed
from catalogs.compiler.build import Built, Inputs, build

ARCSEC = 1.0 / 3600.0


def _gaia() -> pd.DataFrame:
    """Ten invented stars: three doubles, one of them nearly equal, and single stars."""
    rows = [
        (1, 10.0, 0.0, 6.0),
        (2, 10.0, 5.0 * ARCSEC, 7.0),
        (3, 50.0, 20.0, 5.50),
        (4, 50.0, 20.0 + 3.0 * ARCSEC, 5.52),
        (5, 90.0, -10.0, 7.0),
        (6, 90.0, -10.0 - 20.0 * ARCSEC, 8.0),
        (7, 130.0, 30.0, 6.5),
        (8, 170.0, 60.0, 8.5),
        (9, 210.0, -40.0, 4.5),
        (10, 250.0, 80.0, 9.5),
    ]
    table = pd.DataFrame(rows, columns=["id", "ra", "dec", "g"])
    return table.assign(bp=table["g"] + 0.3, rp=table["g"] - 0.5)


def _hipparcos() -> pd.DataFrame:
    """Three of these stars, and one too bright for Gaia (negative identifiers do not occur)."""
    rows = [(101, 10.0, 0.0, 6.2), (103, 50.0, 20.0, 5.7), (109, 210.0, -40.0, 4.7)]
    table = pd.DataFrame(rows, columns=["hip", "ra", "dec", "hp"])
    return table.assign(
        ra_rad=np.radians(table["ra"]),
        dec_rad=np.radians(table["dec"]),
        plx=20.0,
        pmra=0.0,
        pmdec=0.0,
        plx_error=0.5,
        pmra_error=0.5,
        pmdec_error=0.5,
        bv=0.7,
        bv_error=0.01,
        vi=0.75,
        solution=5,
    )


def _opengc() -> pd.DataFrame:
    columns = {"const": "Boo", "minax": np.nan, "pa": np.nan, "hubble": "", "messier": ""}
    columns |= {"ngc": "", "ic": "", "identifiers": "", "commonnames": ""}
    rows = [("NGC0001", "G", 10.0, 5.0, 12.0, 11.2), ("NGC0002", "NonEx", 20.0, 5.0, None, None)]
    table = pd.DataFrame(rows, columns=["name", "type", "ra", "dec", "bmag", "vmag"])
    table["ra"], table["dec"] = np.radians(table["ra"]), np.radians(table["dec"])
    return table.assign(majax=3.0, **columns)


def _typed(*more: dict[str, object]) -> pd.DataFrame:
    blank = dict.fromkeys(("name", "proper_name", "discoverer", "wds", "system", "note"), "")
    blank |= dict.fromkeys(("ra_deg", "dec_deg", *typed.MEASURES), np.nan)
    blank |= {"components": "AB", "source": "invented"}
    rows = [
        {"hip": 101, "action": "name", "name": "eps Inv", "separation_arcsec": 5.0},
        {"hip": 103, "action": "swap", "position_angle_deg": 180.0, "separation_arcsec": 3.0},
        {"hip": 109, "action": "add", "v1": 4.5, "v2": 6.0, "separation_arcsec": 1.2},
        {"hip": 555, "action": "name", "name": "lost"},
        *more,
    ]
    return pd.DataFrame([blank | row for row in rows])


def _built(*more: dict[str, object]) -> Built:
    names = {"101": {"bayer": "ε", "c": "Psc", "name": "Invented", "hd": "HD 1", "flam": ""}}
    return build(Inputs(_gaia(), _hipparcos(), _opengc(), names, _typed(*more)))


@pytest.fixture(scope="module")
def built() -> Built:
    return _built()


def _pairs(built: Built) -> pd.DataFrame:
    text = gzip.decompress(built.files["pairs.csv.gz"]).decode()
    return pd.read_csv(io.StringIO(text)).set_index("pair_id")


@pytest.fixture(scope="module")
def pairs(built: Built) -> pd.DataFrame:
    return _pairs(built)


def test_build_gives_the_same_bytes_twice(built: Built) -> None:
    assert _built().files == built.files


def test_build_does_not_depend_on_the_time(built: Built) -> None:
    assert built.files["pairs.csv.gz"][4:8] == b"\0\0\0\0"  # MTIME of RFC 1952, section 2.3
    assert b"\x00\x00\x21\x00" in built.files["stars.npz"][:32]  # 1980-01-01 00:00 in a ZIP header


def test_build_measures_the_planted_pairs(pairs: pd.DataFrame) -> None:
    named = pairs.loc["hip101-AB"]
    assert named["separation_arcsec"] == pytest.approx(5.0, abs=0.001)
    assert named["position_angle_deg"] == pytest.approx(0.0, abs=0.01)
    assert named["name"] == "eps Inv"
    assert named["proper_name"] == "Invented"


def test_swap_exchanges_the_components_and_keeps_the_number_with_a(pairs: pd.DataFrame) -> None:
    swapped = pairs.loc["hip103-AB"]
    assert swapped["position_angle_deg"] == pytest.approx(180.0, abs=0.01)
    assert swapped["v1"] > swapped["v2"]
    assert swapped["dec_deg"] == pytest.approx(20.0 + 3.0 * ARCSEC, abs=1e-6)


def test_drop_leaves_one_pair_out(pairs: pd.DataFrame) -> None:
    place = {"hip": 0, "ra_deg": 90.0, "dec_deg": -10.0}
    left = _pairs(_built(place | {"action": "drop", "separation_arcsec": 20.0}))
    assert set(pairs.index) - set(left.index) == {"j0600000-100000-AB"}


def test_add_takes_place_and_motion_from_the_catalogue(pairs: pd.DataFrame) -> None:
    added = pairs.loc["hip109-AB"]
    assert added["ra_deg"] == pytest.approx(210.0, abs=1e-6)
    assert added["pm_ra_mas_yr"] == 0.0
    assert np.isnan(added["position_angle_deg"])


def test_typed_row_that_fits_nothing_is_told(built: Built) -> None:
    assert len(built.warnings) == 1
    assert "lost" in built.warnings[0]


def test_nonexistent_objects_are_dropped(built: Built) -> None:
    text = gzip.decompress(built.files["deepsky.csv.gz"]).decode()
    assert "NGC 1," in text
    assert "NGC 2," not in text


def test_stars_file_loads_as_integers(built: Built) -> None:
    with np.load(io.BytesIO(built.files["stars.npz"])) as arrays:
        assert {arrays[n].dtype.kind for n in arrays.files} == {"i", "u"}
        assert np.all(np.diff(arrays["dec"]) >= 0)
        assert set(arrays["hip"]) == {0, 101, 103, 109}


def test_hipparcos_entry_falls_to_the_brighter_star_not_the_nearer() -> None:
    gaia = pd.DataFrame({"ra_deg": [10.0, 10.0], "dec_deg": [0.0, 1.0 * ARCSEC], "v": [5.0, 7.5]})
    hip = pd.DataFrame(
        {"ra_deg": [10.0], "dec_deg": [0.8 * ARCSEC], "v": [4.9], "ra_rad": [0.1], "dec_rad": [0.0]}
    )
    assert stars.attach(hip, gaia).tolist() == [0]


def test_verified_rejects_another_edition(tmp_path) -> None:
    path = tmp_path / "file.bin"
    path.write_bytes(b"other")
    with pytest.raises(ValueError, match="not the edition"):
        sources.verified(path, sources.SOURCES["gaia"])


def test_gaia_table_rejects_another_format() -> None:
    with pytest.raises(ValueError, match="not a star file"):
        sources.gaia_table(b"XXXX" + bytes(48))
