"""`planner target`: forgiving names, and the whole story of one target tonight."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from sample_nights import MOONLESS, night_json, run

from planner.night.judging import judged_groups

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.judging import Judged

MOST_COLUMNS = 100
SPOKEN = [
    # what is typed, id of what is meant
    ("m 13", "NGC 6205"),
    ("M13", "NGC 6205"),
    ("NGC6205", "NGC 6205"),
    ("ngc 6205", "NGC 6205"),
    ("ring nebula", "NGC 6720"),
    ("jupiter", "Jupiter"),
    ("MOON", "Moon"),
    ("the moon", "Moon"),
]
SAME_PAIR = [
    ("eps boo", "Izar", "STF 1877", "izar", "EPS BOO"),
    ("16 Cyg", "16 cyg", "STFA 46"),
    ("castor", "alp Gem", "STF1110"),
    ("albireo", "bet cyg", "STFA 43"),
]

_WHOLE: list[tuple[Conditions, list[Judged]]] = []


@pytest.fixture(autouse=True)
def whole_night_judged_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The place on the whole list is told of each target; one judging of a night serves all."""
    monkeypatch.setattr("planner.night.single_target.judged_groups", _judged_once)


def _judged_once(conditions: Conditions) -> list[Judged]:
    if conditions.request.only is not None:
        return judged_groups(conditions)
    for known, groups in _WHOLE:
        same_hours = np.array_equal(known.hours, conditions.hours)
        if same_hours and known.request == conditions.request:
            return groups
    _WHOLE.append((conditions, judged_groups(conditions)))
    return _WHOLE[-1][1]


def told(*name: str, date: str = MOONLESS) -> dict[str, Any]:
    """The document of one target."""
    result = run("target", *name, "--date", date, "--format", "json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


@pytest.mark.parametrize(("typed", "meant"), SPOKEN)
def test_names_are_forgiven_their_form(typed: str, meant: str) -> None:
    """Case and spaces do not matter."""
    assert [target["id"] for target in told(typed)["targets"]] == [meant]


@pytest.mark.parametrize("names", SAME_PAIR)
def test_all_names_of_a_pair_mean_the_same(names: tuple[str, ...]) -> None:
    """Letter, number, own name and discoverer's number."""
    found = [[target["id"] for target in told(name)["targets"]] for name in names]
    assert found[0] and all(ids == found[0] for ids in found)


def test_a_name_needs_no_quotes() -> None:
    """Words on the command line are joined."""
    assert told("eps", "boo")["targets"] == told("eps boo")["targets"]


def test_a_shared_name_tells_every_pair() -> None:
    """eps Lyr is two close pairs, STF 2382 and STF 2383, 208" apart."""
    text = run("target", "eps lyr", "--date", MOONLESS).stdout
    assert "STF 2382" in text
    assert "eps2 Lyr" in text


def test_a_pair_is_told_with_its_particulars() -> None:
    """Izar as handbooks have it: 2.9", 2.5 and 4.8 to 5.0, about 345 degrees (from memory)."""
    (izar,) = told("izar")["targets"]
    assert izar["kind"] == "double" and izar["constellation"] == "Boo"
    assert izar["separation_arcsec"] == pytest.approx(2.9, abs=0.15)
    assert izar["position_angle_deg"] == pytest.approx(345.0, abs=5.0)
    assert izar["magnitudes"][0] == pytest.approx(2.5, abs=0.3)
    assert izar["magnitudes"][1] == pytest.approx(4.9, abs=0.3)
    assert izar["ra_deg"] == pytest.approx(221.247, abs=0.01)
    assert izar["dec_deg"] == pytest.approx(27.074, abs=0.01)
    assert izar["measure_epoch"] > 1990.0 and izar["measure_source"]
    assert any("Izar" in name for name in izar["designations"])


def test_the_text_tells_why_a_target_is_listed() -> None:
    """Verdict, best time, eyepiece and drift through the standing field."""
    text = run("target", "m 13", "--date", MOONLESS, "--optics").stdout
    lines = text.splitlines()
    assert "on tonight's list" in lines[0]
    assert lines[1].startswith("When and where: ") and lines[2].startswith("Eyepiece: ")
    assert lines[3].startswith("Expect: ")
    assert "crosses the standing field" in text
    assert "NGC 6205" in text
    assert "Night of Thursday 14 May 2026" in text


@pytest.mark.parametrize("name", ["m 13", "albireo", "castor", "m 51", "STF 1835", "NGC 5053"])
def test_the_text_tells_the_place_on_the_whole_list(name: str) -> None:
    """The number that `planner tonight` gives it, and how many there are."""
    (wanted, *_) = told(name)["targets"]
    whole = night_json("Lindenhof", MOONLESS, "--limit", "10000")
    ids = [target["id"] for target in whole["targets"]]
    text = " ".join(run("target", name, "--date", MOONLESS).stdout.split())
    if not wanted["shown"]:
        assert wanted["id"] not in ids and "not shown tonight" in text
        return
    place = 1 + ids.index(wanted["id"])
    where = f"place {place} of {whole['shown_count']}"
    if place <= 25:
        assert f": on tonight's list, {where}: " in text
    else:
        assert f": shown tonight, {where}, past the usual end of the list: " in text


def test_a_driven_telescope_has_no_drift_in_words() -> None:
    """Nothing crosses the field of a telescope that follows."""
    text = run("target", "m 13", "--date", MOONLESS, "--telescope", "Little", "--optics").stdout
    assert "exit pupil" in text and "crosses" not in text


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("alp cru", "below the horizon"),  # 63 S, never up at 48 N
        ("sirius", "never above 15°"),  # 4 degrees high at the end of twilight in May
        ("m 45", "never above 15°"),
        ("zet boo", "resolution"),  # 0.3"
        ("m 42", "never above 15°"),
    ],
)
def test_the_text_tells_why_a_target_is_not_listed(name: str, why: str) -> None:
    """The reason in words, for what lies too low and for what is too close."""
    text = " ".join(run("target", name, "--date", MOONLESS).stdout.split())
    assert "not shown tonight" in text
    assert why in text


