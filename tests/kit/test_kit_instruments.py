"""Telescopes, eyepieces, finders and filters of a kit."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kit_samples import changed, kit_with, refusal

from planner.optics.telescope import Design, Mount

SECONDARY = 'secondary = "35 mm"'
CLEAR = 'clear_aperture = "154 mm"'
FOCAL = 'focal_length = "1040 mm"'
ROUNDING = 1e-9  # relative, of decimals written and read back

SECOND_TELESCOPE = """
[[telescope]]
name = "Big"
design = "newtonian"
aperture = "300 mm"
focal_ratio = 5
secondary = "70 mm"
focuser_barrel = "2 in"

[[eyepiece]]
name = "40 mm wide"
focal_length = "40 mm"
apparent_field = 65
barrel = "50.8 mm"

[[eyepiece]]
name = "32 mm\""""


def test_six_inch_f8_is_1219_mm_long() -> None:
    """6 in x 25.4 x 8 = 1219.2 mm, by definition of the focal ratio."""
    telescope = kit_with(
        ('aperture = "160 mm"', 'aperture = "6 in"'), (CLEAR, ""), (FOCAL, "focal_ratio = 8")
    ).telescope()
    assert telescope.focal_length_mm == pytest.approx(1219.2, rel=ROUNDING)
    assert telescope.clear_aperture_mm == telescope.aperture_mm


@settings(deadline=None, max_examples=60)
@given(ratio=st.floats(2.01, 29.9), aperture=st.floats(60.0, 900.0))
def test_focal_ratio_and_focal_length_say_the_same(ratio: float, aperture: float) -> None:
    """The ratio is that of the full aperture, whatever the mask leaves."""
    size = ('aperture = "160 mm"', f'aperture = "{aperture:.6f} mm"')
    mask = (CLEAR, 'clear_aperture = "59 mm"')
    path = ('diagonal_to_focus = "205 mm"', "")
    by_ratio = kit_with(size, mask, path, (FOCAL, f"focal_ratio = {ratio!r}")).telescope()
    length = round(aperture, 6) * ratio
    if length < 100.0:
        return
    by_length = kit_with(size, mask, path, (FOCAL, f'focal_length = "{length:.9f} mm"')).telescope()
    assert by_ratio.focal_length_mm == pytest.approx(by_length.focal_length_mm, rel=ROUNDING)


@pytest.mark.parametrize(("ratio", "secondary"), [(0.25, 40.0), (0.0, 0.0), (0.3, 48.0)])
def test_obstruction_is_a_ratio_of_the_full_aperture(ratio: float, secondary: float) -> None:
    """Of 160 mm: makers and owners quote the mirror, not the mask."""
    telescope = kit_with((SECONDARY, f"obstruction = {ratio}")).telescope()
    assert telescope.obstruction_mm == pytest.approx(secondary, rel=ROUNDING)
    assert telescope.obstruction_ratio == pytest.approx(secondary / 154.0, rel=ROUNDING)


@pytest.mark.parametrize("zero", ["0", "0.0", '"0 mm"'])
def test_secondary_may_be_zero(zero: str) -> None:
    """As a plain number too, since the example says so."""
    assert kit_with((SECONDARY, f"secondary = {zero}")).telescope().obstruction_mm == 0.0


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([(SECONDARY, "secondary = false")], "secondary = false: write a length"),
        ([(SECONDARY, "secondary = 0.22")], "a ratio is given as obstruction"),
        ([(SECONDARY, "obstruction = false")], "obstruction = false: write a plain number"),
        ([(SECONDARY, "obstruction = 22")], "must lie from 0 to 0.6"),
        ([(SECONDARY, 'obstruction = "22 %"')], "without quotes"),
        ([(SECONDARY, SECONDARY + "\nobstruction = 0.2")], "give only one of secondary, obstr"),
        ([(SECONDARY, "obstruction = 0.5"), (CLEAR, 'clear_aperture = "100 mm"')], "hides 80%"),
        ([(CLEAR, 'clear_aperture = "30 mm"')], "secondary = \"35 mm\": hides 117%"),
        ([(CLEAR, 'clear_aperture = "161 mm"')], "must not be larger than the aperture of 160"),
        ([(FOCAL, 'focal_length = "10.4 m"')], "makes f/65.0"),
        ([(FOCAL, 'focal_length = "104 mm"')], "makes f/0.7"),
        ([(FOCAL, FOCAL + "\nfocal_ratio = 6.5")], "focal_length is there too"),
        ([(FOCAL, "")], 'like "1200 mm", or add focal_ratio = 8'),
        ([('"160 mm"', '"160 m"')], "must lie from 30 mm to 2000 mm"),
        ([('"160 mm"', '"160"')], "write a number and one of mm, cm, m, km, in, ft"),
        ([('"205 mm"', '"1040 mm"')], "must be less than the focal length of 1040 mm"),
        ([('"31.75 mm"', '"24.5 mm"')], "no eyepiece fits"),
        ([('"newtonian"', '"newton"')], "did you mean 'newtonian'?"),
        ([('"hand-moved"', '"dobson"')], 'choose one of "hand-moved", "driven"'),
        ([('passes = "O III"', 'passes = "OIII"')], "did you mean 'O III'?"),
        ([('"inverted"', '"invert"')], "did you mean 'inverted'?"),
        ([("transmission = 0.79", "transmission = 79")], "must lie from 0.1 to 1"),
        ([("wavefront_error = 0.055", "wavefront_error = 4")], "must lie from 0 to 0.25"),
    ],
)  # fmt: skip
def test_parse_kit_rejects_telescopes_that_cannot_be(
    pairs: list[tuple[str, str]], said: str
) -> None:
    """Each with what is wrong about it."""
    assert said in refusal(changed(*pairs))


