"""Sites of a kit."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kit_samples import changed, kit_with, refusal

from planner.ephemeris.site import ceiling_altitude_deg, horizon_altitude_deg
from planner.errors import UsageError
from planner.kit.kit import KitSite
from planner.kit.sites import tonights_extinction
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass

SKY = "sky = 20.9 "
HORIZON = "horizon = [[0, 8], [60, 12], [100, 20], [150, 6], [250, 6], [300, 15]]"
ELEVATION = 'elevation = "870 m"'


def place_with(*pairs: tuple[str, str]) -> KitSite:
    """The site of a changed example."""
    return kit_with(*pairs).site()


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [
        (-90, 0, "Antarctica/McMurdo"),  # the South Pole keeps New Zealand's time
        (90.0, 180.0, "UTC"),
        (-13.83, -171.75, "Pacific/Apia"),  # west of Greenwich, a day ahead
        (-16.5, 180, "Pacific/Fiji"),
        (65.8, -180, "Asia/Anadyr"),
        (0, -0.0, "Etc/GMT"),
    ],
)
def test_read_site_takes_poles_and_date_line(latitude: float, longitude: float, zone: str) -> None:
    """Every point of the Earth is a site."""
    site = place_with(
        ("latitude = 48.10", f"latitude = {latitude}"),
        ("longitude = 8.20", f"longitude = {longitude}"),
        ("Europe/Berlin", zone),
    ).site
    assert (site.latitude_deg, site.longitude_deg, site.timezone) == (latitude, longitude, zone)


@pytest.mark.parametrize(
    ("pair", "said"),
    [
        (("latitude = 48.10", "latitude = 90.1"), "must lie from -90 to 90"),
        (("latitude = 48.10", 'latitude = "48.1 N"'), "without quotes"),
        (("longitude = 8.20", "longitude = 188.2"), "must lie from -180 to 180"),
        ((ELEVATION, "elevation = 870"), 'with its unit in quotes, like "870 m" or "2850 ft"'),
        ((ELEVATION, 'elevation = "870 km"'), "must lie from -430 m to 6000 m"),
        (("Europe/Berlin", "berlin"), "did you mean 'Europe/Berlin'?"),
        (("Europe/Berlin", "Europe"), "write an IANA zone"),
        (("Europe/Berlin", "../Europe/Berlin"), "write an IANA zone"),
        (("Europe/Berlin", "/etc/localtime"), "write an IANA zone"),
        (("Europe/Berlin", "zone.tab"), "write an IANA zone"),
        (("Europe/Berlin", "Zürich"), "write an IANA zone"),
        ((SKY, ""), "add the zenith's brightness"),
        ((SKY, "sky = 25 #"), "must lie from 15 to 22.2"),
        ((SKY, "bortle = 4.5 #"), "whole number from 1 to 9"),
        ((SKY, "bortle = 0 #"), "must lie from 1 to 9"),
        ((SKY, "naked_eye_limit = 7.5 #"), "an average eye reaches 6.7 at most"),
        ((SKY, "naked_eye_limit = 7.5 #"), "your limit in the [observer] block"),
        ((SKY, "naked_eye_limit = 1.5 #"), "must lie from 2 to 6.7"),
        ((SKY, "sky = 20.9\nbortle = 4 #"), "give only one of sky, naked_eye_limit, bortle"),
        (('haze = "average"', 'haze = "misty"'), 'choose one of "clear", "average", "hazy"'),
        (('haze = "average"', 'haze = "hazy"\nextinction = 0.3'), "only one of haze, extinction"),
        (("# pressure_hpa = 915", "pressure_hpa = 91500"), "must lie from 300 to 1100"),
    ],
)
def test_read_site_rejects_what_no_site_has(pair: tuple[str, str], said: str) -> None:
    """Each with its remedy."""
    message = refusal(changed(pair))
    assert '[[site]] 1 "Lindenhof": ' in message
    assert said in message


@pytest.mark.parametrize(
    "points",
    ["3", '"flat"', "[3]", "[[]]", "[[0]]", "[[0, 8, 3]]", "[[0, nan]]", "[[0, inf]]", "[[-1, 5]]",
     "[[361, 5]]", "[[0, 81]]", "[[0, -1]]", "[[0, true]]", '[["N", 5]]', "[[0, [5]]]",
     "[[0, 5], {a = 1}]", f"[[0, 1{'0' * 400}]]", "{a = 1}"],
)  # fmt: skip
def test_read_site_rejects_points_that_are_no_horizon(points: str) -> None:
    """The form is said."""
    message = refusal(changed((HORIZON, f"horizon = {points}")))
    assert "write points as [[azimuth, altitude], ...]" in message


def test_read_site_names_the_bad_point() -> None:
    """Not only the long list."""
    assert ": [60, 120] is no point; " in refusal(changed(("[60, 12]", "[60, 120]")))


@settings(deadline=None, max_examples=60)
@given(
    st.lists(
        st.tuples(st.floats(0, 359.99), st.floats(0, 80)), min_size=1, unique_by=lambda p: p[0]
    )
)
def test_read_site_horizon_passes_through_its_points(points: list[tuple[float, float]]) -> None:
    """In any order, as the owner walked around."""
    text = ", ".join(f"[{a!r}, {h!r}]" for a, h in points)
    site = place_with((HORIZON, f"horizon = [{text}]")).site
    heights = horizon_altitude_deg(site, [a for a, _ in points])
    assert heights == pytest.approx([h for _, h in points], abs=1e-6)  # interpolation's rounding


def test_read_site_without_horizon_is_free() -> None:
    """An empty list and no list alike."""
    assert place_with((HORIZON, "")).site.horizon == ()
    assert place_with((HORIZON, "horizon = []")).site.horizon == ()


@pytest.mark.parametrize(
    ("line", "zenith_sky_mag", "tolerance"),
    [
        ("sky = 19.37", 19.37, 1e-12),  # as given
        ("naked_eye_limit = 6.0", 20.80, 0.005),  # Schaefer 1990 inverted by hand, half a digit
        ("bortle = 4", 20.8, 0.5),  # pages say 20.3-21.3 or 20.4-21.7; common practice
        ("bortle = 1", 21.85, 0.2),  # 21.7-22.0; common practice, no source
    ],
)
def test_read_site_knows_three_ways_to_give_the_sky(
    line: str, zenith_sky_mag: float, tolerance: float
) -> None:
    """And remembers which."""
    place = place_with((SKY, line + " #"))
    assert place.zenith_sky_mag == pytest.approx(zenith_sky_mag, abs=tolerance)
    assert any(char.isdigit() for char in place.sky_words)


@pytest.mark.parametrize(("metres", "extinction"), [(0, 0.28), (1000, 0.21), (2000, 0.16)])
def test_read_site_takes_extinction_from_elevation(metres: int, extinction: float) -> None:
    """Average air. Source: Green 1992, ICQ 14, 55, table of mean extinction (from memory)."""
    place = place_with((ELEVATION, f'elevation = "{metres} m"'))
    assert place.extinction_mag == pytest.approx(extinction, abs=0.01)  # of the table's last digit
    assert place.extinction_words == "average air"


def test_read_site_takes_extinction_as_given() -> None:
    """It wins over the model."""
    place = place_with(('haze = "average"', "extinction = 0.33"))
    assert (place.extinction_mag, place.extinction_words) == (0.33, "given")


@pytest.mark.parametrize(("metres", "hpa"), [(0, 1013.25), (1000, 898.75), (2000, 794.95)])
def test_read_site_takes_pressure_from_elevation(metres: int, hpa: float) -> None:
    """Source: ISO 2533:1975 standard atmosphere, table (from memory)."""
    site = place_with((ELEVATION, f'elevation = "{metres} m"')).site
    assert site.pressure_hpa == pytest.approx(hpa, abs=0.1)  # hPa; five digits of the constants


def test_read_site_may_lie_below_the_sea() -> None:
    """As a polder or the Dead Sea's shore (-430 m)."""
    assert place_with((ELEVATION, 'elevation = "-430 m"')).site.elevation_m == -430.0
    assert place_with((ELEVATION, "")).site.elevation_m == 0.0


