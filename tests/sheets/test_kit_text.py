"""A kit read back in words."""

from __future__ import annotations

import pytest

from planner.kit.kit import Kit
from planner.kit.reading import example_text, parse_kit
from planner.sheets.kit_text import kit_words, remark_words
from planner.sheets.page_text import PAGE_COLUMNS

LONGEST_NAME = "W" * 40


def kit_with(*pairs: tuple[str, str]) -> Kit:
    """The kit of a changed example."""
    text = example_text()
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return parse_kit(text, "my.toml")


def test_kit_words_tell_all_that_the_example_holds() -> None:
    """Every block is there, with the numbers of its file; ratios by hand."""
    words = kit_words(kit_with())
    for piece in (
        "Kit: my.toml",
        "Lindenhof: 48.100 N 8.200 E, 870 m, Europe/Berlin, horizon of 6 points, 6 to 20 deg",
        "zenith sky 20.90",
        "average air",
        "Elsa: newtonian, hand-moved alt-azimuth",
        "aperture 160 mm, masked to 154 mm, focal length 1040 mm (f/6.8 as used)",  # 1040/154
        "secondary 35 mm (23% of the diameter), 205 mm before the focus",  # 35/154
        "wave error 0.055 RMS, transmission 79%",
        "8x50 finder, 8x, field 6 deg, image inverted",
        "O III, passes O III, 12 nm wide, transmission 90%",
        "about 52 years, dark pupil 6.1 mm",  # Schaefer 1990
        "least exit pupil 0.5 mm",
    ):
        assert piece in words


@pytest.mark.parametrize(
    "row",
    [  # power 1040/f, exit pupil 154/power, field 57.3 stop/1040 or apparent field/power
        ["32 mm", "32x", "4.74", "1.49"],
        ["10 mm", "104x", "1.48", "about", "0.58"],
        ["5 mm + 1.5x Barlow", "312x", "0.49", "about", "0.19", "below your least"],
    ],
)
def test_kit_words_have_a_row_for_each_view(row: list[str]) -> None:
    """Fields that rest on the maker's apparent field are said to be rough."""
    wanted = " ".join(row).split()
    assert wanted in [line.split() for line in kit_words(kit_with()).splitlines()]


def test_kit_words_mark_an_exit_pupil_wider_than_the_eye() -> None:
    """At 32 mm the example gives 4.74 mm."""
    words = kit_words(kit_with(('# dark_pupil = "5.5 mm"', 'dark_pupil = "4.5 mm"')))
    assert "wider than your pupil" in words


def test_kit_words_tell_of_a_turned_edge() -> None:
    """Where there is one."""
    words = kit_words(kit_with(("# turned_edge_w", "turned_edge_w")))
    assert "RMS, turned edge 4 mm wide, 0.5 waves at the rim, transmission 79%" in words
    assert "turned" not in kit_words(kit_with())


def test_kit_words_leave_out_what_does_not_fit() -> None:
    """A 2 in barrel in a 1.25 in focuser."""
    words = kit_words(kit_with(('# barrel = "2 in"', 'barrel = "2 in"')))
    assert "\n32 mm" not in words


def test_kit_words_name_the_hemispheres() -> None:
    """South and west without signs."""
    words = kit_words(kit_with(("latitude = 48.10", "latitude = -33.5"), ("= 8.20", "= -70.25")))
    assert "33.500 S 70.250 W" in words


def test_kit_words_say_where_the_eye_factor_comes_from() -> None:
    """From a limit, the eye is measured."""
    assert "from experience" in kit_words(kit_with())
    measured = kit_with(("# naked_eye_limit", "naked_eye_limit"))
    assert "from your naked-eye limit" in kit_words(measured)


@pytest.mark.parametrize(
    "pairs",
    [
        [],
        [(f'name = "{name}"', f'name = "{LONGEST_NAME}"') for name in ("Lindenhof", "Elsa", "O III",
          "32 mm", "1.5x Barlow", "8x50 finder")]
        + [("Europe/Berlin", "America/Argentina/ComodRivadavia")],
        [('name = "ring sight"', 'name = "' + "word " * 7 + '"'), ("= 20.9 ", "= 20.123456789 ")],
    ],
)  # fmt: skip
def test_kit_words_stay_within_the_page(pairs: list[tuple[str, str]]) -> None:
    """100 columns, even with the longest names a kit may hold."""
    lines = kit_words(kit_with(*pairs)).splitlines()
    assert max(map(len, lines)) <= PAGE_COLUMNS == 100


def test_remark_words_wrap_and_hang() -> None:
    """One dash each; nothing to say is said."""
    assert remark_words(()) == "Nothing odd found."
    lines = remark_words(["word " * 40, "short"]).splitlines()
    assert lines[0] == "Worth a look:"
    assert max(map(len, lines)) <= PAGE_COLUMNS
    assert [line[:4] for line in lines[1:]].count("  - ") == 2
    assert lines[2].startswith("    word")
