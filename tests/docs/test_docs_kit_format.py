"""docs/formats.md names every key of the kit file, with the range and default of the reader."""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest
from doc_pages import DOCS, bare, fenced, tables

from planner.kit import block, instruments, places, reading
from planner.kit.reading import example_text, parse_kit

PAGE = DOCS / "formats.md"
KEYS = {
    "[[site]]": places.PLACE_KEYS,
    "[[telescope]]": instruments.TELESCOPE_KEYS,
    "[[eyepiece]]": instruments.EYEPIECE_KEYS,
    "[[barlow]]": instruments.BARLOW_KEYS,
    "[[filter]]": instruments.FILTER_KEYS,
    "[[finder]]": instruments.FINDER_KEYS,
    "[observer]": reading.OBSERVER_KEYS,
}
MM = {"mm": 1.0, "m": 1000.0, "": 1.0}
RANGE = re.compile(r"(-?[\d.]+)(?: (mm|m))? to (-?[\d.]+)(?: (mm|m))?")
NUMBER = re.compile(r"(-?[\d.]+)(?: (mm|m))?\b")
# Every alternative key at least once, and a second aperture, so that bounds that follow it differ.
OTHER = """
[[site]]
name = "a"
latitude = 1
longitude = 2
time_zone = "UTC"
naked_eye_limit = 5
extinction = 0.2
[[site]]
name = "b"
latitude = 1
longitude = 2
time_zone = "UTC"
bortle = 4
[[telescope]]
name = "lens"
design = "refractor"
aperture = "100 mm"
focal_ratio = 8
obstruction = 0
wavefront_peak_to_valley = 0.1
[[telescope]]
name = "mirror"
design = "newtonian"
aperture = "300 mm"
focal_length = "1500 mm"
obstruction = 0.2
[[eyepiece]]
name = "10"
focal_length = "10 mm"
apparent_field = 50
[observer]
naked_eye_limit = 5.5
"""


@dataclass
class Asked:
    """What the reader allows for one key: bounds and defaults, in mm for lengths."""

    bounds: set[tuple[float, float]]
    defaults: set[float | None]


@pytest.fixture(scope="module")
def asked() -> dict[tuple[str, str], Asked]:
    """Every range the reader asks of a number or length, by block and key."""
    found: dict[tuple[str, str], Asked] = {}
    with pytest.MonkeyPatch.context() as patch:
        for method in ("number", "length"):
            _listen(patch, method, found)
        parse_kit(example_text(), "example")
        parse_kit(OTHER, "other")
    return found


def _listen(patch: pytest.MonkeyPatch, method: str, found: dict[tuple[str, str], Asked]) -> None:
    plain = getattr(block.Block, method)

    def heard(self, key, low, high, default=None, unit="mm", **named):
        given = next((value for name, value in named.items() if "default" in name), default)
        one = found.setdefault((self.place.split("]")[0].strip("["), key), Asked(set(), set()))
        one.bounds.add((float(low), float(high)))
        one.defaults.add(None if given is None else float(given))
        extra = {"unit": unit} if method == "length" else {}
        return plain(self, key, low, high, given, **extra)

    patch.setattr(block.Block, method, heard)


def _rows() -> list[tuple[str, str, str, str]]:
    """Block, key, range and default of every row of the page's kit tables."""
    page = tables(PAGE)
    return [
        (heading.strip("[]"), bare(row[0]), row[2], row[3])
        for heading in KEYS
        for row in page[f"`{heading}`"]
    ]


@pytest.mark.parametrize("heading", KEYS)
def test_kit_tables_name_the_keys_the_reader_knows(heading: str) -> None:
    documented = [bare(row[0]) for row in tables(PAGE)[f"`{heading}`"]]
    assert documented == list(KEYS[heading])


@pytest.mark.parametrize(("name", "key", "text", "default"), _rows())
def test_kit_range_and_default_are_those_of_the_reader(
    asked: dict[tuple[str, str], Asked], name: str, key: str, text: str, default: str
) -> None:
    known = asked.get((name, key))
    if known is None:
        assert text == ""
        return
    match = RANGE.match(text)
    if match is None:  # the page says in words what the bound follows
        assert len(known.bounds) > 1
    else:
        low, low_unit, high, high_unit = match.groups()
        page = (float(low) * MM[low_unit or ""], float(high) * MM[high_unit or ""])
        assert known.bounds == {page}
    if NUMBER.match(default):
        numbers = {float(n) * MM[unit] for n, unit in NUMBER.findall(default)}
        assert known.defaults == numbers
    elif default in ("required", ""):
        assert known.defaults == {None}


def test_smallest_kit_of_the_page_is_a_kit() -> None:
    (text,) = fenced(PAGE, "toml")
    kit = parse_kit(text, "formats.md")
    assert kit.telescope().aperture_mm == pytest.approx(152.4)  # six inches, by definition
