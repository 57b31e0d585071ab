"""The pieces of the compiler on small samples of their own."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogs.compiler import (
    chance,
    checking,
    deepsky,
    motion,
    photometry,
    place_ids,
    relative_motion,
    sphere,
    writing,
)
from planner.angles import separation_deg

NO_ENTRY = {"bmag": None, "vmag": None, "majax": np.nan}


@settings(deadline=None, max_examples=60)
@given(
    st.integers(0, 2**32 - 1),
    st.sampled_from([(0.0, 0.0), (359.99, 45.0), (180.0, 89.95), (30.0, -89.98)]),
)
def test_neighbours_agree_with_all_distances(seed: int, centre: tuple[float, float]) -> None:
    rng = np.random.default_rng(seed)
    ra = (centre[0] + rng.uniform(-0.05, 0.05, 40) / np.cos(np.radians(centre[1]))) % 360.0
    dec = np.clip(centre[1] + rng.uniform(-0.05, 0.05, 40), -90.0, 90.0)
    found = sphere.neighbours((ra, dec), (ra, dec), 60.0)
    d = 3600.0 * separation_deg(ra[:, None], dec[:, None], ra[None, :], dec[None, :])
    expected = {(int(i), int(j)) for i, j in zip(*np.nonzero(d < 60.0), strict=True)}
    assert set(zip(found.first.tolist(), found.second.tolist(), strict=True)) == expected


def test_moved_agrees_with_barnards_star_at_j2000() -> None:
    # Hipparcos catalogue (ESA 1997): 269.45402 +4.66829 at 1991.25; J2000.0 in SIMBAD:
    # 269.45208 +4.69339; from memory. Limit 1": the radial velocity is left out.
    table = pd.DataFrame(
        {
            "ra_rad": np.radians([269.45402]),
            "dec_rad": np.radians([4.66829]),
            "pmra": [-798.58],
            "pmdec": [10328.12],
        }
    )
    ra, dec = sphere.moved(table, 8.75)
    assert 3600.0 * separation_deg(ra[0], dec[0], 269.45208, 4.69339) < 1.0


def test_v_from_gaia_reproduces_documented_value() -> None:
    # Gaia EDR3 documentation, table 5.9, at BP - RP = 1: -0.02704 + 0.01424 - 0.2156 + 0.01426.
    assert photometry.v_from_gaia(10.0, 1.0) == pytest.approx(10.21414, abs=1e-6)


def test_hp_minus_v_of_a_solar_star_agrees_with_hipparcos() -> None:
    # 51 Peg: Hp 5.59, V 5.45, V-I 0.72 (Hipparcos catalogue, ESA 1997, from memory).
    assert photometry.v_from_hipparcos(5.59, 0.72) == pytest.approx(5.45, abs=0.02)


def test_flux_excess_of_a_single_star_is_near_zero() -> None:
    # HD 209458: G 7.51, BP 7.80, RP 7.05 (Gaia DR3, from memory, to 0.01 mag: 0.02 in C*).
    excess = photometry.corrected_flux_excess(7.51, 7.80, 7.05)
    assert abs(float(excess)) < 0.05


@settings(deadline=None, max_examples=60)
@given(st.floats(-1.0, 8.0), st.floats(0.0, 4.0))
def test_companions_light_taken_out_and_put_back_is_the_whole(a: float, step: float) -> None:
    b = a + step
    combined = -2.5 * np.log10(10 ** (-0.4 * a) + 10 ** (-0.4 * b))
    assert float(photometry.without_companions(combined, b)) == pytest.approx(a, abs=1e-9)


def test_without_companions_gives_no_answer_when_nothing_is_left() -> None:
    assert np.isnan(photometry.without_companions(5.0, 4.9))


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 3.0), st.floats(-0.3, 1.5), st.floats(-0.3, 1.5))
def test_own_colour_undoes_the_mixing_of_two_stars(step: float, bv1: float, bv2: float) -> None:
    v1, v2 = 5.0, 5.0 + step
    together = [
        -2.5 * np.log10(10 ** (-0.4 * a) + 10 ** (-0.4 * b))
        for a, b in ((v1, v2), (v1 + bv1, v2 + bv2))
    ]
    found = photometry.own_colour(together[1] - together[0], v1, v2, bv2)
    kept = 10 ** (-0.4 * (v1 + bv1)) / 10 ** (-0.4 * together[1])
    if kept > 0.1 + 1e-9:  # else the companion drowns the star, and there is no answer
        assert float(found) == pytest.approx(bv1, abs=1e-6)


def test_own_colour_of_an_orange_star_beside_a_white_one() -> None:
    # By hand: B-V 1.4 and 0.0, 2.5 mag apart: in V 1 and 0.1, in B 1 and 0.1 * 3.631.
    mixed = 1.4 - 2.5 * np.log10(1.3631 / 1.1)
    assert mixed == pytest.approx(1.17, abs=0.005)
    assert float(photometry.own_colour(mixed, 4.0, 6.5, 0.0)) == pytest.approx(1.4, abs=0.001)


def _random_sky(count: int) -> pd.DataFrame:
    rng = np.random.default_rng(7)
    return pd.DataFrame(
        {
            "ra_deg": rng.uniform(100.0, 110.0, count),
            "dec_deg": rng.uniform(-5.0, 5.0, count),
            "v": rng.uniform(6.0, 10.0, count),
            "hip": 0,
        }
    )


def test_chance_fraction_of_a_sky_without_binaries_is_near_one() -> None:
    from catalogs.compiler.pairs import measured_pairs

    stars = _random_sky(15000)
    pairs = measured_pairs(stars)
    wide = pairs["separation_arcsec"].between(20.0, 60.0)
    share = chance.chance_fraction(pairs, stars)[wide.to_numpy()]
    assert len(share) > 300  # enough that the scatter of the counts is small
    assert np.mean(share) == pytest.approx(1.0, abs=0.1)


def test_chance_fraction_of_planted_binaries_is_small() -> None:
    from catalogs.compiler.pairs import measured_pairs

    stars = _random_sky(2000)
    companions = stars.iloc[:400].assign(
        dec_deg=stars["dec_deg"].iloc[:400] + 5.0 / 3600.0, v=stars["v"].iloc[:400] + 0.5
    )
    stars = pd.concat([stars, companions], ignore_index=True)
    pairs = measured_pairs(stars)
    close = pairs["separation_arcsec"].between(4.9, 5.1).to_numpy()
    assert np.mean(chance.chance_fraction(pairs, stars)[close]) < 0.1


def _hip_entries() -> pd.DataFrame:
    # 61 Cyg A and B; Procyon beside a made-up star far behind. Hipparcos (van Leeuwen 2007),
    # parallaxes and motions from memory, to the digit that matters here.
    rows = [
        (104214, 286.8, 4168.0, 3269.0),
        (104217, 285.9, 4107.0, 3144.0),
        (37279, 284.6, -714.6, -1036.8),
        (999999, 5.0, 3.0, -4.0),
    ]
    table = pd.DataFrame(rows, columns=["hip", "plx", "pmra", "pmdec"])
    return table.assign(plx_error=0.8, pmra_error=1.0, pmdec_error=1.0)


def test_physical_says_yes_to_61_cygni_and_no_to_a_star_behind() -> None:
    stars = pd.DataFrame({"hip": [104214, 104217, 37279, 999999, 0]})
    pairs = pd.DataFrame(
        {"star1": [0, 2, 0], "star2": [1, 3, 4], "separation_arcsec": [31.6, 30.0, 10.0]}
    )
    assert motion.physical(pairs, stars, _hip_entries()).tolist() == ["yes", "no", ""]


@pytest.mark.parametrize(
    ("kind", "nebula_type", "entry", "expected"),
    [
        ("galaxy", "", {"bmag": 8.9, "vmag": 8.1}, (8.1, "V")),
        ("galaxy", "", {"bmag": 7.9, "vmag": 11.1}, (7.1, "B-0.8")),
        ("galaxy", "", {"bmag": 12.0}, (11.2, "B-0.8")),
        ("open-cluster", "", {"bmag": 7.0}, (6.6, "B-0.4")),
        ("planetary-nebula", "", {"bmag": 13.3, "vmag": 10.5}, (10.5, "V")),
        ("nebula", "emission", {"vmag": 5.0, "majax": 90.0}, (np.nan, "")),
        ("nebula", "reflection", {"vmag": 8.0, "majax": 5.0}, (8.0, "V")),
        ("nebula", "", {"vmag": 8.0}, (np.nan, "")),
    ],
)
def test_magnitude_follows_the_rules_of_the_readme(
    kind: str, nebula_type: str, entry: dict, expected: tuple
) -> None:
    v, source = deepsky.magnitude(kind, nebula_type, NO_ENTRY | entry)
    assert (pytest.approx(v, nan_ok=True), source) == expected


@pytest.mark.parametrize(
    ("source", "text"),
    [("NGC0253", "NGC 253"), ("IC0359A", "IC 359A"), ("Mel022", "Melotte 22"), ("M040", "M 40")],
)
def test_identifier_is_readable(source: str, text: str) -> None:
    assert deepsky.identifier(source) == text


def test_identifier_rejects_other_text() -> None:
    with pytest.raises(ValueError, match="not a catalogue name"):
        deepsky.identifier("Sirius")


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [(1.50, 2, "1.5"), (2.0, 3, "2"), (-0.0001, 2, "0"), (np.nan, 2, ""), (10.0, 0, "10")],
)
def test_plain_numbers(value: float, digits: int, text: str) -> None:
    assert writing.plain(value, digits) == text


def test_check_finds_exchanged_components_and_missed_rows() -> None:
    pairs = pd.DataFrame(
        {
            "hip": [1],
            "hip_secondary": [0],
            "ra_deg": [10.0],
            "dec_deg": [20.0],
            "separation_arcsec": [5.1],
            "position_angle_deg": [200.0],
            "v1": [5.0],
            "v2": [6.2],
        }
    )
    table = pd.DataFrame(
        {"RA": [10.0, 50.0], "dec": 20.0, "rho": 5.0, "theta": 19.0, "m1": 5.0, "m2": 6.0}
    )
    result = checking.check(checking.normalised(table, {"ra": "RA"}), pairs, checking.Limits())
    assert (result.found, len(result.missed), result.exchanged) == (1, 1, 1)
    assert result.separation_arcsec == pytest.approx([0.1])
    assert result.position_angle_deg == pytest.approx([1.0])
    assert result.v2 == pytest.approx([0.2])
    assert "1 of 2 found" in checking.report("table", result)


def test_check_reads_the_place_in_a_wds_identifier() -> None:
    # WDS format (US Naval Observatory): HHMMm+DDMM.
    assert checking.wds_place("16413+3136") == pytest.approx((250.325, 31.6))
    assert checking.wds_place("00373-2446")[1] == pytest.approx(-24.7667, abs=1e-4)


def test_normalised_rejects_unknown_columns() -> None:
    table = pd.DataFrame({"hip": [1], "rho": [2.0]})
    with pytest.raises(ValueError, match="no column 'sep2'"):
        checking.normalised(table, {"separation": "sep2"})
    with pytest.raises(ValueError, match="'position_angle' is no key .known: ra, .* pa, "):
        checking.normalised(table, {"position_angle": "rho"})
    with pytest.raises(ValueError, match="'rho' is not of the form OURS=THEIRS"):
        checking.column_words(["pa=theta", "rho"])
    assert checking.column_words(["pa=theta"]) == {"pa": "theta"}
    with pytest.raises(ValueError, match="no place"):
        checking.normalised(pd.DataFrame({"rho": [2.0]}), {})


def _two_stars(
    step_mas_yr: float, pm_mas_yr: float, error: float, solution: int = 95
) -> tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame]:
    """A pair 30" wide on the equator whose B moves north; its motion of Hipparcos is ``pm``."""
    b91 = 30.0 / 3600.0
    b16 = b91 + step_mas_yr * 24.75 / 3.6e6
    stars = pd.DataFrame({"ra_deg": 50.0, "dec_deg": [0.0, b16], "hip": [1, 2], "gaia": True})
    entries = {"ra_rad": np.radians(50.0), "dec_rad": np.radians([0.0, b91]), "pmra": 0.0}
    entries |= {"hip": [1, 2], "pmdec": [0.0, pm_mas_yr], "solution": solution}
    hipparcos = pd.DataFrame(entries | {"pmra_error": error / 2.0, "pmdec_error": error / 2.0})
    return pd.DataFrame({"star1": [0], "star2": [1]}), stars, hipparcos


