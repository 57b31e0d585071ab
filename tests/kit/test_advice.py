"""Remarks on kits that are odd but not wrong."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from kit_samples import kit_with

from planner.kit.advice import remarks
from planner.kit.mirror_file import example_test
from planner.kit.position_advice import position_remarks
from planner.kit.reading import example_text, load_kit

SECONDARY = 'secondary = "35 mm"'
CLEAR = 'clear_aperture = "154 mm"'
STOP = 'field_stop = "27 mm"'
FIRST = 'name = "32 mm"\nfocal_length = "32 mm"'

# one change to the example, and the one remark that it must raise; the numbers by hand
ODD = {
    "wasted aperture": (  # 50 mm at 1040/154 = f/6.75: 7.4 mm against 6.1 mm, 127 mm of 154
        [(FIRST, 'name = "32 mm"\nfocal_length = "50 mm"'), (STOP, "")],
        r"32 mm wastes aperture: its exit pupil of 7.4 mm exceeds your pupil of about 6.1 mm, "
        r"so only 127 mm of 154 mm are used",
    ),
    "stop too large": (
        [(STOP, 'field_stop = "31 mm"')],
        r"32 mm has a field stop of 31 mm, larger than a barrel of 31.75 mm passes",
    ),
    "field too wide for barrel": (  # 32 x 72 / 57.3 = 40 mm
        [(STOP, ""), ("apparent_field = 50", "apparent_field = 72")],
        r"apparent field of 72 deg needs a field stop of about 40 mm, more than a barrel of 31.75",
    ),
    "stop and field disagree": (  # 32 x 82 / 57.3 = 46 mm
        [("apparent_field = 50", "apparent_field = 82")],
        r"field stop 27 mm and apparent field 82 deg do not agree \(about 46 mm expected\)",
    ),
    "barrel mismatch": (
        [("apparent_field = 60", 'apparent_field = 60\nbarrel = "2 in"')],
        r"18 mm has a barrel of 50.8 mm and does not fit the focuser's 31.75 mm",
    ),
    "exit pupil too small": (  # 3 / 6.753 = 0.44
        [('name = "5 mm"\nfocal_length = "5 mm"', 'name = "5 mm"\nfocal_length = "3 mm"')],
        r"5 mm gives an exit pupil of 0.44 mm, below your least of 0.5 mm",
    ),
    "secondary smaller than the cone": (  # 154 x 205 / 1040 = 30.4 mm
        [(SECONDARY, 'secondary = "30 mm"')],
        r"secondary of 30 mm is smaller than the light cone there \(30.4 mm\)",
    ),
    "large obstruction": (  # 60 / 154 = 39 %
        [(SECONDARY, 'secondary = "60 mm"')],
        r"the secondary hides 39% of the diameter",
    ),
    "no obstruction": ([(SECONDARY, "secondary = 0")], r"right only for mirrors set off the axis"),
    "refractor with secondary": ([('"newtonian"', '"refractor"')], r"a refractor has no secondary"),
    "greedy mask": (  # 1 - (120/160)^2 = 44 %
        [(CLEAR, 'clear_aperture = "120 mm"')],
        r"the mask takes 44% of the aperture's light",
    ),
    "bad figure": ([("wavefront_error = 0.055", "wavefront_error = 0.1")], r"0.100 RMS is past"),
    "aperture in the wrong unit": (
        [('"160 mm"', '"1.6 m"'), (CLEAR, ""), ('"1040 mm"', '"10.4 m"')],
        r"an aperture of 1.60 m is rare; check its unit",
    ),
    "wrong sign": (
        [("longitude = 8.20", "longitude = -8.20")],
        r"is far from Europe/Berlin; is it latitude 48.1, longitude 8.2\?",
    ),
    "wrong zone": (  # Berlin's winter time is 1 h, longitude 98.2 is 6.5 h
        [("longitude = 8.20", "longitude = 98.20")],
        r"longitude 98.2 and time zone Europe/Berlin are 6 hours apart",
    ),
    "pressure at sea level": (
        [("# pressure_hpa = 915", "pressure_hpa = 1015")],
        r"1015 hPa does not go with 870 m, where about 913 is usual",
    ),
    "sky too dark": ([("sky = 20.9 ", "sky = 22.1 ")], r"22.10 is darker than almost any"),
    "finder too wide": (
        [("magnification = 8\n", "magnification = 30\n")],
        r"30x with a true field of 6 deg would look 180 deg wide",
    ),
    "low top power": (  # 1040 / 7 = 149x without the 5 mm and the Barlow
        [('least_exit_pupil = "0.5 mm"', 'least_exit_pupil = "1.04 mm"')],
        r"the highest power is 104x; close doubles want about 154x to 246x",
    ),
    "no usable view": (
        [('least_exit_pupil = "0.5 mm"', 'least_exit_pupil = "3 mm"'), (FIRST, 'name = "32 mm"\n'
          'focal_length = "12 mm"')],
        r"no eyepiece gives an exit pupil of your least, 3 mm, or more",
    ),
}  # fmt: skip


def test_remarks_find_nothing_odd_in_the_example() -> None:
    """It is meant as a model."""
    assert remarks(kit_with()) == ()


@pytest.mark.parametrize("name", ODD)
def test_remarks_name_the_thing_and_the_effect(name: str) -> None:
    """Common practice, no source; the numbers are worked out by hand."""
    pairs, said = ODD[name]
    found = remarks(kit_with(*pairs))
    assert [text for text in found if re.search(said, text)], found
    assert len(found) == len(set(found))
    assert all(re.match("(Lindenhof|Elsa|8x50 finder): ", text) for text in found)


@pytest.mark.parametrize(
    "pairs",
    [
        [("Europe/Berlin", "UTC")],
        [("longitude = 8.20", "longitude = 0.0"), ("latitude = 48.10", "latitude = -90.0"),
         ("Europe/Berlin", "Antarctica/McMurdo")],
        [("longitude = 8.20", "longitude = -157.4"), ("latitude = 48.10", "latitude = 1.9"),
         ("Europe/Berlin", "Pacific/Kiritimati")],  # 14 h ahead at 157 W: the same hour
        [("longitude = 8.20", "longitude = 75.99"), ("latitude = 48.10", "latitude = 39.47"),
         ("Europe/Berlin", "Asia/Shanghai")],  # Kashgar, 3 h off the Sun
        [("longitude = 8.20", "longitude = 180"), ("latitude = 48.10", "latitude = -16.8"),
         ("Europe/Berlin", "Pacific/Fiji")],
        [("# pressure_hpa = 915", "pressure_hpa = 890")],  # a deep low at 870 m
    ],
)  # fmt: skip
def test_remarks_are_silent_for_real_places(pairs: list[tuple[str, str]]) -> None:
    """Poles, the date line and wide zones are no mistakes."""
    assert remarks(kit_with(*pairs)) == ()


def test_remarks_name_a_gap_in_power() -> None:
    """32x to 104x without Barlow is more than three times."""
    pairs = [
        ('focal_length = "18 mm"', 'focal_length = "9.9 mm"'),
        ("factor = 1.5", "factor = 6"),
    ]
    found = remarks(kit_with(*pairs))
    assert any("a gap in power between 32 mm (32x) and 10 mm (104x)" in text for text in found)


def test_catadioptrics_have_no_simple_cone() -> None:
    """Their secondary magnifies, so the Newtonian's rule says nothing."""
    pairs = [('"newtonian"', '"catadioptric"'), (SECONDARY, 'secondary = "25 mm"')]
    assert remarks(kit_with(*pairs)) == ()