def test_read_site_takes_feet() -> None:
    """2850 ft = 868.68 m, by definition of the foot."""
    site = place_with((ELEVATION, 'elevation = "2850 ft"')).site
    assert site.elevation_m == pytest.approx(868.68, abs=1e-9)


@pytest.mark.parametrize("word", ["hazy", " HAZY ", "Hazy"])
def test_tonights_air_in_a_word_is_that_of_the_kit(word: str) -> None:
    """The same as ``haze`` in a site block of the same height."""
    expected = float(extinction_mag_per_airmass(870.0, Aerosol.HAZY))
    assert tonights_extinction(word, 870.0) == (expected, f"{word.casefold().strip()} air")


@pytest.mark.parametrize("number", ["0.08", "1.5", "0.21"])
def test_tonights_air_in_numbers_is_taken_as_it_is(number: str) -> None:
    """Both ends of the range belong to it."""
    assert tonights_extinction(number, 870.0) == (float(number), "as asked for")


@pytest.mark.parametrize("air", ["", "fog", "nan", "inf", "-0.2", "0.079", "1.51"])
def test_tonights_air_rejects_what_no_air_is(air: str) -> None:
    """With the words and the range."""
    with pytest.raises(UsageError, match=r"clear, average, hazy, or .* 0\.08 to 1\.5"):
        tonights_extinction(air, 870.0)


def test_ceiling_is_read_and_joined_by_straight_lines() -> None:
    """Half-way between two points, and across north; an open sky is 90 degrees."""
    site = kit_with(("# ceiling = [[90, 60], [270, 60]]", "ceiling = [[90, 60], [270, 40]]"))
    assert site.site().site.ceiling == ((90.0, 60.0), (270.0, 40.0))
    altitudes = ceiling_altitude_deg(site.site().site, [90.0, 180.0, 0.0])
    assert altitudes.tolist() == [60.0, 50.0, 50.0]
    assert ceiling_altitude_deg(kit_with().site().site, [0.0, 200.0]).tolist() == [90.0, 90.0]


def test_ceiling_refuses_a_point_beyond_the_zenith() -> None:
    message = refusal(changed(("# ceiling = [[90, 60]", "ceiling = [[90, 91]")))
    assert "[90, 91] is no point; write points as" in message
    assert "altitude 0 to 90" in message
