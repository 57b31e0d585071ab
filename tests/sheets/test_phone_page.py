"""The phone page as a file: its policy, its words as text only, the same bytes each time."""

from __future__ import annotations

import base64
import hashlib
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from phone_sample import HOSTILE, hostile_html, page, plain_html
from sample_nights import one_message, run

from planner.log.outcome import OTHER_OUTCOMES, PAIR_OUTCOMES

VOID = {"meta", "br", "input", "path", "circle", "ellipse", "image", "rect", "line"}


class Outline(HTMLParser):
    """Tags with their attributes, and what each script and style holds."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.held: dict[str, str] = {}
        self.open: list[str] = []
        self.words: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] in ("script", "style"):
            self.held[self.open[-1]] = data
        elif data.strip():
            self.words.append(data)


def digest(text: str) -> str:
    """A source expression of W3C CSP Level 3, section 2.3.1."""
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


def test_the_policy_names_the_script_and_style_that_are_there() -> None:
    outline = Outline(plain_html())
    assert not outline.open
    (policy,) = (a["content"] for t, a in outline.tags if a.get("http-equiv"))
    assert policy is not None and policy.startswith("default-src 'none';")
    assert f"script-src {digest(outline.held['script'])};" in policy
    assert f"style-src {digest(outline.held['style'])};" in policy
    assert "unsafe" not in policy and "http" not in policy


@pytest.mark.parametrize("html", [plain_html, hostile_html], ids=["plain", "hostile"])
def test_no_tag_acts_and_none_loads_anything(html: object) -> None:
    """One script, one style, no handler or style attribute, nothing from elsewhere."""
    assert callable(html)
    tags = Outline(html()).tags
    assert [t for t, _ in tags].count("script") == [t for t, _ in tags].count("style") == 1
    assert not {"link", "iframe", "object", "embed", "base", "form", "img"} & {t for t, _ in tags}
    for tag, attributes in tags:
        for name, value in attributes.items():
            assert not name.startswith("on") and name != "style", (tag, name)
            if name in ("src", "href"):
                assert (value or "").startswith(("#", "data:image/png;base64,"))


def test_hostile_names_stand_as_words() -> None:
    outline = Outline(hostile_html())
    words = " ".join(outline.words)
    for name in HOSTILE:
        assert name in words
    articles = [a for t, a in outline.tags if t == "article"]
    assert {a["data-name"] for a in articles} == set(HOSTILE)


def test_every_target_has_its_words_circles_and_outcomes() -> None:
    """The verdict's own words: a double's for doubles, the others' for the rest."""
    kinds = set()
    for target in page().targets:
        kinds.add(target.kind == "double")
        wanted = PAIR_OUTCOMES if target.kind == "double" else OTHER_OUTCOMES
        assert target.outcomes == tuple(outcome.value for outcome in wanted)
        assert len(target.views) >= 3 and target.way and target.expectation
        assert all(view.svg.startswith("<svg ") and "<desc>" in view.svg for view in target.views)
        assert re.search(r"T\d\d:\d\d:\d\d[+-]\d\d:\d\d$", target.start_iso)
    assert kinds == {True, False}


def test_sheet_rejects_another_kind_of_file(tmp_path: Path) -> None:
    result = run("sheet", "-o", str(tmp_path / "x.txt"))
    assert result.exit_code == 2 and ".pdf or .html" in one_message(result.stderr)


def test_the_log_it_saves_has_the_fields_of_the_page_of_formats() -> None:
    """The names in the script are those of docs/formats.md, in their order."""
    docs = Path(__file__).parents[2] / "docs" / "formats.md"
    section = docs.read_text(encoding="utf-8").split("### `entries[]` of the sheet's log\n")[1]
    told = re.findall(r"^\| `(\w+)` \|", section.split("\n#")[0], re.MULTILINE)
    script = Outline(plain_html()).held["script"]
    pushed = script.split("whole.entries.push({")[1].split("});")[0]
    assert re.findall(r"(\w+): ", pushed) == told
