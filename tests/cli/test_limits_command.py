"""The observer's own limits in use: what they change, and what is refused."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

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


def _worst(kit: Path, *more: str) -> tuple[list[float], dict]:
    words = ["tonight", "--date", "2026-12-08", "--kinds", "double", "--format", "json",
             "--all", "--limit", "60", "--kit", str(kit), *more]  # fmt: skip
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output
    document = json.loads(done.stdout)
    found = {t["id"]: t["limiting_seeing_arcsec"] for t in document["targets"]}
    return found, document["assumptions"]


def test_a_handicap_makes_unequal_pairs_harder_and_leaves_equal_ones(kit: Path) -> None:
    """Differences under 1 mag are moved by nothing, larger ones only to the worse."""
    without, plain = _worst(kit)
    keep(limits_file(kit), _limits(kit, companion_handicap_mag=1.5))
    with_it, told = _worst(kit)
    both = [name for name in without if name in with_it and without[name] and with_it[name]]
    moved = [
        max(without[n].values()) - max(with_it[n].values())
        if isinstance(without[n], dict)
        else max(without[n]) - max(with_it[n])
        for n in both
    ]
    assert max(moved) > 0.1
    assert min(moved) > -0.3  # another eyepiece may be chosen, not a better split
    assert plain["own_log_words"] == ""
    expected = "by your own log (34 records): companion handicap +1.50 mag"
    assert told["own_log_words"] == expected


def test_seeing_given_goes_before_that_of_the_log(kit: Path) -> None:
    keep(limits_file(kit), _limits(kit, seeing_arcsec=3.1, eye_ratio=0.8))
    _, told = _worst(kit)
    assert told["seeing_arcsec"] == 3.1
    assert told["eye_field_factor"] == pytest.approx(1.6)  # 2.0 times 0.8
    _, given = _worst(kit, "--seeing", "1.2")
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