@pytest.mark.parametrize(
    ("sample", "expected"),
    [  # motions in mas a year: between the places, of Hipparcos, error of the latter
        (_two_stars(100.0, 101.0, 1.0), 100.0),
        (_two_stars(100.0, 140.0, 1.0), np.nan),  # the two do not agree
        (_two_stars(100.0, 110.0, 20.0), np.nan),  # so uncertain that it proves nothing
        (_two_stars(5.0, 20.0, 1.0, solution=5), 5.0),  # each alone: an inner orbit of B
    ],
    ids=["agree", "differ", "uncertain", "alone"],
)
def test_motion_of_a_companion_is_trusted_where_two_sources_agree(
    sample: tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame], expected: float
) -> None:
    found = relative_motion.relative_motion(*sample)
    assert found.north_mas_yr[0] == pytest.approx(expected, abs=1e-3, nan_ok=True)


def test_motion_of_a_companion_in_no_catalogue_is_unknown() -> None:
    pairs, stars, hipparcos = _two_stars(100.0, 101.0, 1.0)
    found = relative_motion.relative_motion(pairs.assign(star2=-1), stars, hipparcos)
    assert np.isnan(found.east_mas_yr[0])


def _places(rows: list[tuple[str, str, float, float, float]]) -> pd.DataFrame:
    table = pd.DataFrame(rows, columns=["system_id", "wds", "ra_deg", "dec_deg", "v1"])
    return table.assign(pair_id=table["system_id"], pm_ra_mas_yr=np.nan, pm_dec_mas_yr=np.nan)


