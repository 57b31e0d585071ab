"""The shipped pairs against published measures."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler import checking
from planner.targets.pairs import colour_word

HERE = Path(__file__).parent
CATALOGS = HERE.parents[1] / "catalogs"
PAIRS = pd.read_csv(CATALOGS / "pairs.csv.gz", keep_default_na=False, na_values=[""])
MEASURED = PAIRS[PAIRS["source"].str.contains("Gaia DR3 positions")]

# Separation ("), position angle (deg) of slow pairs: values of observing handbooks, about
# 2000-2020, from memory. Columns: HIP of A, V1, V2, separation, position angle.
HANDBOOK = {
    "Albireo": (95947, 3.1, 5.1, 34.6, 54),
    "gamma Ari": (8832, 4.5, 4.6, 7.4, 1),
    "eta Cas": (3821, 3.5, 7.4, 13.3, 324),
    "psi1 Psc": (5131, 5.3, 5.5, 30.0, 159),
    "65 Psc": (3885, 6.3, 6.3, 4.3, 115),
    "gamma And": (9640, 2.3, 5.0, 9.6, 63),
    "lambda Ari": (9153, 4.8, 7.3, 37.0, 47),
    "iota Tri": (10280, 5.3, 6.7, 3.9, 69),
    "eta Per": (13268, 3.8, 8.5, 28.5, 301),
    "lambda Ori": (26207, 3.5, 5.5, 4.3, 44),
    "Rigel": (24436, 0.2, 6.8, 9.5, 204),
    "theta Aur": (28380, 2.6, 7.2, 4.1, 304),
    "iota Cnc": (43103, 4.1, 6.6, 30.7, 308),
    "38 Lyn": (45688, 3.9, 6.1, 2.6, 224),
    "54 Leo": (53417, 4.5, 6.3, 6.6, 112),
    "delta Crv": (60965, 3.0, 8.5, 24.6, 216),
    "24 Com": (61418, 5.1, 6.3, 20.3, 270),
    "Cor Caroli": (63125, 2.9, 5.5, 19.3, 229),
    "Mizar": (65378, 2.2, 3.9, 14.4, 153),
    "kappa Boo": (69483, 4.5, 6.6, 13.5, 236),
    "pi Boo": (71762, 4.9, 5.8, 5.5, 111),
    "Izar": (72105, 2.6, 4.8, 2.9, 344),
    "delta Ser": (76276, 4.2, 5.2, 4.0, 172),
    "zeta CrB": (76669, 5.0, 5.9, 6.3, 306),
    "beta Sco": (78820, 2.6, 4.5, 13.6, 20),
    "alpha Her": (84345, 3.1, 5.4, 4.7, 103),
    "95 Her": (88267, 4.9, 5.2, 6.3, 257),
    "theta Ser": (92946, 4.6, 4.9, 22.4, 104),
    "eps1 Lyr": (91919, 5.0, 6.1, 2.3, 346),
    "eps2 Lyr": (91926, 5.3, 5.4, 2.4, 76),
    "zeta Lyr": (91971, 4.3, 5.6, 43.8, 150),
    "61 Cyg": (104214, 5.2, 6.1, 31.6, 152),
    "gamma Del": (102532, 4.4, 5.0, 9.0, 265),
    "beta Cep": (106032, 3.2, 7.9, 13.5, 250),
    "delta Cep": (110991, 4.2, 6.1, 41.0, 191),
    "Polaris": (11767, 2.0, 9.0, 18.4, 230),
    "Castor": (36850, 1.9, 3.0, 5.1, 53),
    "Porrima": (61941, 3.5, 3.5, 2.4, 4),
    "Algieba": (50583, 2.4, 3.6, 4.7, 126),
    "Antares": (80763, 1.0, 5.4, 2.6, 277),
}
HANDBOOK_SHARE, HANDBOOK_ARCSEC = 0.02, 0.15  # last digit of a handbook, and motion within 20 years
HANDBOOK_DEG = 3.0
# Measured pairs against orbit ephemerides: two thirds have both stars in a list to G = 10 whose
# faint limit and closest separation cut the rest (bright, close companions are lacking).
LEAST_RECALL = 0.65
SEPARATION_SD_ARCSEC = 0.06  # error of the orbits themselves, grades 1-5
ANGLE_SD_DEG = 2.5
V2_SD_MAG = 0.2  # companions with mixed light


@pytest.mark.parametrize("name", HANDBOOK)
def test_pairs_agree_with_handbook_measures(name: str) -> None:
    hip, v1, v2, separation, angle = HANDBOOK[name]
    rows = PAIRS[PAIRS["hip"] == hip]
    allowed = HANDBOOK_ARCSEC + HANDBOOK_SHARE * separation
    rows = rows[np.abs(rows["separation_arcsec"] - separation) < allowed]
    assert len(rows) == 1
    row = rows.iloc[0]
    turn = (row["position_angle_deg"] - angle + 180.0) % 360.0 - 180.0
    assert abs(turn) < HANDBOOK_DEG
    assert row["v1"] == pytest.approx(v1, abs=0.3)  # alpha Her varies 2.7-4.0
    assert row["v2"] == pytest.approx(v2, abs=0.5)  # estimates by eye in the glare of a bright A


def _against_orbits(pairs: pd.DataFrame) -> checking.Check:
    table = pd.read_csv(HERE / "orbit_catalog_2016.csv", comment="#")
    return checking.check(
        checking.normalised(table, {"wds": "identifier"}), pairs, checking.Limits()
    )


def test_measured_pairs_agree_with_sixth_orbit_catalog_ephemerides() -> None:
    result = _against_orbits(MEASURED)
    total = result.found + len(result.missed)
    assert result.found / total > LEAST_RECALL
    assert np.std(result.separation_arcsec) < SEPARATION_SD_ARCSEC
    assert abs(np.mean(result.separation_arcsec)) < SEPARATION_SD_ARCSEC / 2.0
    assert np.std(result.position_angle_deg) < ANGLE_SD_DEG
    assert np.std(result.v2) < V2_SD_MAG
    assert result.exchanged == 0


def test_hand_table_fills_the_holes_of_the_measured_pairs() -> None:
    assert not _against_orbits(PAIRS).missed


@pytest.mark.parametrize(
    "hip", [88601, 171, 2941, 61941, 28380, 84345, 36850, 104214, 71683, 32349]
)
def test_binaries_attached_by_brightness_have_one_close_pair_only(hip: int) -> None:
    # 70 Oph, 85 Peg and others: a Hipparcos entry beside its own Gaia star would be a false pair.
    both = (PAIRS["hip"] == hip) | (PAIRS["hip_secondary"] == hip)
    close = PAIRS[both & (PAIRS["separation_arcsec"] < 10.0)]
    assert len(close) <= 1


def test_pair_identifiers_are_unique_and_systems_hold_their_pairs() -> None:
    assert PAIRS["pair_id"].is_unique
    assert PAIRS["system_id"].notna().all()
    lyra = PAIRS[PAIRS["hip"].isin([91919, 91926])]
    assert lyra["system_id"].nunique() == 1  # the Double Double is one system


def test_columns_are_within_their_ranges() -> None:
    assert PAIRS["separation_arcsec"].gt(0.0).all()
    assert PAIRS["position_angle_deg"].dropna().between(0.0, 360.0).all()
    assert PAIRS["chance"].dropna().between(0.0, 1.0).all()
    assert set(PAIRS["physical"].dropna()) <= {"yes", "no"}
    decided = PAIRS["physical"].notna()
    assert PAIRS.loc[decided, "chance"].isna().all()
    assert PAIRS["constellation"].str.fullmatch("[A-Z][A-Za-z]{2}").all()


def test_motion_of_alpha_capricorni_is_the_difference_of_two_proper_motions() -> None:
    # Hipparcos (ESA 1997), from memory: alp2 Cap 62.7 and 2.7, alp1 Cap 22.2 and 1.9 mas a year
    row = PAIRS[(PAIRS["hip"] == 100064) & (PAIRS["hip_secondary"] == 100027)].iloc[0]
    assert row["motion_ra_mas_yr"] == pytest.approx(-40.5, abs=1.5)
    assert row["motion_dec_mas_yr"] == pytest.approx(-0.8, abs=1.5)


def test_a_bound_pair_has_no_motion_faster_than_escape() -> None:
    # 42.1 km/s at 1 au from the Sun; 4.74 km/s are 1 au a year
    bound = PAIRS[(PAIRS["physical"] == "yes") & PAIRS["motion_ra_mas_yr"].notna()]
    assert len(bound) > 100
    way = np.hypot(bound["motion_ra_mas_yr"], bound["motion_dec_mas_yr"])
    assert way.median() < 3.0
    assert way.max() < 60.0


def test_every_pair_has_an_identifier_for_a_log() -> None:
    assert PAIRS["place_id"].str.fullmatch(r"\d{5}[+-]\d{4}").all()
    assert not PAIRS.duplicated(["place_id", "components"]).any()
    known = PAIRS["wds"].notna()
    assert (PAIRS.loc[known, "place_id"] == PAIRS.loc[known, "wds"]).all()


def test_hopeless_chance_pairs_stay_only_when_typed() -> None:
    own = PAIRS["source"].str.startswith(("Gaia", "Hipparcos"))
    assert PAIRS.loc[own, "chance"].dropna().le(0.6).all()


def test_61_cygni_is_bound_and_mixed_colours_are_blank() -> None:
    cygni = PAIRS[PAIRS["hip"] == 104214].iloc[0]
    assert cygni["physical"] == "yes"  # orbit of about 700 years, Sixth Orbit Catalog
    orionis = PAIRS[(PAIRS["hip"] == 27386) & (PAIRS["components"] == "AB")].iloc[0]
    assert np.isnan(orionis["colour1_bv"])  # 52 Ori: Hipparcos saw the light of both


def test_trapezium_has_the_letters_of_observers() -> None:
    # E stands 4.5" from A at about 351 deg, F 4.5" from C at about 120 deg: observing handbooks,
    # from memory.
    trapezium = PAIRS[PAIRS["system_id"] == "hip26221"].set_index("components")
    for pair, angle in (("AE", 351.0), ("CF", 120.0)):
        row = trapezium.loc[pair]
        assert row["separation_arcsec"] == pytest.approx(4.5, abs=HANDBOOK_ARCSEC)
        assert row["position_angle_deg"] == pytest.approx(angle, abs=HANDBOOK_DEG)
    assert sorted(trapezium.index) == ["AE", "CA", "CB", "CD", "CF"]


# Bright pairs that Gaia lacks or that are wider than 60": separations of observing handbooks, from
# memory, and how far the pair may have moved (close ones) or the handbook rounds.
BRIGHT = {
    "BU 151": (101769, 0.5, 0.2),  # beta Del, 0.25" to 0.65"
    "HJ 4539": (61932, 0.9, 0.3),  # gamma Cen, opening
    "SLR 1": (5165, 0.7, 0.3),  # beta Phe
    "HJ 4757": (75323, 0.8, 0.2),  # gamma Cir
    "HJ 4753": (74911, 1.0, 0.2),  # mu Lup
    "HJ 4478": (57936, 0.6, 0.3),  # beta Hya
    "JC 20": (114131, 1.5, 0.3),  # theta Gru
    "DUN 95": (52154, 52.0, 0.5),  # x Vel
    "DUN 133": (65271, 60.0, 1.0),  # J Cen
}


@pytest.mark.parametrize("discoverer", BRIGHT)
def test_bright_pairs_are_not_missing(discoverer: str) -> None:
    hip, separation, allowed = BRIGHT[discoverer]
    rows = PAIRS[(PAIRS["hip"] == hip) & (PAIRS["components"] == "AB")]
    assert rows["discoverer"].tolist() == [discoverer]
    assert rows["separation_arcsec"].iloc[0] == pytest.approx(separation, abs=allowed)


def test_names_are_those_of_the_trade() -> None:
    izar = PAIRS[PAIRS["hip"] == 72105].iloc[0]
    assert izar["name"] == "eps Boo"
    assert izar["discoverer"] == "STF 1877"
    assert izar["constellation"] == "Boo"


# Colours of show pairs as observers give them (Webb, Smyth, modern handbooks; from memory), put
# into the words of this program: HIP, components, primary, companion.
SEEN = [
    (72105, "AB", "orange", "white"),  # Izar
    (9640, "A,BC", "orange", "blue-white"),  # Almach
    (84345, "AB", "orange", "yellow"),  # Rasalgethi
    (95947, "AB", "orange", "blue-white"),  # Albireo
    (50583, "AB", "orange", "orange"),  # Algieba
    (36850, "AB", "white", "white"),  # Castor
    (24436, "A,BC", "blue-white", "blue-white"),  # Rigel
    (80763, "AB", "red", "blue-white"),  # Antares
    (3821, "AB", "yellow", "orange"),  # eta Cas; the companion also "red", "garnet"
    (13268, "AB", "orange", "white"),  # eta Per
    (35210, "AB", "orange", "yellow-white"),  # 145 CMa
    (13914, "AB", "white", "white"),  # eps Ari
    (75312, "AB", "yellow", "yellow"),  # eta CrB
]


@pytest.mark.parametrize(("hip", "components", "primary", "companion"), SEEN)
def test_show_pairs_have_the_colours_observers_see(
    hip: int, components: str, primary: str, companion: str
) -> None:
    row = PAIRS[(PAIRS["hip"] == hip) & (PAIRS["components"] == components)].iloc[0]
    assert colour_word(float(row["colour1_bv"])) == primary
    assert colour_word(float(row["colour2_bv"])) == companion


def test_most_bright_pairs_have_both_colours() -> None:
    bright = PAIRS[(PAIRS["v1"] < 5.0) & (PAIRS["v2"] < 8.0)]
    known = bright["colour1_bv"].notna() & bright["colour2_bv"].notna()
    assert known.mean() > 0.8
