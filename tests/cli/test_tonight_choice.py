"""`planner tonight`: what narrows the list, and that narrowing changes nothing else."""

from __future__ import annotations

import pytest
from sample_nights import MOONLESS, night_json, run

KINDS = (
    "double", "open-cluster", "globular-cluster", "galaxy", "planetary-nebula", "nebula",
)  # fmt: skip
NIGHT = ("Lindenhof", MOONLESS)
OTHER_HOURS = [
    ("23:00", "01:30"),  # across midnight
    ("22:30", "23:15"),
    ("00:30", "02:00"),
]


def face_minutes(text: str) -> int:
    """Minutes of the clock's face since noon."""
    return (int(text[11:13]) * 60 + int(text[14:16]) - 720) % 1440


@pytest.mark.parametrize("kind", KINDS)
def test_kinds_are_kept_apart(kind: str) -> None:
    """Only the kind asked for, in the order of the whole list."""
    alone = night_json(*NIGHT, "--kinds", kind, "--limit", "20")["targets"]
    assert alone and {target["kind"] for target in alone} == {kind}
    whole = night_json(*NIGHT, "--limit", "300")["targets"]
    picked = [target["id"] for target in whole if target["kind"] == kind][:20]
    assert [target["id"] for target in alone][: len(picked)] == picked


def test_shown_targets_come_by_worth() -> None:
    """The most worthwhile first; of the rest likewise, after them."""
    targets = night_json(*NIGHT, "--all", "--constellation", "Vir")["targets"]
    keys = [(not target["shown"], -target["worth"]) for target in targets]
    assert keys == sorted(keys)


@pytest.mark.parametrize("limit", [1, 60])
def test_the_limit_cuts_the_list_and_nothing_else(limit: int) -> None:
    """The first of the longer list, with the same count of what is shown."""
    short = night_json(*NIGHT, "--limit", str(limit))
    long = night_json(*NIGHT, "--limit", "300")
    assert len(short["targets"]) == limit
    assert short["targets"] == long["targets"][:limit]
    assert short["shown_count"] == long["shown_count"]


def test_all_gives_a_reason_for_everything_that_is_not_shown() -> None:
    """Every pair and object of the constellation, once, with a reason; no limit cuts the list."""
    document = night_json(*NIGHT, "--all", "--constellation", "Vir")
    targets = document["targets"]
    pairs = sum(1 + len(t["other_pairs"]) for t in targets if t["kind"] == "double")
    others = sum(t["kind"] != "double" for t in targets)
    assert pairs + others == document["considered"] > 500
    assert len({target["id"] for target in targets}) == len(targets)
    assert sum(target["shown"] for target in targets) == document["shown_count"]
    assert all(target["reason"].strip() for target in targets)
    for target in targets[document["shown_count"] :]:
        assert target["shown"] is False
        if target["best_time"] is None:
            assert target["altitude_deg"] is None and target["eyepiece"] is None
            assert target["verdict"] in ("not up", "brightness unknown")
        elif target["kind"] != "double":
            assert target["margin"] is None or target["margin"] <= 0.005  # printed 0.01


def test_all_shows_what_the_short_list_shows() -> None:
    """Leaving out the hopeless early loses nothing that is shown."""
    narrow = ("--constellation", "Her", "--limit", "2000")
    short = night_json(*NIGHT, *narrow)["targets"]
    whole = night_json(*NIGHT, *narrow, "--all")["targets"]
    assert [target for target in whole if target["shown"]] == short


def test_a_constellation_may_be_named_in_any_way() -> None:
    """Abbreviation, name and genitive; every target lies in it."""
    lists = [
        night_json(*NIGHT, "--constellation", name)["targets"]
        for name in ("Her", "hercules", "HERCULIS")
    ]
    assert lists[0] == lists[1] == lists[2]
    assert {target["constellation"] for target in lists[0]} == {"Her"}


def test_nothing_is_fainter_than_asked() -> None:
    """Total magnitudes; two stars of 5.0 make one of 4.25."""
    targets = night_json(*NIGHT, "--faintest", "5", "--limit", "300")["targets"]
    assert len(targets) > 20
    assert max(target["magnitude"] for target in targets) <= 5.0