def test_quarter_wave_of_spherical_error_is_0_0745_rms() -> None:
    """Peak to valley over RMS is sqrt(180)/4 = 3.354 for it; Mahajan 1982 (from memory)."""
    telescope = kit_with(("wavefront_error = 0.055", "wavefront_peak_to_valley = 0.25")).telescope()
    half_digit = 0.00005
    assert telescope.glass.rms_waves == pytest.approx(0.0745, abs=half_digit)


def test_turned_edge_needs_width_and_depth() -> None:
    """Of the glass and of the wave; one without the other says nothing."""
    width, waves = ("# turned_edge_width", "turned_edge_width"), ("# turned_edge_waves",) * 2
    message = refusal(changed(width, waves))
    assert 'turned_edge_width = "4 mm": a turned edge needs its width and its depth' in message
    telescope = kit_with(width, ("# turned_edge_waves", "turned_edge_waves")).telescope()
    assert (telescope.glass.edge_width_mm, telescope.glass.edge_waves) == (4.0, 0.5)
    assert kit_with().telescope().glass.edge_waves == 0.0


def test_refractor_needs_no_secondary() -> None:
    """And passes more light unless told otherwise."""
    telescope = kit_with(
        ('"newtonian"', '"Refractor"'), (SECONDARY, ""), ("transmission = 0.79", "")
    ).telescope()
    assert telescope.design is Design.REFRACTOR
    assert telescope.obstruction_mm == 0.0
    assert telescope.transmission > 0.9  # coated doublets pass 90-95 %; common practice, no source


def test_mount_is_hand_moved_or_driven() -> None:
    """Hand-moved if nothing is said."""
    assert kit_with(('mount = "hand-moved"', "")).telescope().mount is Mount.HAND_MOVED
    assert kit_with(('"hand-moved"', '"driven"')).telescope().mount is Mount.DRIVEN


def test_views_leave_out_what_does_not_fit_the_focuser() -> None:
    """Two telescopes share one set of eyepieces; the 2 in one fits only the larger focuser."""
    kit = kit_with(('\n[[eyepiece]]\nname = "32 mm"', SECOND_TELESCOPE))
    small, big = kit.telescopes
    assert not [v for v in kit.views(small) if v.eyepiece.name == "40 mm wide"]
    assert [v for v in kit.views(big) if v.eyepiece.name == "40 mm wide"]
    # six eyepieces alone, five of 1.25 in behind the Barlow, which cannot take the 2 in one
    assert len(kit.views(big)) == 11
    assert len(kit.views(small)) == 10


def test_barrel_said_as_32_mm_fits_a_focuser_of_an_inch_and_a_quarter() -> None:
    """Makers round; common practice, no source."""
    kit = kit_with(("apparent_field = 60", 'apparent_field = 60\nbarrel = "32 mm"'))
    assert len(kit.fitting(kit.telescope())) == 5


def test_messages_name_the_eyepiece_by_number_and_name() -> None:
    """Nobody counts blocks."""
    message = refusal(changed(('focal_length = "18 mm"', 'focal_length = "18"')))
    assert re.search(r'\[\[eyepiece\]\] 2 "18 mm": focal_length = "18": ', message)
