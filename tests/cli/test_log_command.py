"""`planner log`: looks written down, put right, taken back, brought in, and what a night makes of
them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner, Result

from planner.cli.root import main
from planner.kit.reading import example_text

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Run = Callable[..., Result]

EVENING = ("--date", "2026-11-03")


@pytest.fixture
def kit(tmp_path: Path) -> Path:
    """The example's kit with its log in a folder beside it."""
    path = tmp_path / "kit.toml"
    path.write_text(example_text().replace('# log = "log"', 'log = "log"'), encoding="utf-8")
    return path


@pytest.fixture
def run(kit: Path) -> Run:
    """Runs a command with that kit."""

    def command(*words: str, **more: Any) -> Result:
        return CliRunner().invoke(main, [*words, "--kit", str(kit)], **more)

    return command


def _lines(kit: Path) -> list[dict[str, Any]]:
    (path,) = (kit.parent / "log").glob("log-*.jsonl")
    return [json.loads(line) for line in path.read_bytes().splitlines()]


def test_a_look_is_kept_with_its_pair_and_the_promise(run: Run, kit: Path) -> None:
    done = run("log", "add", "almach", "--seen", "cl", "--companion", "held", "--clock", "4:30",
               "--seeing", "2", "--eyepiece", "7", "--at", "01:10", *EVENING)  # fmt: skip
    assert done.exit_code == 0, done.output
    assert "logged gam1 And Almach A,BC: clean, companion held at 4:30" in done.output
    (record,) = _lines(kit)
    assert record["at"] == "2026-11-04T01:10:00+01:00" and record["night"] == "2026-11-03"
    assert record["eyepiece"] == "7 mm" and record["magnification"] == 148.6  # 1040 / 7
    assert record["pair"]["separation_arcsec"] == pytest.approx(9.5, abs=0.3)  # handbooks: 9.6"
    assert record["pair"]["v1"] == pytest.approx(2.2, abs=0.2)
    assert record["said"]["outcome"] == "clean" and len(record["said"]["worst_seeing_arcsec"]) == 4
    assert record["target"] and record["telescope"] == "Elsa" and record["site"] == "Lindenhof"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("almach", "--seen", "plain"), "a double star is not split"),
        (("m 31", "--seen", "clean"), "a galaxy is not seen"),
        (("m 31", "--seen", "plain", "--clock", "4"), "for doubles"),
        (("almach", "--seen", "n"), "says none of them surely"),
        (("almach", "--seen", "clean", "--seeing", "superb"), "very steady"),
        (("almach", "--seen", "clean", "--seeing", "nan"), "arcseconds from"),
        (("almach", "--seen", "clean", "--eyepiece", "99"), "one of the kit's"),
        (("almach", "--seen", "clean", "--clock", "13"), "4:30"),
        (("almach",), "say how gam1 And Almach"),
        ((), "name the target"),
    ],
)
def test_a_word_that_means_nothing_is_refused(run: Run, words: tuple[str, ...], told: str) -> None:
    done = run("log", "add", *words, "--at", "21:40", *EVENING)
    assert done.exit_code == 2 and told in " ".join(done.output.split())


def test_a_look_to_come_is_refused(run: Run) -> None:
    done = run("log", "add", "m 31", "--seen", "plain", "--at", "21:40", "--date", "2049-11-03")
    assert done.exit_code == 2 and "has not been yet" in done.output