@pytest.mark.parametrize(("start", "end"), OTHER_HOURS)
def test_hours_narrow_every_window(start: str, end: str) -> None:
    """Windows and best times lie within the clock times, across midnight too."""
    targets = night_json(*NIGHT, "--from", start, "--until", end, "--limit", "80")["targets"]
    assert targets
    first, last = face_minutes(f"2026-05-14T{start}"), face_minutes(f"2026-05-14T{end}")
    for target in targets:
        inside = [face_minutes(target[k]) for k in ("window_start", "best_time", "window_end")]
        assert first <= inside[0] <= inside[1] <= inside[2] <= last


@pytest.mark.parametrize("hours", [("--from", "12:00"), ("--until", "12:00"), ("--from", "16:30")])
def test_hours_wider_than_the_night_change_nothing(hours: tuple[str, str]) -> None:
    """From noon and until noon are the whole night."""
    assert night_json(*NIGHT, *hours)["targets"] == night_json(*NIGHT)["targets"]


def test_hours_of_polar_night_are_those_of_its_own_day() -> None:
    """70 N, 25 E: the Sun culminates at 11:18 by the clock, before clock noon."""
    document = night_json(
        "Nordkapp", "2026-12-21", "--from", "11:30", "--until", "15:00", "--kinds", "double",
        "--limit", "100",
    )  # fmt: skip
    starts = {target["window_start"][:10] for target in document["targets"]}
    assert starts == {"2026-12-21"}
    assert all("11:30" <= t["best_time"][11:16] <= "15:00" for t in document["targets"])


def test_hours_outside_the_night_are_said_to_be() -> None:
    """An empty night is an answer: exit code 0 and a note."""
    result = run("tonight", "--date", MOONLESS, "--from", "13:00", "--until", "14:00")
    assert result.exit_code == 0
    words = " ".join(result.stdout.split())
    assert "the hours from 13:00 to 14:00 hold no moment of the night" in words
    assert "Nothing is shown" in words


@pytest.mark.parametrize(("air", "magnitudes"), [("clear", 0.174), ("hazy", 0.314), ("0.4", 0.4)])
def test_tonights_air_replaces_the_sites(air: str, magnitudes: float) -> None:
    """Green 1992 at 870 m: 0.1451 exp(-0.87/7.996) + A exp(-0.87/1.5) + 0.016, A 0.05 or 0.30.

    Whatever it is, it is among the assumptions, on the screen too, and haze hides targets.
    """
    usual, asked = night_json(*NIGHT), night_json(*NIGHT, "--air", air)
    assumed = asked["assumptions"]["extinction_mag_per_airmass"]
    assert assumed == pytest.approx(magnitudes, abs=0.001)
    assert usual["assumptions"]["extinction_mag_per_airmass"] == pytest.approx(0.213, abs=0.001)
    assert (asked["shown_count"] < usual["shown_count"]) == (assumed > 0.213)
    screen = " ".join(run("tonight", "--date", MOONLESS, "--air", air).stdout.split())
    assert f"extinction {magnitudes:.2f} mag per airmass" in screen


def test_a_telescope_is_chosen_by_name() -> None:
    """The small refractor: its own aperture, its own powers."""
    instrument = night_json(*NIGHT, "--telescope", "little")["instrument"]
    assert instrument["clear_aperture_mm"] == 80.0
    assert max(view["magnification"] for view in instrument["eyepieces"]) == 270.0  # 900 / 5 x 1.5


def test_without_a_kit_the_example_is_used_and_said_so_on_stderr() -> None:
    """The note never mixes with a result that is piped on."""
    result = run("tonight", "--date", MOONLESS, "--kinds", "planet", kit=False)
    assert result.exit_code == 0
    assert "embedded example kit" in result.stderr
    assert "embedded" not in result.stdout


def test_red_stars_are_a_kind_of_their_own() -> None:
    """All of them in a year of nights would; in one night those that come up, none twice."""
    night = night_json("Lindenhof", "2026-11-10", "--kinds", "red-star", "--all")
    names = [target["name"] for target in night["targets"]]
    assert {target["kind"] for target in night["targets"]} == {"red-star"}
    assert len(names) == len(set(names)) >= 40
    shown = {target["id"] for target in night["targets"] if target["shown"]}
    assert {"mu Cep", "T Lyr", "TX Psc", "R Lep"} <= shown
    assert "X TrA" not in shown  # at 70 degrees south, never up in Germany
