"""docs/models.md states the numbers that the code works with."""

from __future__ import annotations

import importlib
import re

import pytest
from doc_pages import DOCS, ROOT, bare, tables

from planner.ephemeris.kernel import covered_dates
from planner.eye.acuity import LOSS_PER_MAG
from planner.kit.reading import FIELD_FACTORS
from planner.sheets.double_words import split_words
from planner.sky.extinction import AEROSOL_MAG, Aerosol
from planner.verdict.pairs.criteria import CRITERIA, UNEQUAL_FROM_MAG, SplitClass

PAGE = DOCS / "models.md"
TEXT = " ".join(PAGE.read_text(encoding="utf-8").split())
HAND_SET = tables(PAGE)["Numbers set by hand"]
MARKED = re.compile(r"^([A-Z][A-Z_]+) = [-0-9.e]+ +#.*(?:calibrated by hand|own judgement)")


def test_criteria_table_is_that_of_the_code() -> None:
    """Dips, contrast, magnitudes in hand, apparent separation and words of every class."""
    rows = {row[0]: row[1:] for row in tables(PAGE)["Double stars"]}
    assert set(rows) == {c.name.lower() for c in CRITERIA}
    for split_class, criterion in CRITERIA.items():
        *cells, equal_words, unequal_words = rows[split_class.name.lower()]
        numbers = [None if cell == "-" else float(cell.strip("'")) for cell in cells]
        by_shape = split_class is SplitClass.ELONGATED
        image = [criterion.dip, criterion.unequal_dip, criterion.contrast]
        assert numbers[:3] == ([None] * 3 if by_shape else image)
        assert numbers[3:] == [criterion.margin_mag, criterion.apparent_arcmin]
        assert equal_words == split_words(split_class, 0.0)
        assert unequal_words == split_words(split_class, UNEQUAL_FROM_MAG)


@pytest.mark.parametrize(("name", "value"), [(bare(row[0]), row[1]) for row in HAND_SET])
def test_number_set_by_hand_is_that_of_the_code(name: str, value: str) -> None:
    module, constant = name.rsplit(".", 1)
    assert getattr(importlib.import_module(module), constant) == float(value)


def test_every_number_set_by_hand_is_listed() -> None:
    """Each constant that its own line calls calibrated by hand or own judgement."""
    marked = set()
    for path in sorted((ROOT / "planner").rglob("*.py")):
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for line in path.read_text(encoding="utf-8").splitlines():
            if match := MARKED.match(line):
                marked.add(f"{module}.{match.group(1)}")
    assert marked
    assert not marked - {bare(row[0]) for row in HAND_SET}


def test_dates_covered_are_those_of_the_ephemeris() -> None:
    first, last = covered_dates()
    assert f"{first.isoformat()} to {last.isoformat()}" in TEXT


def test_words_for_eyes_and_air_carry_the_codes_numbers() -> None:
    eyes = ", ".join(f"{FIELD_FACTORS[word]:g} {word}" for word in ("keen", "typical", "casual"))
    assert f"1 laboratory, {eyes}" in TEXT
    clear, average, hazy = (AEROSOL_MAG[a] for a in (Aerosol.CLEAR, Aerosol.AVERAGE, Aerosol.HAZY))
    assert f"A is {clear:.2f} for clear, {average:.2f} for average and {hazy:.2f} for hazy" in TEXT
    assert f"10^({LOSS_PER_MAG:g} (b - 7))" in TEXT
