"""Short texts: clock, compass, cuts and sizes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from sample_nights import plan

from planner.angles import compass_point
from planner.sheets.clock_words import clock, day_and_clock, span
from planner.sheets.double_words import limiting_seeing
from planner.sheets.night_words import (
    class_seeing,
    cut,
    margin_words,
    moon_words,
    name_within,
    night_lines,
    position,
    sun_lines,
    what_it_is,
)
from planner.targets.kind import Kind
from planner.verdict.pairs.criteria import SplitClass


@pytest.mark.parametrize(
    ("azimuth", "point"),
    [(0, "N"), (11.2, "N"), (11.3, "NNE"), (45, "NE"), (90, "E"), (180, "S"), (281.3, "WNW"),
     (348.7, "NNW"), (348.8, "N"), (359.99, "N"), (360, "N")],
)  # fmt: skip
def test_compass_points_are_a_sixteenth_of_the_circle_each(azimuth: float, point: str) -> None:
    """22.5 degrees around each point; north, through east."""
    assert compass_point(azimuth) == point


def test_clock_rounds_to_the_minute() -> None:
    """Half a minute up, over midnight too."""
    berlin = ZoneInfo("Europe/Berlin")
    assert clock(datetime(2026, 5, 14, 21, 5, 29, tzinfo=berlin)) == "21:05"
    assert clock(datetime(2026, 5, 14, 21, 5, 30, tzinfo=berlin)) == "21:06"
    assert clock(datetime(2026, 5, 14, 23, 59, 45, tzinfo=UTC)) == "00:00"
    assert clock(None) == "-"


def test_clock_tells_which_of_two_equal_times() -> None:
    """25 October 2026 in Europe, where 3:00 CEST becomes 2:00 CET: 2:20 comes twice."""
    berlin = ZoneInfo("Europe/Berlin")
    first, second = (datetime(2026, 10, 25, hour, 20, tzinfo=UTC) for hour in (0, 1))
    assert clock(first.astimezone(berlin)) == "02:20 CEST"
    assert clock(second.astimezone(berlin)) == "02:20 CET"
    assert span(first.astimezone(berlin), second.astimezone(berlin)) == "02:20 CEST-02:20 CET"


def test_clock_does_not_show_an_hour_that_is_left_out() -> None:
    """28 March 2027: a second before 3:00 CEST the clock shows 1:59:59."""
    moment = datetime(2027, 3, 28, 0, 59, 59, tzinfo=UTC).astimezone(ZoneInfo("Europe/Berlin"))
    assert clock(moment) == "03:00"


def test_day_and_clock_are_those_of_the_moment() -> None:
    """Not of the evening before; rounded into the next day where need be."""
    assert day_and_clock(datetime(2026, 5, 15, 0, 45, tzinfo=UTC)) == "2026-05-15 00:45"
    assert day_and_clock(datetime(2026, 12, 31, 23, 59, 45, tzinfo=UTC)) == "2027-01-01 00:00"


def test_span_needs_both_ends() -> None:
    """Else a dash."""
    moment = datetime(2026, 5, 14, 21, 5, tzinfo=UTC)
    assert span(moment, moment) == "21:05-21:05"
    assert span(moment, None) == span(None, moment) == "-"


def test_cut_never_makes_a_text_longer_than_asked() -> None:
    """A short text stays as it is."""
    assert cut("Albireo", 7) == "Albireo"
    assert cut("Albireo", 6) == "Albir…"
    assert cut("Cor Caroli", 5) == "Cor…"


@pytest.mark.parametrize(
    ("numbers", "name", "width", "words"),
    [
        (("NGC 6572",), "NGC 6572 Emerald Nebula", 23, "NGC 6572 Emerald Nebula"),
        (("NGC 6572",), "NGC 6572 Emerald Nebula", 22, "NGC 6572"),
        (("NGC 6205", "M 13"), "M 13 Great Hercules Cluster", 22, "M 13"),
        (("M 2", "M 27"), "M 27 Dumbbell Nebula", 19, "M 27"),
        (("NGC 12345",), "NGC 12345", 6, "NGC 1…"),
        (("Izar", "eps Boo"), "eps Boo Izar", 11, "eps Boo"),
        (("Jupiter",), "Jupiter", 4, "Jup…"),
    ],
)
def test_the_number_outlives_a_nickname(
    numbers: tuple[str, ...], name: str, width: int, words: str
) -> None:
    """What an atlas is marked with stays; an abridged nickname is of no use."""
    single = next(target for target in plan(limit=None).targets if target.double is None)
    target = replace(single, designations=numbers, name=name)
    assert name_within(target, width) == words


@pytest.mark.parametrize(
    ("name", "components", "words"),
    [
        ("eps2 Lyr Double Double CD", "CD", "eps2 Lyr CD"),
        ("gam1 And A,BC Almach", "A,BC", "gam1 And A,BC"),
        ("alp Gem Castor", "AB", "alp Gem"),
    ],
)
def test_a_double_keeps_its_components(name: str, components: str, words: str) -> None:
    """They say which of several pairs is meant."""
    double = next(target for target in plan(limit=None).targets if target.double is not None)
    assert double.double is not None
    star = " ".join(name.split()[:2])
    detail = replace(double.double, components=components)
    target = replace(double, name=name, designations=(star,), detail=detail)
    assert name_within(target, len(name) - 1) == words


@pytest.mark.parametrize(
    ("axes", "words"),
    [
        ((0.5, 0.5), '30"'),
        ((16.0, 16.0), "16'"),
        ((16.0, 15.0), "16'"),
        ((178.0, 70.0), "178'x70'"),
        ((3.0, 0.4), "3'x0.4'"),  # an edge-on galaxy is not 0' wide
    ],
)
def test_sizes_are_told_in_the_fitting_unit(axes: tuple[float, float], words: str) -> None:
    """Seconds of arc below 1.5', one number for what is round."""
    planet = plan().targets[0]
    assert what_it_is(replace(planet, size_arcmin=axes, magnitude=None)) == words


