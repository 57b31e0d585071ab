"""Records, their lines, and what counts after corrections and undoing."""

from __future__ import annotations

import datetime as dt
import itertools
import json
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from log_samples import FIRST_LOOK, look

from planner.log.history import last_act, standing
from planner.log.line import DamagedLineError, line_of, record_of
from planner.log.outcome import Outcome
from planner.log.reading import read_journal
from planner.log.record import Record
from planner.log.writing import append, log_file
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from pathlib import Path


def test_a_line_gives_back_its_record() -> None:
    bare = Record("a", FIRST_LOOK.astimezone(dt.UTC), FIRST_LOOK, FIRST_LOOK.date(), "NGC7662",
                  "NGC 7662", Kind.PLANETARY_NEBULA)  # fmt: skip
    for record in (bare, look()):
        line = line_of(record)
        assert line.endswith(b"\n") and line.count(b"\n") == 1
        assert record_of(line) == record
        assert json.loads(line)["format"] == "planner-log/1"  # by the standard library's reader


def test_a_field_of_a_later_planner_spoils_nothing() -> None:
    record = look()
    line = line_of(record).replace(b'{"id"', b'{"dew": ["on", "mirror"], "id"')
    assert b"dew" in line and record_of(line) == record


def test_a_note_over_several_lines_stays_one_line() -> None:
    record = look(note="first\nsecond\r\u2028third")
    assert line_of(record).count(b"\n") == 1
    assert record_of(line_of(record)).note == record.note


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (b'{"format": "planner-log/1", "id": "a', "truncated"),
        (b"[1]", "Expected `object`"),
        (b'{"format": "planner-log/9"}', "format"),
        (line_of(look()).replace(b'"clean"', b'"superb"', 1), "superb.*outcome"),
        (line_of(look()).replace(b'"target"', b'"tgt"'), "missing required field `target`"),
        (line_of(look()).replace(b"+01:00", b""), "without its zone"),
    ],
)
def test_a_damaged_line_is_refused_with_its_reason(line: bytes, why: str) -> None:
    with pytest.raises(DamagedLineError, match=why):
        record_of(line)


def test_reading_keeps_every_good_line_and_numbers_the_bad(tmp_path: Path) -> None:
    path = log_file(tmp_path, "pc")
    records = [look(number) for number in range(4)]
    lines = [line_of(record) for record in records]
    bad = [b"\xff\xfe rubbish\n", b"{}\n"]
    path.write_bytes(lines[0] + bad[0] + lines[1] + b"\n" + bad[1] + lines[2] + lines[3][:50])
    journal = read_journal(tmp_path)
    assert list(journal.records) == records[:3]
    assert [damage.number for damage in journal.damaged] == [2, 5, 7]


def test_a_torn_last_line_does_not_spoil_the_next_record(tmp_path: Path) -> None:
    path = log_file(tmp_path, "pc")
    first, torn, later = look(0), look(1), look(2)
    path.write_bytes(line_of(first) + line_of(torn)[:100])
    append(path, [later])
    journal = read_journal(tmp_path)
    assert list(journal.records) == [first, later]
    assert [damage.number for damage in journal.damaged] == [2]


def test_a_last_line_without_its_newline_counts(tmp_path: Path) -> None:
    path = log_file(tmp_path, "pc")
    first, later = look(0), look(1)
    path.write_bytes(line_of(first).rstrip())  # as some editors save
    append(path, [later])
    assert list(read_journal(tmp_path).records) == [first, later]


def test_files_of_all_machines_are_read_and_the_first_of_equal_ids_counts(tmp_path: Path) -> None:
    one, other = look(0), look(1)
    append(log_file(tmp_path, "garden-pc.local"), [one])
    append(log_file(tmp_path, "über/laptop"), [replace(one, note="copied and edited"), other])
    assert sorted(path.name for path in tmp_path.glob("*.jsonl")) == [
        "log-ber-laptop.jsonl", "log-garden-pc-local.jsonl",
    ]  # fmt: skip
    assert len(read_journal(tmp_path).records) == 2


def _later(record: Record, minutes: int, **more: object) -> Record:
    written = record.written + dt.timedelta(minutes=minutes)
    return replace(record, id=f"{record.id}+{minutes}", written=written, replaces=record.id, **more)


def test_a_correction_counts_in_place_of_what_it_corrects() -> None:
    first = look(0)
    better = _later(first, 5, outcome=Outcome.JUST)
    best = _later(better, 6, outcome=Outcome.NOTCHED)
    elsewhere = replace(_later(first, 7, outcome=Outcome.ELONGATED), id="other machine")
    assert standing([first, better, best, elsewhere]) == (elsewhere,)
    assert standing([first, better, best]) == (best,)


def test_undoing_a_correction_brings_back_what_it_corrected() -> None:
    first = look(0)
    better = _later(first, 5, outcome=Outcome.JUST)
    undone = _later(better, 6, outcome=None, withdraws=True)
    again = replace(undone, id="again", replaces=first.id)
    assert standing([first, better, undone]) == (first,)
    assert standing([first, better, undone, again]) == ()
    assert last_act([first, better]) == (better,)
    assert last_act([first, better, undone]) == (first,)
    assert last_act([first, better, undone, again]) == ()


def test_a_batch_is_undone_as_one() -> None:
    alone = look(0)
    batch = [look(number, batch="evening") for number in (1, 2, 3)]
    assert last_act([alone, *batch]) == tuple(batch)


def test_a_circle_of_corrections_ends() -> None:
    one, other = look(0, id="a", replaces="b"), look(1, id="b", replaces="a")
    assert {record.id for record in standing([one, other])} == {"a", "b"}


def test_the_order_of_the_lines_does_not_matter(tmp_path: Path) -> None:
    first = look(0)
    family = [first, _later(first, 5, outcome=Outcome.JUST), look(1)]
    found = set()
    for number, order in enumerate(itertools.permutations(family)):
        folder = tmp_path / str(number)
        append(log_file(folder, "pc"), order)
        found.add(tuple(record.id for record in standing(read_journal(folder).records)))
    assert len(found) == 1
