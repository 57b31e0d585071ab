"""The observer's own limits in use: what they change, and what is refused."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from planner.cli.root import main
from planner.kit.reading import example_text, parse_kit
from planner.limits.keeping import InUse, keep, kept, limits_file

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def kit(tmp_path: Path) -> Path:
    """The example's kit with its log in a folder beside it."""
    path = tmp_path / "kit.toml"
    text = example_text().replace('# log = "log"', 'log = "log"')
    path.write_text(text, encoding="utf-8")
    return path


def _limits(kit: Path, **more: float) -> InUse:
    read = parse_kit(kit.read_text(encoding="utf-8"), str(kit))
    names = (read.observer.name, read.telescope().name, read.site().name)
    return InUse(*names, 34, **more)


def _doubles(kit: Path, *more: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Doubles of a night by their id, and what is assumed."""
    words = ["tonight", "--date", "2026-12-08", "--kinds", "double", "--format", "json",
             "--limit", "60", "--kit", str(kit), *more]  # fmt: skip
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output
    document = json.loads(done.stdout)
    return {target["id"]: target for target in document["targets"]}, document["assumptions"]


def test_a_handicap_makes_unequal_pairs_harder_and_leaves_equal_ones(kit: Path) -> None:
    """Differences up to 1 mag are moved by nothing, larger ones only to the worse."""
    without, plain = _doubles(kit)
    keep(limits_file(kit), _limits(kit, companion_handicap_mag=1.5))
    own, told = _doubles(kit)
    equal, unequal = [], []
    for name in without.keys() & own.keys():
        v1, v2 = without[name]["magnitudes"]
        gone = [one[name]["worst_seeing_arcsec"] for one in (without, own)]
        if None not in gone and own[name]["eyepiece"] == without[name]["eyepiece"]:
            (equal if abs(v2 - v1) <= 1.0 else unequal).append(gone[0] - gone[1])
    assert equal and set(equal) == {0.0}
    assert min(unequal) >= 0.0 and max(unequal) > 0.1
    assert plain["own_log_words"] == ""
    expected = "by your own log (34 records): companion handicap +1.50 mag"
    assert told["own_log_words"] == expected


def test_seeing_given_goes_before_that_of_the_log(kit: Path) -> None:
    keep(limits_file(kit), _limits(kit, seeing_arcsec=3.1, eye_ratio=0.8))
    _, told = _doubles(kit)
    assert told["seeing_arcsec"] == 3.1
    assert told["eye_field_factor"] == pytest.approx(1.6)  # 2.0 times 0.8
    _, given = _doubles(kit, "--seeing", "1.2")
    assert given["seeing_arcsec"] == 1.2
    assert "seeing" not in given["own_log_words"]


def test_limits_of_a_log_too_short_are_refused_with_the_remedy(kit: Path) -> None:
    for words in (("log", "limits"), ("log", "surprises"), ("tonight", "--limits"),
                  ("scope", "--limits")):  # fmt: skip
        done = CliRunner().invoke(main, [*words, "--kit", str(kit)])
        assert done.exit_code in (1, 2)
        assert "10 are wanted; write more with: planner log add" in " ".join(done.stderr.split())


def test_apply_and_withdraw_together_are_refused(kit: Path) -> None:
    done = CliRunner().invoke(main, ["log", "limits", "--apply", "--withdraw", "--kit", str(kit)])
    assert done.exit_code == 2
    assert "not both" in done.stderr


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("nonsense", "cannot be read as limits"),
        ("[]", "is no file of limits"),
        ('{"format": "planner-limits/1", "records": 3}', "lacks some of its values"),
        ('{"format": "planner-limits/1", "seeing_arcsec": 1e9}', "is impossible"),
        ('{"format": "planner-limits/1", "eye_ratio": NaN}', "is impossible"),
    ],
)
def test_a_damaged_file_of_limits_is_told_with_the_remedy(kit: Path, text: str, why: str) -> None:
    limits_file(kit).write_text(text, encoding="utf-8")
    done = CliRunner().invoke(main, ["scope", "--kit", str(kit)])
    assert done.exit_code == 1
    told = " ".join(done.stderr.split())
    assert why in told and "planner log limits --apply" in told and "Traceback" not in told


def test_kept_limits_come_back_as_they_were(kit: Path) -> None:
    limits = _limits(kit, tilt_followed=0.9, eye_ratio=1.1)
    keep(limits_file(kit), limits)
    assert kept(limits_file(kit)) == limits
