"""`planner nights`: text within the page, a document, and a strict calendar."""

from __future__ import annotations

import json

import pytest
from icalendar import Calendar
from sample_nights import run

OPTIONS = ("--site", "Lindenhof", "--date", "2026-11-26")


def strict(text: str) -> Calendar:
    """A calendar as RFC 5545 wants it: CR LF, 75 octets a line, UID and DTSTAMP, none twice."""
    assert text.endswith("\r\n") and "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    calendar = Calendar.from_ical(text)
    assert calendar["VERSION"] == "2.0" and "PRODID" in calendar
    events = list(calendar.walk("VEVENT"))
    assert events and not any(event.errors for event in events)
    assert len({str(event["UID"]) for event in events}) == len(events)
    for event in events:
        assert event["DTSTAMP"].dt.tzinfo is not None
        assert event["DTSTART"].dt < event["DTEND"].dt
        assert str(event["SUMMARY"])
    return calendar


def test_the_best_nights_come_first_and_fit_the_page() -> None:
    """For two targets each has its column."""
    result = run("nights", "M 33", "Almach", *OPTIONS)
    assert result.exit_code == 0, result.stderr
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 100
    assert any(line.startswith("1  ") and "2026" in line for line in lines)
    assert "M 33" in result.stdout and "Almach" in result.stdout


def test_a_year_tells_each_month() -> None:
    """M 51: hardly up on autumn evenings, high in spring."""
    result = run("nights", "M 51", "--year", *OPTIONS)
    months = result.stdout.partition("through the year")[2]
    assert "Apr 2027" in months and "Oct 2027" in months


def test_the_document_has_every_night_and_chance() -> None:
    """Ranks from 1, each once; a chance for each night."""
    document = json.loads(run("nights", "M 33", "Jupiter", "--format", "json", *OPTIONS).stdout)
    assert document["format"] == "planner-nights/1"
    assert sorted(night["rank"] for night in document["nights"]) == list(range(1, 31))
    assert {target["id"] for target in document["targets"]} == {"NGC 598", "Jupiter"}
    assert all(len(target["nights"]) == 30 for target in document["targets"])


def test_the_calendar_is_strict() -> None:
    """Ten best nights; names with commas survive."""
    result = run("nights", "M 33", "Almach", "--format", "ics", *OPTIONS)
    calendar = strict(result.stdout_bytes.decode())
    assert len(calendar.walk("VEVENT")) == 10


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("no such thing",), "no such thing"),
        (("--year", "--nights", "3"), "either --nights or --year"),
        (("M 33", "--date", "2053-09-30", "--nights", "30"), "lies outside the ephemeris"),
    ],
)
def test_what_cannot_be_is_said_in_a_line(arguments: tuple[str, ...], words: str) -> None:
    """Exit code 1 or 2 and no traceback."""
    result = run("nights", *arguments)
    assert result.exit_code in (1, 2)
    assert words in " ".join(result.stderr.split())
    assert "Traceback" not in result.stderr


def test_an_orders_calendar_is_strict_too() -> None:
    """Each look an entry at its time, the way among its details."""
    result = run(
        "plan", "--date", "2026-12-08", "--until", "19:30", "--limit", "8", "--format", "ics",
        kit=False,
    )  # fmt: skip
    assert result.exit_code == 0, result.stderr
    calendar = strict(result.stdout_bytes.decode())
    events = calendar.walk("VEVENT")
    starts = [event["DTSTART"].dt for event in events]
    assert starts == sorted(starts)
    assert any("way: " in str(event["DESCRIPTION"]) for event in events)
    assert any("°" in str(event["DESCRIPTION"]) for event in events)  # octets, not letters, fold
