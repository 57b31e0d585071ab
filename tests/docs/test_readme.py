"""README and DEVELOPERS keep what they promise."""

from __future__ import annotations

import re

import pytest
from doc_pages import DOCS, ROOT, bare, fenced, tables

README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
PAGES = (README, DEVELOPERS, ROOT / "catalogs" / "README.md", *sorted(DOCS.glob("*.md")))
LINK = re.compile(r"\]\(([^)#:]+)(?:#([^)]*))?\)")
MOST_EXCERPT_LINES = 20


def test_readme_has_two_commands_and_the_check_runs_the_second() -> None:
    """The check takes the command by its beginning and by pytest; only one line may fit."""
    first, second = (block.strip() for block in fenced(README, "sh"))
    assert first.endswith("planner tonight")
    fits = re.compile(r"^python3 -m venv .*pytest.*$", re.MULTILINE)
    assert fits.findall(README.read_text(encoding="utf-8")) == [second]
    assert "grep -E '^python3 -m venv .*pytest' README.md" in (ROOT / ".ci" / "run").read_text(
        encoding="utf-8"
    )


def test_readme_begins_with_the_job_in_one_paragraph() -> None:
    title, paragraph, heading, *_ = README.read_text(encoding="utf-8").split("\n\n")
    assert title.startswith("# ") and heading.startswith("## ")
    assert "telescope" in paragraph


def test_excerpt_is_short() -> None:
    (excerpt,) = fenced(README, "text")
    assert len(excerpt.splitlines()) <= MOST_EXCERPT_LINES


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_of_the_pages_lead_somewhere(page) -> None:
    for path, _ in LINK.findall(page.read_text(encoding="utf-8")):
        assert (page.parent / path).exists(), f"{page.name}: {path}"


def test_places_that_developers_are_sent_to_exist() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    places = set(re.findall(r"`((?:planner|docs|tests|catalogs)/[\w./]*)`", text))
    assert len(places) > 20
    assert not {place for place in places if not (ROOT / place).exists()}


def test_rooms_of_the_page_are_those_of_the_package() -> None:
    rows = tables(DEVELOPERS)["The house and its rooms"]
    rooms = {path.parent.name for path in (ROOT / "planner").glob("*/__init__.py")}
    assert {bare(row[0]).split("/")[1] for row in rows} == rooms
