"""`planner moon`, and features of the Moon as targets."""

from __future__ import annotations

import json
import struct
from typing import TYPE_CHECKING

import pytest
from sample_nights import MESSAGE_COLUMNS, one_message, run

if TYPE_CHECKING:
    from pathlib import Path

QUARTER, NEW = ("--date", "2027-02-14"), ("--date", "2027-02-06")


@pytest.mark.parametrize("date", [QUARTER, NEW])
def test_the_page_fits_its_columns_and_warns_of_the_sun(date: tuple[str, str]) -> None:
    result = run("moon", *date)
    assert result.exit_code == 0, result.stderr
    every = run("moon", *date, "--all")
    for page in (result, every):
        assert max(map(len, page.stdout.splitlines())) <= MESSAGE_COLUMNS
    assert "Never point telescope or finder at the Sun" in " ".join(result.stdout.split())


def test_a_quarter_lists_features_and_all_of_them_on_demand() -> None:
    short, long = run("moon", *QUARTER).stdout, run("moon", *QUARTER, "--all").stdout
    assert "Rupes Recta" in short and "a dark line of shadow" in short
    assert "Along the morning terminator, north to south" in short
    assert len(long.splitlines()) > len(short.splitlines()) + 20
    assert "Rille in Vallis" in long


def test_a_night_without_her_tells_the_next_one_in_a_line() -> None:
    result = run("moon", *NEW)
    lines = [line for line in result.stdout.splitlines() if line.startswith("The Moon is next")]
    assert len(lines) == 1 and "Feb 2027" in lines[0]
    document = json.loads(run("moon", *NEW, "--format", "json").stdout)
    assert document["moon"] is None and document["next_moon"]["altitude_deg"] >= 15.0


def test_json_has_the_verdict_of_every_feature() -> None:
    document = json.loads(run("moon", *QUARTER, "--format", "json").stdout)
    features = {one["name"]: one for one in document["moon"]["features"]}
    wall = features["Rupes Recta"]
    assert wall["verdict"] == "plain" and wall["margin"] >= 2.0 and wall["kind"] == "scarp"
    assert {"name", "verdict", "margin", "worst_seeing_arcsec"} <= set(wall)
    listed = {one["name"] for one in document["target"]["features"]}
    assert listed == set(features)


def test_the_drawing_is_a_png_and_a_night_without_her_has_none(tmp_path: Path) -> None:
    path = tmp_path / "moon.png"
    result = run("moon", *QUARTER, "-o", str(path))
    assert result.exit_code == 0 and f"wrote {path}" in result.stderr
    head = path.read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n" and min(struct.unpack(">II", head[16:24])) > 800
    missing = tmp_path / "none.png"
    result = run("moon", *NEW, "-o", str(missing))
    assert result.exit_code == 1 and not missing.exists()
    assert "nothing to draw; try another --date" in one_message(result.stderr)


def test_a_picture_of_another_name_is_refused_before_any_work(tmp_path: Path) -> None:
    result = run("moon", *QUARTER, "-o", str(tmp_path / "moon.jpg"))
    assert result.exit_code == 2
    assert ".png" in one_message(result.stderr)


def test_a_feature_is_a_target() -> None:
    result = run("target", "the", "straight", "wall", *QUARTER)
    assert result.exit_code == 0, result.stderr
    assert result.stdout.startswith("Rupes Recta, scarp on the Moon: plain tonight")
    assert "Next nights of good light" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= MESSAGE_COLUMNS
    document = json.loads(run("target", "rupes recta", *QUARTER, "--format", "json").stdout)
    assert document["name"] == "Rupes Recta" and document["good_nights"]


def test_names_shared_with_stars_are_told() -> None:
    """Copernicus is 55 Cancri, too, by the International Astronomical Union (2015)."""
    own = run("target", "crater", "copernicus", *QUARTER)
    assert own.stdout.startswith("Copernicus, crater on the Moon")
    bare = run("target", "copernicus", *QUARTER)
    on_moon = bare.stdout.startswith("Copernicus, crater on the Moon")
    assert on_moon or "planner target moon copernicus" in bare.stderr


def test_slips_in_a_features_name_are_answered_with_the_right_one() -> None:
    result = run("target", "rupes rekta", *QUARTER)
    assert result.exit_code == 2
    assert "near names: Rupes Recta" in one_message(result.stderr)


def test_a_drawing_of_a_feature_points_to_the_moons_own(tmp_path: Path) -> None:
    result = run("target", "plato", *QUARTER, "--image", str(tmp_path / "x.png"))
    assert result.exit_code == 2
    assert "planner moon -o" in one_message(result.stderr)
