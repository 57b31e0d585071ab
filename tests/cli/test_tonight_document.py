"""`planner tonight`: the document, the table and the columns that other programs rely on."""

from __future__ import annotations

import csv
import io
import json
from datetime import datetime

import numpy as np
import pytest
from sample_nights import MOONLESS, SITES, night_json, run

MOST_COLUMNS = 100
PRINTED_ARCSEC = 0.06  # half of the last digit of a seeing, and of the margin's
CUT_ARCSEC = 0.1  # worst seeing is cut, never rounded up, to tenths
NIGHT = ("Lindenhof", MOONLESS)
EVERY_TARGET = {
    "id", "name", "designations", "kind", "constellation", "ra_deg", "dec_deg", "window_start",
    "window_end", "best_time", "altitude_deg", "azimuth_deg", "airmass", "shown", "verdict",
    "margin", "margin_unit", "limited_by", "reason", "eyepiece", "magnification",
    "exit_pupil_mm", "true_field_deg", "drift_s",
}  # fmt: skip
EVERY_DOUBLE = {
    "components", "separation_arcsec", "position_angle_deg", "magnitudes", "measure_epoch",
    "measure_source", "class", "worst_seeing_arcsec", "worst_seeing_by_class",
}  # fmt: skip
EVENTS = {
    "sunset", "civil_dusk", "nautical_dusk", "astronomical_dusk", "astronomical_dawn",
    "nautical_dawn", "civil_dawn", "sunrise", "moonrise", "moonset",
}  # fmt: skip
SIDEREAL_DEG_PER_S = 360.98564737 / 86400.0  # the sky's turn; handbook value
ODD_NIGHTS = [
    ("Nordkapp", "2026-06-21"),
    ("Nordkapp", "2026-12-21"),
    ("Glen", "2026-06-21"),
    ("Lindenhof", "2026-11-04"),  # Mercury before the Sun: its magnitude is not known
]


def test_document_names_its_format_and_parts() -> None:
    """The promised object, whatever else it holds."""
    document = night_json(*NIGHT)
    assert document["format"] == "planner-night/1"
    assert {"site", "night", "instrument", "assumptions", "targets"} <= set(document)
    assert set(document["night"]) == {
        "date", *EVENTS, "moon_up_at_start", "moon_illuminated_fraction",
        "hours_from", "hours_until", "hours_usual",
    }  # fmt: skip


def test_document_repeats_the_kit() -> None:
    """Site, telescope and eyepieces are those of the kit file."""
    document = night_json(*NIGHT)
    latitude, longitude, elevation, zone = SITES["Lindenhof"]
    place = dict(document["site"])
    assert place.pop("pressure_hpa") == pytest.approx(913.0, abs=1.0)  # ISO 2533, 870 m
    assert place == {
        "name": "Lindenhof",
        "latitude_deg": latitude,
        "longitude_deg": longitude,
        "elevation_m": elevation,
        "timezone": zone,
        "temperature_c": 10.0,
    }
    instrument = document["instrument"]
    assert instrument["clear_aperture_mm"] == 154.0
    assert instrument["focal_length_mm"] == 1040.0
    assert instrument["obstruction_ratio"] == pytest.approx(35.0 / 154.0, abs=1e-4)
    assert instrument["wavefront_rms_waves"] == 0.055
    powers = {view["name"]: view["magnification"] for view in instrument["eyepieces"]}
    assert len(powers) == 10
    assert powers["10 mm"] == 104.0


@pytest.mark.parametrize("night", [NIGHT, *ODD_NIGHTS])
def test_document_gives_every_moment_an_offset_or_null(night: tuple[str, str]) -> None:
    """ISO 8601 with an offset, so that no reader has to know the zone."""
    document = night_json(*night)
    moments = [document["night"][event] for event in EVENTS]
    for target in document["targets"]:
        moments += [target["window_start"], target["best_time"], target["window_end"]]
    assert all(m is None or datetime.fromisoformat(m).utcoffset() is not None for m in moments)


def test_document_gives_each_target_its_fields() -> None:
    """Every target has the common ones; doubles have their own besides."""
    targets = night_json(*NIGHT, "--limit", "200")["targets"]
    assert {target["kind"] for target in targets} >= {"double", "planet", "globular-cluster"}
    for target in targets:
        assert set(target) >= EVERY_TARGET
        assert (set(target) >= EVERY_DOUBLE) == (target["kind"] == "double")
        assert target["reason"] and target["verdict"] and target["margin_unit"]
        assert target["name"] and target["designations"]