def test_eyepiece_that_fits_one_of_two_telescopes_is_remarked_on_there_only() -> None:
    """The remark names the telescope."""
    second = (
        '[[telescope]]\nname = "Big"\ndesign = "newtonian"\naperture = "160 mm"\n'
        'focal_ratio = 6.5\nsecondary = "40 mm"\nfocuser_barrel = "2 in"\n\n[[eyepiece]]'
    )
    found = remarks(
        kit_with(
            ("[[eyepiece]]", second),
            ("apparent_field = 60", 'apparent_field = 60\nbarrel = "2 in"'),
        )
    )
    misfits = [text for text in found if "does not fit" in text]
    assert len(misfits) == 1
    assert misfits[0].startswith("Elsa: 18 mm ")


@pytest.mark.parametrize(
    ("longitude", "zone", "words"),
    [
        ("8.2", "Europe/Berlin", None),
        ("-74.0", "Europe/Berlin", "6 hours apart"),
        ("-8.2", "Asia/Tokyo", "hours apart"),
        ("8.2", "Etc/UTC", None),
    ],
)
def test_a_place_far_from_its_time_is_remarked_on(
    longitude: str, zone: str, words: str | None
) -> None:
    """An hour of clock time is 15 degrees of longitude."""
    kit = kit_with(("longitude = 8.20", f"longitude = {longitude}"), ("Europe/Berlin", zone))
    found = list(position_remarks(kit.site().site))
    assert found == [] if words is None else words in " ".join(found)


def test_a_focuser_behind_the_axis_is_asked_for_where_it_usually_lies_there() -> None:
    (told,) = (
        remark
        for remark in remarks(kit_with(('design = "newtonian"', 'design = "refractor"')))
        if "pivot_to_focuser" in remark
    )
    assert 'write pivot_to_focuser = "-560 mm"' in told


def test_a_mirror_whose_test_fails_the_usual_limit_is_remarked_on(tmp_path: Path) -> None:
    """A sphere: half a wave and more left at its focus."""
    sphere = re.sub(r"readings = .*", "readings = [0, 0, 0, 0, 0]", example_test())
    (tmp_path / "sphere.toml").write_text(sphere, encoding="utf-8")
    text = example_text().replace("wavefront_error = 0.055 ", 'mirror_test = "sphere.toml" #')
    (tmp_path / "kit.toml").write_text(text, encoding="utf-8")
    told = remarks(load_kit(str(tmp_path / "kit.toml")))
    assert any("Strehl ratio of 0." in remark and "planner mirror" in remark for remark in told)
