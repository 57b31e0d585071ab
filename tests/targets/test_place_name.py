"""Names made of a constellation and a place."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.targets.name_key import normal_key
from planner.targets.place_name import place_key, place_name


@pytest.mark.parametrize(
    ("constellation", "ra_deg", "dec_deg", "name"),
    [  # by hand: 15 degrees are an hour; cut as in the identifiers of the Washington catalog
        ("Cas", 18.0, 58.9, "Cas 0112+58"),
        ("Psc", 0.0, -0.4, "Psc 0000-00"),
        ("Oct", 359.999, -89.5, "Oct 2359-89"),
        ("", 18.0, 58.9, ""),
    ],
)
def test_place_name_is_constellation_minutes_and_degrees(
    constellation: str, ra_deg: float, dec_deg: float, name: str
) -> None:
    assert place_name(constellation, ra_deg, dec_deg) == name


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.0, 360.0, exclude_max=True),
    st.floats(-90.0, 90.0),
    st.sampled_from(["And", "CMi", "UMa", "Vul"]),
)
def test_place_key_is_the_normal_key(ra_deg: float, dec_deg: float, constellation: str) -> None:
    name = place_name(constellation, ra_deg, dec_deg)
    assert place_key(name) == normal_key(name)