def test_document_holds_numbers_that_belong_together() -> None:
    """Exit pupil, true field and drift follow from optics and the sky's turn alone."""
    fields = {"32 mm": 50, "18 mm": 60, "10 mm": 60, "7 mm": 58, "5 mm": 58}
    for target in night_json(*NIGHT, "--limit", "100")["targets"]:
        assert target["magnification"] * target["exit_pupil_mm"] == pytest.approx(154.0, rel=1e-3)
        apparent = fields[target["eyepiece"].split(" + ")[0]]
        assert target["true_field_deg"] * target["magnification"] == pytest.approx(
            apparent, rel=1e-3
        )
        drift = target["true_field_deg"] / (
            SIDEREAL_DEG_PER_S * np.cos(np.radians(target["dec_deg"]))
        )
        assert target["drift_s"] == pytest.approx(drift, rel=2e-3, abs=0.1)


def test_document_margin_of_a_double_is_seeing_in_hand() -> None:
    """A pair is split just when the seeing of the night is no worse than the worst it stands."""
    document = night_json(*NIGHT, "--kinds", "double", "--limit", "300")
    seeing = document["assumptions"]["seeing_arcsec"]
    for target in document["targets"]:
        worst = target["worst_seeing_by_class"]
        assert target["worst_seeing_arcsec"] == worst["just"]
        steps = [worst[name] or 0.0 for name in ("clean", "just", "notched")]
        assert steps == sorted(steps)
        over = target["margin"] - (worst["notched"] - seeing)
        assert -PRINTED_ARCSEC < over < CUT_ARCSEC + PRINTED_ARCSEC
        in_hand = (worst["just"] or 0.0) - seeing
        if abs(in_hand) > PRINTED_ARCSEC:
            assert (target["class"] in ("clean", "just")) == (in_hand > 0.0)


@pytest.mark.parametrize("night", [NIGHT, *ODD_NIGHTS])
def test_csv_has_the_columns_of_the_json(night: tuple[str, str]) -> None:
    """The same targets in the same order, under one header that no night changes."""
    result = run("tonight", "--site", night[0], "--date", night[1], "--format", "csv")
    header, *rows = csv.reader(io.StringIO(result.stdout))
    assert set(header) >= EVERY_TARGET | EVERY_DOUBLE
    targets = night_json(*night)["targets"]
    assert [row[0] for row in rows] == [target["id"] for target in targets]
    for row, target in zip(rows, targets, strict=True):
        cells = dict(zip(header, row, strict=True))
        assert set(target) <= set(header)
        for name in ("ra_deg", "dec_deg", "altitude_deg", "margin", "drift_s"):
            assert (float(cells[name]) if cells[name] else None) == target[name]
        assert cells["shown"] == json.dumps(target["shown"])
        assert "nan" not in row


LONG_NAMES = ["--kinds", "double", "--limit", "3000"]


@pytest.mark.parametrize("options", [[], ["--all", "--constellation", "UMa"], LONG_NAMES])
def test_text_keeps_within_a_hundred_columns(options: list[str]) -> None:
    """Whatever is asked for."""
    result = run("tonight", "--date", MOONLESS, *options)
    assert result.exit_code == 0
    assert max(map(len, result.stdout.splitlines())) <= MOST_COLUMNS


@pytest.mark.parametrize("night", ODD_NIGHTS)
def test_text_keeps_within_a_hundred_columns_on_odd_nights(night: tuple[str, str]) -> None:
    """Notes and missing events wrap too."""
    result = run("tonight", "--site", night[0], "--date", night[1], "--all", "--kinds", "planet")
    assert max(map(len, result.stdout.splitlines())) <= MOST_COLUMNS
    assert "nan" not in result.stdout


def test_text_tells_what_is_assumed() -> None:
    """Seeing, sky, instrument and how many more there are."""
    text = run("tonight", "--date", MOONLESS, "--seeing", "3.1", "--sky", "19.25").stdout
    assert 'seeing 3.1"' in text
    assert "19.25 mag per square arcsecond" in text
    assert "154 mm clear" in text
    assert "25 listed of" in text


def test_text_and_json_list_the_same_targets() -> None:
    """Two forms of one plan; a nickname that does not fit leaves the designation alone."""
    lines = run("tonight", "--date", MOONLESS).stdout.splitlines()
    first = next(i for i, line in enumerate(lines) if line.startswith("--")) + 1
    for line, target in zip(lines[first:], night_json(*NIGHT)["targets"], strict=False):
        short = target["name"].removeprefix(f"{target['id']} ")  # where the whole has no room
        told = [target["name"][:15], short[:15], *target["designations"]]
        assert any(name in line for name in told), line
