"""What the commands say about the time of asking."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sample_nights import KIT, MOONLESS, kit_text, run

from planner.cli.night_request import running_note, start_from_now
from planner.ephemeris.civil_night import civil_night
from planner.errors import UsageError


@pytest.mark.parametrize(
    ("utc", "clock"),
    [
        (datetime(2026, 12, 8, 11, 0), None),
        (datetime(2026, 12, 8, 15, 30), None),
        (datetime(2026, 12, 8, 15, 40), "16:40"),
        (datetime(2026, 12, 8, 23, 55, 40), "00:55"),
    ],
)
def test_a_night_that_is_on_says_how_to_leave_out_what_is_over(
    utc: datetime, clock: str | None
) -> None:
    """Sunset on 8 December at 48.1 N 8.2 E: about 16:34 by the clock (almanac, from memory)."""
    night = civil_night(KIT.site("Lindenhof").site, date(2026, 12, 8))
    note = running_note(night, utc.replace(tzinfo=UTC))
    if clock is None:
        assert note == ""
    else:
        assert note.startswith(f"note: it is {clock} now")
        assert note.endswith("--from now") and len(note) <= 100


def test_the_midnight_sun_has_no_night_to_be_on() -> None:
    night = civil_night(KIT.site("Nordkapp").site, date(2026, 6, 21))
    assert running_note(night, datetime(2026, 6, 21, 22, 0, tzinfo=UTC)) == ""


@pytest.mark.parametrize(
    "command",
    [("tonight", "--date", "2026-12-08", "--limit", "1", "--kinds", "planets"),
     ("target", "jupiter", "--date", "2026-12-08"), ("scope",),
     ("sheet", "--date", "2026-12-08", "--limit", "1", "--kinds", "planet", "-o")],
)  # fmt: skip
def test_every_command_warns_of_a_place_that_makes_noon_the_night(
    tmp_path: Path, command: tuple[str, ...]
) -> None:
    """A western longitude written as an eastern one; the answer is still given."""
    text = kit_text().replace("longitude = -157.4", "longitude = 157.4")
    file = tmp_path / "kit.toml"
    file.write_text(text, encoding="utf-8")
    given = (*command, str(tmp_path / "x.pdf")) if command[-1] == "-o" else command
    result = run(*given, "--kit", str(file), "--site", "Atoll", kit=False)
    assert result.exit_code == 0
    (first, *_) = result.stderr.splitlines()
    assert first.startswith("warning: Atoll: ") and "longitude" in result.stderr
    quiet = run(*given, "--kit", str(file), "--site", "Kauri", kit=False)
    assert "warning" not in quiet.stderr


@pytest.mark.parametrize(
    ("utc", "clock", "fold"),
    [
        (datetime(2026, 10, 24, 21, 10), "23:10", 0),
        (datetime(2026, 10, 25, 0, 20), "02:20", 0),
        (datetime(2026, 10, 25, 1, 20), "02:20", 1),  # once more, the clocks set back
    ],
)
def test_now_is_the_clock_of_the_site(utc: datetime, clock: str, fold: int) -> None:
    """Central European summer time ends on 25 October 2026 at 1:00 UTC (IANA zone rules)."""
    night = civil_night(KIT.site("Lindenhof").site, date(2026, 10, 24))
    start, note = start_from_now(night, utc.replace(tzinfo=UTC))
    assert start is not None and note == ""
    assert (f"{start:%H:%M}", start.fold) == (clock, fold)


def test_now_before_the_night_changes_nothing_and_after_it_is_refused() -> None:
    night = civil_night(KIT.site("Lindenhof").site, date(2026, 12, 8))
    start, note = start_from_now(night, datetime(2026, 12, 8, 12, 0, tzinfo=UTC))
    assert start is None and "begins only at 16:3" in note
    with pytest.raises(UsageError, match="--from now: the night of 2026-12-08 ended at 08:0"):
        start_from_now(night, datetime(2026, 12, 9, 9, 0, tzinfo=UTC))


def test_the_list_keeps_to_the_usual_hours_unless_told_otherwise(tmp_path: Path) -> None:
    """Every window in them; the head says which they are, and whose."""
    file = tmp_path / "kit.toml"
    file.write_text(kit_text() + 'usual_until = "23:30"\n', encoding="utf-8")

    def head(*options: str) -> str:
        result = run(
            "tonight", "--date", MOONLESS, "--limit", "5", "--kit", str(file), *options, kit=False
        )
        assert result.exit_code == 0, result.stderr
        return next(line for line in result.stdout.splitlines() if line.startswith("Hours: "))

    assert head() == "Hours: dusk to 23:30, your usual ones (--whole-night for all)"
    assert head("--whole-night") == "Hours: the whole night, dusk to dawn"
    assert head("--from", "22:30") == "Hours: 22:30 to 23:30, the end as usual"
    assert head("--from", "23:30") == "Hours: 23:30 to dawn, as asked for"
    assert head("--until", "01:00") == "Hours: dusk to 01:00, as asked for"
    text = run("tonight", "--date", MOONLESS, "--kit", str(file), "--format", "json", kit=False)
    document = json.loads(text.stdout)
    assert document["night"]["hours_until"] == "23:30" and document["night"]["hours_usual"]
    ends = [target["window_end"][11:16] for target in document["targets"]]
    assert max(ends) == "23:30" and min(ends) > "21:00"


def test_what_is_up_only_at_other_hours_says_when() -> None:
    """Saturn in May 2026, at the end of the night; the remedy is named."""
    text = " ".join(run("target", "m 2", "--date", MOONLESS, "--until", "23:30").stdout.split())
    assert "not shown tonight: only 0" in text and "--whole-night" in text


def test_whole_night_goes_with_no_other_hours() -> None:
    result = run("tonight", "--date", MOONLESS, "--whole-night", "--until", "23:00")
    assert result.exit_code == 2 and "--whole-night" in result.stderr


def test_all_in_text_is_cut_with_a_remark() -> None:
    """As many of those not shown as are listed; the last line says how to get the rest."""
    text = run("tonight", "--date", MOONLESS, "--all", "--limit", "4").stdout
    last = " ".join(text[text.index("4 listed of") :].split())
    assert ", 4 of " in last and "not shown. More: --limit N, or --format csv" in last
    below = text[text.index("Not shown tonight:") : text.index("4 listed of")]
    assert len([line for line in below.splitlines() if line[2:3].strip()]) <= 5
