"""`planner chart`, as typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from sample_nights import one_message, run

from planner.targets.sky_position import sky_position_deg

if TYPE_CHECKING:
    from pathlib import Path

NIGHT = ("--date", "2026-12-08")
SIGNATURES = {"pdf": b"%PDF", "png": b"\x89PNG", "svg": b"<?xml"}  # of the three standards


@pytest.mark.parametrize("kind", SIGNATURES)
def test_chart_writes_each_kind_of_file(tmp_path: Path, kind: str) -> None:
    """And nothing beside it."""
    path = tmp_path / f"ring.{kind}"
    result = run("chart", "m57", *NIGHT, "--time", "18:00", "--eye", "-o", str(path))
    assert result.exit_code == 0, result.output
    assert result.stdout == f"wrote {path}: M 57 Ring Nebula at 18:00\n"
    assert path.read_bytes().startswith(SIGNATURES[kind])
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_chart_prints_its_words(tmp_path: Path) -> None:
    """Greek as in print; the text is there to be found in the file."""
    path = tmp_path / "izar.pdf"
    result = run("chart", "eps boo", "--date", "2027-06-20", "--eyepiece", "10 MM", "-o", str(path))
    assert result.exit_code == 0, result.output
    text = PdfReader(path).pages[0].extract_text()
    for words in ("Izar, ε Boo AB", "10 mm, 104x", "not mirrored", "20 June 2027"):
        assert words in text


def test_chart_of_a_bare_place_shows_what_is_there(tmp_path: Path) -> None:
    """Beside 5h35m, -5 23' stands M 43 (Messier's list, from memory)."""
    path = tmp_path / "place.svg"
    result = run("chart", "05 35.3 -05 23", *NIGHT, "--field", "3", "--eyepiece", "32 mm",
                 "--orientation", "upright", "-o", str(path))  # fmt: skip
    assert result.exit_code == 0, result.output
    text = path.read_text(encoding="utf-8")
    assert "M 43" in text and "05h35.3m −05°23" in text
    assert "upright, as the eye sees it" in text and "3° wide" in text


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("M 57", "-o", "x.jpg"), 2, "ending in .pdf, .png or .svg"),
        (("M 57", "-o", "nowhere/x.pdf"), 2, "there is no folder nowhere"),
        (("M 57", "--eye", "--eyepiece", "18 mm", "-o", "x.pdf"), 2, "exclude one another"),
        (("M 57", "--eyepiece", "19 mm", "-o", "x.pdf"), 2, "did you mean '18 mm'"),
        (("M 57", "--finder", "big", "-o", "x.pdf"), 2, "no [[finder]] block"),
        (("M 57", "--time", "12:00", "-o", "x.pdf"), 2, "--time 12:00 is not in the night"),
        (("M 57", "--time", "03:00", "-o", "x.pdf"), 1, "below the local horizon at 03:00"),
        (("25 00 -05 00", "-o", "x.pdf"), 2, "no such place in the sky"),
        (("02 00 -89 00", "-o", "x.pdf"), 1, "below the local horizon at any dark time"),
        (("M 571", "-o", "x.pdf"), 2, "no target"),
        (("M 57", "--site", "Nordkapp", "--date", "2026-06-20", "-o", "x.pdf"), 1, "does not set"),
    ],
)
def test_chart_refuses_with_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], code: int,
    words: str,
) -> None:  # fmt: skip
    """The thing and the remedy, and no file."""
    monkeypatch.chdir(tmp_path)
    result = run("chart", *NIGHT, *arguments)
    assert result.exit_code == code, result.output
    assert words in one_message(result.stderr)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("05 35.3 -05 23", (83.825, -5.3833)),
        ("05:35:17.3 -05:23:28", (83.822, -5.3911)),
        ("05h35m17s −05°23′28″", (83.821, -5.3911)),
        ("83.82 +5.39", (83.82, 5.39)),
        ("00 00 -00 30", (0.0, -0.5)),
        ("M 57", None),
        ("16 Cyg", None),
        ("eps Boo", None),
        ("WDS 12345-0123", None),
    ],
)
def test_sky_positions_are_told_from_names(text: str, place: tuple[float, float] | None) -> None:
    """An hour is 15 degrees; the sign of "-00 30" counts."""
    found = sky_position_deg(text)
    assert found is None if place is None else found == pytest.approx(place, abs=6e-4)