def test_a_look_is_asked_for_on_a_terminal(
    run: Run, kit: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.cli.log_questions.at_terminal", lambda: True)
    answers = "quatsch\nalmach\n9\n4\n3\n4\nsteady\n7\nwind\n"
    done = run("log", "add", "--at", "21:40", *EVENING, input=answers)
    assert done.exit_code == 0, done.output
    (record,) = _lines(kit)
    told = [record[k] for k in ("outcome", "companion", "companion_clock", "seeing_arcsec", "note")]
    assert told == ["just", "held", 4.0, 1.5, "wind"]


def test_corrections_and_undoing_are_new_lines(run: Run, kit: Path) -> None:
    run("log", "add", "m 31", "--seen", "plain", "--at", "21:40", *EVENING)
    run("log", "correct", "--seen", "with care", "--note", "haze")
    assert "with care" in run("log", "show").output
    first = _lines(kit)[0]
    assert "the correction" in run("log", "undo").output
    assert "plain" in run("log", "show").output and "haze" not in run("log", "show").output
    run("log", "undo")
    assert "Nothing in the log" in run("log", "show").output
    assert run("log", "undo").exit_code == 1
    assert len(_lines(kit)) == 4 and _lines(kit)[0] == first  # nothing was ever changed


def _sheet(**row: Any) -> dict[str, Any]:
    entry = {
        "target_id": "NGC 224", "name": "M 31", "kind": "galaxy",
        "planned_start": "2026-11-03T21:00:00+01:00", "eyepiece": "32 mm", "magnification": 32.5,
        "done": True, "outcome": "plain", "note": "", "at": "2026-11-03T21:04:00+01:00",
    }  # fmt: skip
    rest = [entry | {"target_id": "NGC 7662", "done": False, "outcome": None}]
    return {
        "format": "planner-sheet-log/1", "night": "2026-11-03", "site": "Lindenhof",
        "telescope": "Elsa", "exported": "2026-11-04T08:00:00+01:00",
        "entries": [entry | row, *rest],
    }  # fmt: skip


def test_a_sheet_is_brought_in_once_and_its_changes_are_corrections(
    run: Run, kit: Path, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.json"
    path.write_text(json.dumps(_sheet()), encoding="utf-8")
    assert "1 looks added, 0 corrected" in run("log", "import", str(path)).output
    assert "0 looks added, 0 corrected, 1 known" in run("log", "import", str(path)).output
    path.write_text(json.dumps(_sheet(outcome="with care")), encoding="utf-8")
    assert "0 looks added, 1 corrected" in run("log", "import", str(path)).output
    run("log", "undo")
    run("log", "undo")
    assert "1 looks added" in run("log", "import", str(path)).output
    assert "1 look at 1 target" in run("log", "show").output
    assert len(_lines(kit)) == 5


def test_a_table_is_brought_in_and_its_faults_told_by_line(
    run: Run, kit: Path, tmp_path: Path
) -> None:
    path = tmp_path / "evening.csv"
    path.write_text(
        "date;time;target;outcome;seeing\n2026-11-03;21:40;Almach;clean;2\n"
        "2026-11-03;22:00;Quatsch;plain;\n2026-11-03;late;M 31;plain;\n",
        encoding="utf-8",
    )
    done = run("log", "import", str(path))
    assert done.exit_code == 1 and "1 looks added" in done.output
    told = " ".join(done.output.split())
    assert "line 3, Quatsch" in told and "line 4" in told
    assert len(_lines(kit)) == 1


def test_the_export_gives_every_look_that_counts(run: Run, tmp_path: Path) -> None:
    run("log", "add", "almach", "--seen", "clean", "--at", "21:40", *EVENING)
    told = json.loads(run("log", "export", "--format", "json").output)
    assert told["format"] == "planner-log-export/1" and told["records"][0]["outcome"] == "clean"
    assert run("log", "export", "-o", str(tmp_path / "x.csv")).exit_code == 0
    header, row = (tmp_path / "x.csv").read_text(encoding="utf-8").splitlines()
    assert header.startswith("night,at,name,outcome") and row.startswith("2026-11-03,")


def test_a_damaged_line_is_told_with_its_number_and_kept(run: Run, kit: Path) -> None:
    run("log", "add", "almach", "--seen", "clean", "--at", "21:40", *EVENING)
    (path,) = (kit.parent / "log").glob("log-*.jsonl")
    path.write_bytes(b"torn {\n" + path.read_bytes())
    done = run("log", "show")
    assert done.exit_code == 0 and "line 1" in done.output and "Almach" in done.output
    assert path.read_bytes().startswith(b"torn {\n")


def test_a_log_that_cannot_be_written_gives_the_look_back(run: Run, kit: Path) -> None:
    (kit.parent / "log").write_text("a file where the folder should be")
    done = run("log", "add", "almach", "--seen", "clean", "--note", "so fine", "--at", "21:40",
               *EVENING)  # fmt: skip
    assert done.exit_code == 1 and "nothing was added" in " ".join(done.output.split())
    assert "planner log add almach --at 21:40" in " ".join(done.output.split())


def test_a_night_marks_what_was_seen_and_narrows_to_it(run: Run, tmp_path: Path) -> None:
    own = tmp_path / "own.txt"
    own.write_text("M 31  # the great one\n\nM 33\nalmach\n", encoding="utf-8")
    run("log", "add", "m 31", "--seen", "plain", "--at", "21:40", *EVENING)
    run("log", "add", "m 33", "--seen", "not seen", "--at", "21:50", *EVENING)
    night = ("tonight", "--date", "2026-11-04", "--list", str(own))
    printed = run(*night, "--format", "json").output
    whole = json.loads(printed[printed.index("{") :])
    looks = {t["name"]: t["last_look"] for t in whole["targets"]}
    assert set(looks) == {"M 31 Andromeda Galaxy", "M 33 Triangulum Galaxy", "gam1 And Almach A,BC"}
    assert looks["M 31 Andromeda Galaxy"] == {
        "night": "2026-11-03", "outcome": "plain", "looks": 1, "in_vain": 0,
    }  # fmt: skip
    assert looks["gam1 And Almach A,BC"] is None
    text = run(*night).output
    assert "seen 3 Nov 2026: plain" in text and "tried 3 Nov 2026: not seen" in text
    assert "M 31 " not in run(*night, "--new").output and "M 33 " in run(*night, "--new").output
    again = run(*night, "--again").output
    assert "M 31 " in again and "M 33 " not in again and "Almach" not in again
    assert run(*night, "--new", "--again").exit_code == 2


def test_an_own_list_names_its_unknown_lines(run: Run, tmp_path: Path) -> None:
    own = tmp_path / "own.txt"
    own.write_text("M 31\nQuatsch\nalmach\nUnsinn\n", encoding="utf-8")
    done = run("tonight", "--date", "2026-11-04", "--list", str(own))
    told = " ".join(done.output.split())
    assert done.exit_code == 2 and "line 2: no target" in told and "line 4: no target" in told
    assert "no such list" in run("tonight", "--list", "nothing").output


def test_an_order_from_now_leaves_out_what_this_night_has_done() -> None:
    import datetime as dt
    from types import SimpleNamespace

    from planner.cli.plan import looked_at_tonight
    from planner.log.seen import Seen

    night, utc = dt.date(2026, 11, 3), dt.UTC

    def seen(date: dt.date, hour: int) -> Seen:
        at = dt.datetime(date.year, date.month, date.day, hour, tzinfo=utc)
        return Seen(date, None, 1, 0, date, at)

    log = {"late": seen(night, 22), "early": seen(night, 20), "old": seen(dt.date(2026, 11, 1), 20)}
    request: Any = SimpleNamespace(date=night, seen=log)
    assert looked_at_tonight(request) == ("early", "late")