@pytest.mark.parametrize("name", ["izar", "m 13", "moon", "saturn", "eps lyr", "m 45", "polaris"])
def test_the_text_keeps_within_a_hundred_columns(name: str) -> None:
    """With its table of the night."""
    result = run("target", name, "--date", MOONLESS, "--course", "--optics")
    assert result.exit_code == 0
    assert max(map(len, result.stdout.splitlines())) <= MOST_COLUMNS


def test_the_course_has_the_margin_through_the_night() -> None:
    """One line every half hour, marked where the target can be used."""
    lines = run("target", "m 13", "--date", MOONLESS, "--course").stdout.splitlines()
    rows = [line for line in lines if line[2:3] == ":"]
    times = [int(line[:2]) * 60 + int(line[3:5]) for line in rows]
    assert {(late - early) % 1440 for early, late in zip(times, times[1:], strict=False)} == {30}
    usable = [line for line in rows if "#" in line]
    assert 8 <= len(usable) < len(rows)


def test_the_verdict_comes_first_and_the_course_only_when_asked_for() -> None:
    """Four lines, an empty one, the facts; then the night's head."""
    lines = run("target", "albireo", "--date", MOONLESS).stdout.splitlines()
    starts = [line.split(":")[0] for line in lines[: lines.index("")] if not line.startswith("  ")]
    assert starts[1:] == ["When and where", "Eyepiece", "Expect"]
    assert "Albireo" in starts[0]
    assert not [line for line in lines if line[:2].isdigit() or "exit pupil" in line]


def test_a_target_is_told_whatever_the_list_would_leave_out() -> None:
    """The least altitude rules the list; the story is still told, with no place in it."""
    (target,) = told("sirius")["targets"]
    assert target["shown"] is False
    assert target["best_time"] is None and target["altitude_deg"] is None
    assert target["separation_arcsec"] == pytest.approx(11.1, abs=0.3)  # orbit, 2026


def test_a_planet_whose_magnitude_is_unknown_is_still_told() -> None:
    """Mercury in front of the Sun, 4 November 2026: no formula for its brightness holds."""
    (mercury,) = told("mercury", date="2026-11-04")["targets"]
    assert mercury["magnitude"] is None and mercury["shown"] is False
    assert "nan" not in run("target", "mercury", "--date", "2026-11-04").stdout


def test_mercury_by_the_sun_is_told_with_a_caution() -> None:
    """Close to the Sun a planet is sought only with the Sun down; elongation below 25 degrees."""
    (mercury,) = told("mercury", date="2026-06-14")["targets"]
    if mercury["shown"]:
        assert "Sun" in mercury["reason"]
    else:
        assert "15°" in mercury["reason"] or "horizon" in mercury["reason"]


def test_the_sun_is_no_target() -> None:
    """Nothing ever points there."""
    result = run("target", "sun", "--date", MOONLESS)
    assert result.exit_code == 2 and result.stdout == ""


@pytest.mark.parametrize("name", ["mu cep", "R Lep", "T Lyr", "V Aql", "la superba"])
def test_a_red_star_is_judged_and_said_to_vary(name: str) -> None:
    """By its letters or its name in words; in the middle of its range."""
    (star,) = told(name, date="2026-06-14")["targets"]
    bright, faint = star["magnitude_range"]
    assert star["kind"] == "red-star"
    assert star["magnitude"] == pytest.approx((bright + faint) / 2.0, abs=0.01)
    page = run("target", name, "--date", "2026-06-14").stdout
    assert f", red star in {star['constellation']}: " in page
    if star["best_time"] is not None:
        assert f"mag {bright:.1f} to {faint:.1f}" in " ".join(page.split())
        assert f"varies from about mag {bright:.1f} to {faint:.1f}" in star["reason"]


def test_the_page_tells_the_way_star_by_star() -> None:
    """NGC 7662 on an autumn evening, with the example kit's 8x50: from a star of Andromeda."""
    asked = ("target", "NGC 7662", "--date", "2026-11-10")
    text = " ".join(run(*asked, kit=False).stdout.split())
    assert "way: from " in text and "o'clock in the sky" in text
    assert "12 o'clock is straight up" in text
    (found,) = json.loads(run(*asked, "--format", "json", kit=False).stdout)["targets"]
    assert 1 <= len(found["hop"]["legs"]) <= 4
    assert found["hop"]["start"]["v_mag"] < 5.0


def test_without_a_finder_the_page_tells_height_and_direction() -> None:
    """The test kit has none, and no eyepiece wide enough to hop by."""
    text = " ".join(run("target", "NGC 7662", "--date", "2026-11-10").stdout.split())
    assert "way: " in text and "finder" not in text.partition("way: ")[2][:80]
