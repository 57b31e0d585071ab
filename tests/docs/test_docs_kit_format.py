"""docs/formats.md tells of the kit file what its reader does."""

from __future__ import annotations

import pytest
from doc_pages import DOCS, bare, fenced, tables

from planner.kit.reading import parse_kit
from planner.kit.rule import BlockRule
from planner.kit.schema import BLOCKS, MIRROR, MIRROR_EDGE

PAGE = DOCS / "formats.md"


@pytest.mark.parametrize("rule", [*BLOCKS, MIRROR, MIRROR_EDGE], ids=lambda rule: rule.name)
def test_kit_tables_name_the_keys_the_reader_knows(rule: BlockRule) -> None:
    documented = [bare(row[0]) for row in tables(PAGE)[f"`{rule.heading}`"]]
    assert documented == list(rule.names)


def test_smallest_kit_of_the_page_is_a_kit() -> None:
    (text,) = fenced(PAGE, "toml")
    kit = parse_kit(text, "formats.md")
    assert kit.telescope().aperture_mm == pytest.approx(152.4)  # six inches, by definition
