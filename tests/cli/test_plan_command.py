"""`planner plan`: printed, edited, checked, read back and made anew in the middle of the night."""

from __future__ import annotations

import datetime as dt
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

from sample_nights import one_message, run

MOST_COLUMNS = 100
PAGE = Path(__file__).parents[2] / "docs" / "formats.md"
NIGHT = ("--date", "2026-11-10", "--until", "21:00", "--limit", "20")
FROM = ("--from", "19:00")
FIELDS = {
    "start", "end", "target_id", "name", "altitude_deg", "azimuth_deg", "eyepiece", "magnification",
    "filter", "eyepiece_height_m", "why", "hop",
}  # fmt: skip


@cache
def printed() -> str:
    """The order of two hours as JSON."""
    result = run("plan", *NIGHT, *FROM, "--format", "json")
    assert result.exit_code == 0, result.stderr
    return result.stdout


def saved(folder: Path, document: dict[str, Any]) -> str:
    """Its file, as an editor would write it."""
    path = folder / "plan.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    return str(path)


def test_a_plan_as_json_has_its_fields() -> None:
    """Format, numbers and entries one after the other; the score never above the bound."""
    whole = json.loads(printed())
    assert whole["format"] == "planner-plan/1"
    assert 0.0 < whole["score"] <= whole["bound"] and whole["idle_minutes"] >= 0
    assert whole["unmet"] == []
    entries = whole["entries"]
    assert len(entries) >= 5 and all(set(entry) == FIELDS for entry in entries)
    times = [dt.datetime.fromisoformat(e[key]) for e in entries for key in ("start", "end")]
    assert times == sorted(times) and all(time.tzinfo is not None for time in times)
    assert all(set(item) == {"target_id", "name", "reason"} for item in whole["left_out"])


def test_the_fields_of_a_plan_are_those_of_the_page() -> None:
    """docs/formats.md names them, in their order."""
    whole = json.loads(printed())
    page = PAGE.read_text(encoding="utf-8")
    for heading, found in (
        ("### The order", whole), ("### `entries[]`", whole["entries"][0]),
        ("### `left_out[]`", whole["left_out"][0]),
    ):  # fmt: skip
        section = page.split(f"\n{heading}\n")[1].split("\n#")[0]
        assert re.findall(r"^\| `(\w+)` \|", section, re.MULTILINE) == list(found), heading


def test_a_plan_is_checked_and_every_fault_is_named(tmp_path: Path) -> None:
    """Nothing wrong as printed; after editing each fault stands on a line, with exit code 1."""
    whole = json.loads(printed())
    good = run("plan", *NIGHT, *FROM, "--check", saved(tmp_path, whole))
    assert good.exit_code == 0 and "nothing wrong" in good.stdout
    whole["entries"][1]["target_id"] = whole["entries"][0]["target_id"]
    whole["entries"][3]["target_id"] = "no such thing"
    bad = run("plan", *NIGHT, *FROM, "--check", saved(tmp_path, whole))
    assert bad.exit_code == 1 and bad.stdout == ""
    faults = " ".join(bad.stderr.split()).split("Error: ")[1:]
    assert any("entry 2, " in fault and "stands twice" in fault for fault in faults)
    assert any("entry 4, " in fault and "take it out" in fault for fault in faults)


def test_a_plan_is_made_anew_in_the_night(tmp_path: Path) -> None:
    """From 19:50 on with one skipped and a cloud: what is over stays over, the rest keeps turn."""
    whole = json.loads(printed())
    skipped = next(
        entry["target_id"] for entry in whole["entries"] if entry["start"][11:16] >= "20:00"
    )
    result = run(
        "plan", *NIGHT, "--from", "19:50", "--keep", saved(tmp_path, whole), "--skip", skipped,
        "--seeing", "2.3", "--clouds", "20:20-20:30", "--format", "json",
    )  # fmt: skip
    assert result.exit_code == 0, result.stderr
    again = json.loads(result.stdout)
    over = {e["target_id"] for e in whole["entries"] if e["end"][11:16] <= "19:50"}
    now = [e["target_id"] for e in again["entries"]]
    assert over and not over & set(now) and skipped not in now
    for entry in again["entries"]:
        assert entry["end"][11:16] <= "20:20" or entry["start"][11:16] >= "20:30"
    before = [e["target_id"] for e in whole["entries"] if e["target_id"] in now]
    assert len(before) >= 2


def test_a_plan_as_text_fits_and_tells_what_is_wanted_in_vain() -> None:
    """At most 100 columns; the must-see that never rises is named before the looks."""
    result = run("plan", *NIGHT, *FROM, "--must", "ngc 5139", "--break", "20:00-20:10")
    assert result.exit_code == 0, result.stderr
    assert max(map(len, result.stdout.splitlines())) <= MOST_COLUMNS
    assert "You asked for" in result.stdout and "a break" in result.stdout
    assert "% of what any could" in " ".join(result.stdout.split())


def test_plan_rejects_files_that_are_no_order(tmp_path: Path) -> None:
    """One line each, naming file, entry and remedy."""
    path = tmp_path / "plan.json"
    for text, words in (
        ("{", "no JSON"),
        ('{"format": "other"}', "planner-plan/1"),
        ('{"format": "planner-plan/1", "entries": 3}', "must be a list"),
        ('{"format": "planner-plan/1", "entries": [{"start": "20:00"}]}', "entry 1"),
    ):
        path.write_text(text, encoding="utf-8")
        result = run("plan", *NIGHT, "--check", str(path))
        assert result.exit_code == 2 and words in one_message(result.stderr)


def test_a_filed_order_brings_its_own_date(tmp_path: Path) -> None:
    """Checked without --date; on another date asked for its times are of another night."""
    path = saved(tmp_path, json.loads(printed()))
    hours = ("--until", "21:00", "--limit", "20", *FROM)
    assert run("plan", *hours, "--check", path).exit_code == 0
    other = run("plan", *hours, "--date", "2026-11-12", "--check", path)
    assert other.exit_code == 1 and path in one_message(other.stderr)
