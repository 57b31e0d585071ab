"""What the commands say about the time of asking."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sample_nights import KIT, kit_text, run

from planner.cli.night_request import running_note
from planner.ephemeris.civil_night import civil_night


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
        assert note.endswith(f"--from {clock}\n") and len(note) <= 101


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
