"""The shipped star list against published magnitudes, colours and places."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler.stars import hipparcos_bv
from planner.angles import separation_deg

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
UNIT_DEG = 1e-5  # as the README states
UNKNOWN_COLOUR = -32768

with np.load(CATALOGS / "stars.npz") as _archive:
    STARS = {name: _archive[name] for name in _archive.files}
ROW = {int(h): int(k) for k, h in enumerate(STARS["hip"]) if h}

# V of the Bright Star Catalogue, 5th edition (Hoffleit and Warren 1991), from memory.
BRIGHT = {
    "Sirius": (32349, -1.46),
    "Canopus": (30438, -0.72),
    "Arcturus": (69673, -0.04),
    "Vega": (91262, 0.03),
    "Capella": (24608, 0.08),
    "Rigel": (24436, 0.12),
    "Procyon": (37279, 0.38),
    "Altair": (97649, 0.77),
    "Aldebaran": (21421, 0.85),
    "Spica": (65474, 0.98),
    "Pollux": (37826, 1.14),
    "Fomalhaut": (113368, 1.16),
    "Deneb": (102098, 1.25),
    "Regulus": (49669, 1.35),
    "Castor A": (36850, 1.94),
    "Dubhe": (54061, 1.79),
    "Polaris": (11767, 2.02),
    "Hamal": (9884, 2.00),
    "Mirach": (5447, 2.06),
    "Eltanin": (87833, 2.23),
    "theta Aur": (28380, 2.62),
    "Phecda": (58001, 2.44),
    "eta Cas A": (3821, 3.44),
    "Porrima A": (61941, 3.50),
}
BRIGHT_LIMIT_MAG = 0.12  # the README promises about 0.02; catalogue zero points and variability
# V and B-V of the Hipparcos catalogue (ESA 1997), from memory; stars measured by Gaia (G > 4).
FAINTER = {
    "51 Peg": (113357, 5.45, 0.67),
    "61 Cyg A": (104214, 5.21, 1.18),
    "18 Sco": (79672, 5.50, 0.65),
    "sigma Dra": (96100, 4.68, 0.79),
    "14 Her": (79248, 6.61, 0.88),
    "HD 209458": (108859, 7.65, 0.59),
}
FAINTER_LIMIT_MAG = 0.05  # twice the scatter of the transformation, rounded up
COLOUR_LIMIT_MAG = 0.15  # B-V estimated where a star has a neighbour; 0.05 scatter, three times
# ICRS at J2000.0 (deg) and proper motion (mas/yr), Hipparcos (ESA 1997), from memory.
PLACES = {
    "Vega": (91262, 279.23473, 38.78369, 200.94, 286.23),
    "Arcturus": (69673, 213.91530, 19.18241, -1093.45, -1999.40),
    "61 Cyg A": (104214, 316.72475, 38.74942, 4164.17, 3269.05),
}
PLACE_LIMIT_ARCSEC = 1.5  # the binary motion of 61 Cyg within 16 years, and digits from memory


@pytest.mark.parametrize("name", BRIGHT)
def test_v_of_bright_stars_agrees_with_bright_star_catalogue(name: str) -> None:
    hip, v = BRIGHT[name]
    assert STARS["v_mmag"][ROW[hip]] / 1000.0 == pytest.approx(v, abs=BRIGHT_LIMIT_MAG)


@pytest.mark.parametrize("name", FAINTER)
def test_v_and_colour_of_fainter_stars_agree_with_hipparcos(name: str) -> None:
    hip, v, b_v = FAINTER[name]
    row = ROW[hip]
    assert STARS["v_mmag"][row] / 1000.0 == pytest.approx(v, abs=FAINTER_LIMIT_MAG)
    assert STARS["colour_mmag"][row] / 1000.0 == pytest.approx(b_v, abs=COLOUR_LIMIT_MAG)


@pytest.mark.parametrize("name", PLACES)
def test_places_at_2016_agree_with_hipparcos(name: str) -> None:
    hip, ra, dec, pm_ra, pm_dec = PLACES[name]
    ra += 16.0 * pm_ra / 3.6e6 / np.cos(np.radians(dec))
    dec += 16.0 * pm_dec / 3.6e6
    row = ROW[hip]
    found = STARS["ra"][row] * UNIT_DEG, STARS["dec"][row] * UNIT_DEG
    assert 3600.0 * separation_deg(*found, ra, dec) < PLACE_LIMIT_ARCSEC


def test_star_list_is_sorted_by_declination_and_within_its_limits() -> None:
    assert np.all(np.diff(STARS["dec"]) >= 0)
    assert STARS["ra"].dtype == np.uint32
    assert STARS["ra"].max() < 36_000_000
    assert np.abs(STARS["dec"]).max() <= 9_000_000
    assert STARS["v_mmag"].max() <= 10_600
    known = STARS["colour_mmag"][STARS["colour_mmag"] != UNKNOWN_COLOUR]
    assert known.min() > -600
    assert known.max() < 6_000


def test_no_hipparcos_number_stands_twice() -> None:
    numbers = STARS["hip"][STARS["hip"] > 0]
    assert len(np.unique(numbers)) == len(numbers)


def test_star_counts_agree_with_star_counts_of_handbooks() -> None:
    # About 8,900-9,100 stars to V = 6.5 (Bright Star Catalogue: 9,096 objects to about 6.5) and
    # about 42,000 to 8.0 (handbook, from memory). Doubles count once there, often twice here.
    v = STARS["v_mmag"] / 1000.0
    assert np.count_nonzero(v <= 6.5) == pytest.approx(8900, rel=0.08)
    assert np.count_nonzero(v <= 8.0) == pytest.approx(42000, rel=0.10)


@pytest.mark.parametrize("hip", [28442, 44542, 63081, 71502, 12193])
def test_no_second_star_of_equal_brightness_beside_a_misplaced_hipparcos_entry(hip: int) -> None:
    # These entries have a wrong motion or belong to a variable: none may become a false star.
    assert np.count_nonzero(STARS["hip"] == hip) <= 1
    if hip in ROW:
        row = ROW[hip]
        ra, dec = STARS["ra"] * UNIT_DEG, STARS["dec"] * UNIT_DEG
        near = 3600.0 * separation_deg(ra[row], dec[row], ra, dec) < 6.0
        same = np.abs(STARS["v_mmag"] - STARS["v_mmag"][row]) < 100
        assert np.count_nonzero(near & same) == 1


def test_a_colour_the_source_lacks_is_not_taken_for_white() -> None:
    # Hipparcos gives B-V 0 with an error of 0 for stars it has no colour of, such as the carbon
    # star U Cam (HIP 17257), B-V over 2: General Catalogue of Variable Stars, from memory.
    entries = pd.DataFrame({"bv": [0.0, 0.0, 1.5], "bv_error": [0.0, 0.005, 0.0], "hp": 7.0})
    assert np.isnan(hipparcos_bv(entries)).tolist() == [True, False, False]
    assert STARS["colour_mmag"][ROW[17257]] > 1500