def test_place_identifier_is_that_of_the_washington_catalog_where_that_has_one() -> None:
    # WDS: Izar (J2000 14 44 59.2 +27 04 27) is 14450+2704, 61 Cyg (21 06 53.9 +38 44 58) is
    # 21069+3845, gamma Vir (12 41 39.6 -01 26 58) is 12417-0127; places of SIMBAD, from memory
    rows = [("a", "", 221.2467, 27.0742, 2.6), ("b", "", 316.7246, 38.7494, 5.2)]
    rows += [("c", "", 190.4151, -1.4494, 3.5), ("d", "00001+0001", 10.0, 5.0, 6.0)]
    rows += [("d", "", 10.0, 5.0, 6.0)]  # another pair of the same system
    expected = ["14450+2704", "21069+3845", "12417-0127", "00001+0001", "00001+0001"]
    assert place_ids.place_ids(_places(rows)) == expected


def test_two_systems_never_share_a_place_identifier() -> None:
    rows = [("faint", "", 10.0, 5.0, 9.0), ("bright", "", 10.001, 5.001, 6.0)]
    rows += [("south", "", 20.0, -0.001, 6.0), ("known", "01200+0000", 20.0, 0.0, 7.0)]
    assert place_ids.place_ids(_places(rows)) == [
        "00400+0501", "00400+0500", "01200+0001", "01200+0000",
    ]  # fmt: skip
