"""`planner sheet`: the PDF, read back."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from sample_nights import MOONLESS, night_json, run

from planner.charts.letters import printed

if TYPE_CHECKING:
    from pathlib import Path

A4_PT = (595.28, 841.89)  # ISO 216: 210 x 297 mm
LETTER_PT = (612.0, 792.0)  # 8.5 x 11 in
PAGE_TOLERANCE_PT = 0.5


def written(folder: Path, *options: str) -> PdfReader:
    """The sheet of a moonless night."""
    place = folder / "list.pdf"
    result = run("sheet", "--date", MOONLESS, "-o", str(place), *options)
    assert result.exit_code == 0, result.stderr
    assert str(place) in result.stdout
    return PdfReader(place)


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    """The sheet without any option."""
    return written(tmp_path_factory.mktemp("sheet"))


@pytest.fixture(scope="module")
def usual_text(usual: PdfReader) -> list[str]:
    """What its pages say; reading it takes as long as drawing."""
    return [page.extract_text() for page in usual.pages]


def test_the_sheet_lists_what_the_screen_lists(usual_text: list[str]) -> None:
    """Every target by name with its rank by worth, in the order of time, over all pages."""
    text = "\n".join(usual_text)
    targets = night_json("Lindenhof", MOONLESS)["targets"]
    places = {n: text.index(f"{n}. {printed(t['name'])}") for n, t in enumerate(targets, start=1)}
    down_the_page = [targets[rank - 1] for rank in sorted(places, key=places.__getitem__)]
    keys = [(target["best_time"], target["window_end"]) for target in down_the_page]
    assert keys == sorted(keys)
    assert down_the_page != targets
    assert night_json("Lindenhof", MOONLESS, "--order", "time")["targets"] == down_the_page
    for target in targets:
        assert target["best_time"][11:16] in text


def test_the_sheet_may_be_ordered_by_worth(tmp_path: Path) -> None:
    """As the screen is, the most worthwhile first."""
    pages = written(tmp_path, "--order", "worth", "--pages", "list").pages
    text = "\n".join(page.extract_text() for page in pages)
    targets = night_json("Lindenhof", MOONLESS)["targets"]
    places = [text.index(f"{n}. {printed(t['name'])}") for n, t in enumerate(targets, start=1)]
    assert places == sorted(places)


def test_the_sheet_tells_night_instrument_and_assumptions(usual_text: list[str]) -> None:
    """As on the screen."""
    text = usual_text[0]
    assert "Night of Thursday 14 May 2026 at Lindenhof" in text
    assert "154 mm clear" in text
    assert 'seeing 2" at the zenith' in text
    assert "21.50 mag" in text


def test_the_sheet_explains_its_words(usual_text: list[str]) -> None:
    """Also the times in brackets; a double's margin says that it is a seeing."""
    text = " ".join(usual_text[0].split())
    assert "In brackets: from when to when it can be used." in text
    assert "notched = waist" in text


def test_every_page_has_the_cautions_and_its_number(usual_text: list[str]) -> None:
    """The Sun first."""
    for number, page in enumerate(usual_text, start=1):
        text = " ".join(page.split())
        assert "Never point the telescope or a finder at or near the Sun" in text
        assert "lasers away from aircraft" in text
        assert f"page {number} of {len(usual_text)}" in text


def test_every_target_has_room_for_what_was_seen(usual_text: list[str]) -> None:
    """A line for a note on the list, and an empty circle on the target pages."""
    text = "\n".join(usual_text)
    assert usual_text[0].count("note:") == 25
    assert text.count("your drawing") == 25


def test_the_night_stands_on_one_page_and_two_targets_on_each_other(usual: PdfReader) -> None:
    """25 targets: a list and thirteen pages of charts; either alone when asked for."""
    assert len(usual.pages) == 1 + 13


@pytest.mark.parametrize(("part", "count"), [("list", 1), ("charts", 2), ("all", 3)])
def test_parts_of_the_sheet_may_be_left_out(part: str, count: int, tmp_path: Path) -> None:
    """Four targets: the list, two pages of charts, or both."""
    reader = written(tmp_path, "--pages", part, "--limit", "4", "--kinds", "double")
    assert len(reader.pages) == count


def test_an_order_is_printed_as_it_stands(tmp_path: Path) -> None:
    """Entries, times and ways of a plan's JSON, in its own order."""
    made = run("plan", "--date", MOONLESS, "--limit", "12", "--until", "23:30", "--format", "json")
    order = tmp_path / "order.json"
    order.write_text(made.stdout, encoding="utf-8")
    looks = [e for e in json.loads(made.stdout)["entries"] if e["target_id"]]
    reader = written(tmp_path, "--plan", str(order))
    text = reader.pages[0].extract_text()
    places = [
        text.index(f"{n}. {printed(look['name'])[:12]}") for n, look in enumerate(looks, start=1)
    ]
    assert places == sorted(places)
    for look in looks:
        assert look["start"][11:16] in text
    ways = " ".join(page.extract_text() for page in reader.pages[1:])
    assert "Point straight at it" in ways or "towards" in ways


@pytest.mark.parametrize(("paper", "size"), [("a4", A4_PT), ("letter", LETTER_PT)])
def test_pages_have_the_size_asked_for(
    paper: str, size: tuple[float, float], tmp_path: Path
) -> None:
    """Upright, all alike."""
    pages = written(tmp_path, "--paper", paper, "--kinds", "globular-cluster", "--limit", "3").pages
    assert len(pages) == 3
    for page in pages:
        found = (float(page.mediabox.width), float(page.mediabox.height))
        assert found == pytest.approx(size, abs=PAGE_TOLERANCE_PT)


def test_the_sheet_is_black_on_white(usual: PdfReader) -> None:
    """Every colour set in the drawing is a grey: fit for a red lamp and any printer."""
    found = 0
    for page in usual.pages:
        drawing = page.get_contents().get_data().decode("latin-1")
        for red, green, blue in re.findall(r"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG)\b", drawing):
            found += 1
            assert red == green == blue
        assert not re.search(r"[\d.]+ [\d.]+ [\d.]+ [\d.]+ [kK]\b", drawing)
    assert found or "g" in drawing


def test_the_sheet_has_its_text_as_text(usual: PdfReader) -> None:
    """To be searched and copied: fonts are inside, no text is drawn as curves."""
    assert all(page["/Resources"]["/Font"] for page in usual.pages)


def test_an_empty_night_still_makes_a_sheet(tmp_path: Path) -> None:
    """Midnight sun: one page that says why."""
    place = tmp_path / "empty.PDF"
    result = run("sheet", "--site", "Nordkapp", "--date", "2026-06-21", "-o", str(place))
    assert result.exit_code == 0
    (page,) = PdfReader(place).pages
    text = page.extract_text()
    assert "Nothing is shown tonight" in text and "Midnight sun" in text


def test_a_new_sheet_replaces_the_old_one(tmp_path: Path) -> None:
    """And leaves nothing else behind."""
    (tmp_path / "list.pdf").write_bytes(b"old")
    written(tmp_path, "--kinds", "planet")
    assert [place.name for place in tmp_path.iterdir()] == ["list.pdf"]


def test_the_sheet_holds_as_many_targets_as_asked_for(tmp_path: Path) -> None:
    """The limit runs over pages: more than stand on the first one, and their charts."""
    reader = written(tmp_path, "--limit", "27", "--kinds", "double")
    text = "\n".join(page.extract_text() for page in reader.pages)
    assert text.count("your drawing") == text.count("note:") == 27
    assert len(reader.pages) == 2 + 14