def test_what_it_is_admits_that_nothing_is_known() -> None:
    """Neither brightness nor size."""
    planet = replace(plan().targets[0], size_arcmin=None, magnitude=None)
    assert what_it_is(planet) == "brightness unknown"


def test_doubles_tell_separation_and_magnitudes() -> None:
    """Mizar: 14.4", 2.2 and 3.9 to 4.0 (handbook values, from memory)."""
    mizar = next(target for target in plan().targets if "Mizar" in target.name)
    assert what_it_is(mizar).startswith('14.4" 2.2+')
    assert margin_words(mizar) == 'seeing over 5"'  # 14" apart: no night is so bad
    izar = next(target for target in plan(limit=400).targets if "Izar" in target.name)
    assert margin_words(izar).startswith("seeing to ")
    assert position(mizar) == "13h23.9m +54°56'"


def test_the_header_says_the_night_its_sky_and_the_telescope() -> None:
    """Local time; what does not happen is left out, and said in words."""
    text = "\n".join(night_lines(plan("Glen", "2026-06-21")))
    assert "Night of Sunday 21 June 2026 at Glen (Europe/London)" in text
    assert "full dark" not in text and " - " not in text
    assert "It does not get fully dark" in text
    assert "f = 1040 mm" in text


@pytest.mark.parametrize(
    ("date", "words"),
    [
        ("2026-12-09", "below the horizon all night"),  # new Moon, beside a Sun that stays down
        ("2026-12-24", "up all night"),  # full Moon, where the Sun stands in June
        ("2026-12-29", "rises 22:54, sets 10:00"),
    ],
)
def test_the_moon_of_the_far_north_is_up_or_down_for_days(date: str, words: str) -> None:
    """70 N in December 2026: new Moon on the 9th, full on the 24th (almanac, from memory)."""
    text = "\n".join(night_lines(plan("Nordkapp", date, kinds=frozenset({Kind.PLANET}))))
    assert f"lit, {words}\n" in text


def test_a_moon_that_only_rises_or_only_sets_is_told_as_such() -> None:
    """The other event lies beyond noon."""
    night = plan().night
    moment = datetime(2026, 5, 14, 23, 5, tzinfo=UTC)
    rises = replace(night, moonrise=moment, moonset=None)
    assert moon_words(rises) == "rises 23:05, up until after noon"
    sets = replace(night, moonrise=None, moonset=moment)
    assert moon_words(sets) == "up since before noon, sets 23:05"


def test_the_seeing_told_is_that_of_the_class_named() -> None:
    """A class holds tonight, so the worst seeing it stands is no better than tonight's."""
    whole = plan(limit=400)
    seeing = whole.assumptions.seeing_arcsec
    doubles = [target.double for target in whole.targets if target.double is not None]
    assert {double.split_class for double in doubles} == {
        SplitClass.CLEAN,
        SplitClass.JUST,
        SplitClass.NOTCHED,
    }
    for double in doubles:
        worst = class_seeing(double)
        assert worst is not None and worst >= seeing
        if double.split_class is not SplitClass.CLEAN:
            better = SplitClass(double.split_class + 1)
            assert (limiting_seeing(double, better) or 0.0) <= seeing


@pytest.mark.parametrize(
    ("site", "date", "lines"),
    [
        ("Nordkapp", "2026-06-21", ["Sun does not set"]),
        ("Nordkapp", "2026-05-14", ["Sun sets 23:30, rises 01:02"]),
        (
            "Glen",
            "2026-06-21",
            ["Sun sets 22:21, rises 04:19; dusk 23:33 civil", "dawn 03:07 civil"],
        ),
    ],
)
def test_only_what_the_sun_does_is_told(site: str, date: str, lines: list[str]) -> None:
    """At midsummer 70 N has no night and 57.5 N no nautical dusk (90 - 57.5 - 23.4 < 12)."""
    assert sun_lines(plan(site, date).night) == lines


def test_polar_night_has_dusk_and_dawn_only() -> None:
    """70 N in December: the noon Sun stands 3 degrees down (90 - 70 - 23.4)."""
    first, second = sun_lines(plan("Nordkapp", "2026-12-21").night)
    assert first.startswith("Sun does not rise; dusk 13:")
    assert second.startswith("dawn 06:") and second.endswith(" civil")


def test_a_sun_that_only_rises_or_only_sets_is_told_as_such() -> None:
    """The other event lies beyond noon."""
    night = plan().night
    rises = replace(night, sunset=None, sunrise=datetime(2026, 1, 20, 11, 50, tzinfo=UTC))
    assert sun_lines(rises)[0].startswith("Sun down since before noon, rises 11:50; dusk")
    sets = replace(night, sunset=datetime(2026, 1, 20, 12, 10, tzinfo=UTC), sunrise=None)
    assert sun_lines(sets)[0].startswith("Sun sets 12:10, down until after noon; dusk")
