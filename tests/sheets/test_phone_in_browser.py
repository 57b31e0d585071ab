"""The phone page in a real headless browser: red pixels only, ticks that last, a closed policy.

Skipped where there is no Chromium with its driver, unless PLANNER_BROWSER_TESTS is "required".
"""

from __future__ import annotations

import base64
import datetime as dt
import io
import json
import os
import shutil
import time
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from matplotlib.image import imread
from phone_sample import HOSTILE, hostile_html, page, plain_html
from pypdf import PdfReader

from planner.sheets.phone.writing import page_html

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

PHONE, DESK = (360, 740), (1280, 800)
LEAST_TOUCH_PX = 48  # of what is touched; W3C WCAG 2.2 asks 44 (2.5.5, enhanced)
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
DRIVER = shutil.which("chromedriver")
FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--force-color-profile=srgb",
)  # fmt: skip

if not (BROWSER and DRIVER) and os.environ.get("PLANNER_BROWSER_TESTS") != "required":
    pytest.skip("no Chromium with its driver on this machine", allow_module_level=True)


class Browser:
    """One browser with a profile and a download folder of its own."""

    def __init__(self, profile: Path, downloads: Path) -> None:
        from selenium.webdriver import Chrome, ChromeOptions
        from selenium.webdriver.chrome.service import Service

        assert BROWSER and DRIVER, "PLANNER_BROWSER_TESTS is required, but there is no Chromium"
        options = ChromeOptions()
        options.binary_location = BROWSER
        for flag in (*FLAGS, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        self.driver = Chrome(options=options, service=Service(DRIVER))
        self.told("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(downloads))

    def told(self, command: str, **values: Any) -> Any:
        return self.driver.execute_cdp_cmd(command, values)

    def size(self, size: tuple[int, int]) -> None:
        self.told("Emulation.setDeviceMetricsOverride", width=size[0], height=size[1],
                  deviceScaleFactor=1, mobile=size[0] < 600)  # fmt: skip

    def open(self, path: Path, at: str = "") -> None:
        self.driver.get("about:blank")
        self.driver.get(f"{path.as_uri()}{at}")

    def ask(self, script: str, *values: Any) -> Any:
        return self.driver.execute_script(script, *values)

    def pixels(self) -> np.ndarray:
        return np.asarray(imread(io.BytesIO(self.driver.get_screenshot_as_png())))


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("phone")
    (folder / "night.html").write_text(plain_html(), encoding="utf-8")
    (folder / "hostile.html").write_text(hostile_html(), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def browser(place: Path) -> Iterator[Browser]:
    found = Browser(place / "profile", place)
    yield found
    found.driver.quit()


@pytest.fixture
def night(place: Path) -> Path:
    return place / "night.html"


def red_only(pixels: np.ndarray) -> bool:
    return float(pixels[:, :, 1:3].max()) == 0.0 and float(pixels[:, :, 0].max()) > 0.0


def test_only_red_is_lit_from_the_first_frame(browser: Browser, night: Path, place: Path) -> None:
    """The file cut where a slow load may show it: past the head, in the list, before the script."""
    html = plain_html()
    browser.size(PHONE)
    for mark in ("<header", 'id="list"', "<main>", "<figure", "<script>"):
        part = place / "part.html"
        part.write_text(html[: html.index(mark) + 40], encoding="utf-8")
        browser.open(part)
        pixels = browser.pixels()
        assert float(pixels[:, :, 1:3].max()) == 0.0, mark


def test_only_red_is_lit_in_every_state(browser: Browser, night: Path) -> None:
    """List, every view of two targets, filled, focused, selected, and on a wide screen."""
    for size in (PHONE, DESK):
        browser.size(size)
        browser.open(night)
        assert red_only(browser.pixels())
        for number in (1, 3):
            browser.open(night, f"#t{number}")
            count = browser.ask(
                f"return document.querySelectorAll('#t{number} [data-view]').length"
            )
            for view in range(count):
                browser.ask(f"document.querySelectorAll('#t{number} [data-view]')[{view}].click()")
                assert red_only(browser.pixels()), (size, number, view)
        browser.ask(
            "const a = document.querySelector('#t3'); a.querySelector('[type=radio]').click();"
            "a.querySelector('[type=checkbox]').click(); const n = a.querySelector('textarea');"
            "n.value = 'faint, 2 of 3 '.repeat(30); n.focus(); n.select();"
            "a.querySelector('fieldset').scrollIntoView();"
        )
        assert red_only(browser.pixels())
    browser.open(night)
    browser.ask(
        "document.getElementById('save').click();"
        "document.querySelectorAll('details').forEach(part => { part.open = true; });"
    )
    assert red_only(browser.pixels())
    for _ in range(2):
        browser.open(night)
        browser.ask("document.getElementById('dim').click()")
        assert red_only(browser.pixels())
    browser.ask("localStorage.clear()")


@pytest.mark.parametrize("size", [PHONE, DESK])
def test_nothing_scrolls_sideways_and_fingers_hit(
    browser: Browser, night: Path, size: tuple[int, int]
) -> None:
    browser.size(size)
    for at in ("", "#t1", "#t4"):
        browser.open(night, at)
        assert browser.ask("return document.documentElement.scrollWidth <= innerWidth")
        low = browser.ask(
            "return Array.from(document.querySelectorAll('button, a, label, textarea, summary'))"
            ".map(e => e.getBoundingClientRect()).filter(r => r.height > 0)"
            f".filter(r => r.height < {LEAST_TOUCH_PX} || r.width < {LEAST_TOUCH_PX}).length"
        )
        assert low == 0


def fill(browser: Browser, number: int, outcome: str, note: str) -> None:
    browser.ask(
        "const a = document.getElementById('t' + arguments[0]);"
        "a.querySelector('[value=\"' + arguments[1] + '\"]').click();"
        "const n = a.querySelector('textarea'); n.value = arguments[2];"
        "n.dispatchEvent(new Event('input', {bubbles: true}));",
        number, outcome, note,
    )  # fmt: skip


def test_what_is_ticked_lasts_and_is_saved_as_a_log(night: Path, place: Path) -> None:
    """Through a reload and a restart of the browser; then the file holds it, field by field."""
    target = page().targets[1]
    seen, note = target.outcomes[-1], 'two "dots", 1/3 ″ <b>'
    folder = place / "saved"
    folder.mkdir()
    first = Browser(place / "lasting", folder)
    try:
        first.open(night, "#t2")
        fill(first, 2, seen, note)
        first.open(night)
        assert seen in first.ask("return document.querySelector('[data-seen=\"2\"]').textContent")
    finally:
        first.driver.quit()
    second = Browser(place / "lasting", folder)
    try:
        second.open(night, "#t2")
        kept = second.ask(
            "const a = document.getElementById('t2');"
            "return [a.querySelector('[type=radio]:checked').value,"
            " a.querySelector('[type=checkbox]').checked, a.querySelector('textarea').value]"
        )
        assert kept == [seen, True, note]
        second.ask("location.hash = '#list'; document.getElementById('save').click()")
        saved = folder / f"planner-log-{page().night}.json"
        end = time.monotonic() + 10.0
        while not saved.exists() and time.monotonic() < end:
            time.sleep(0.05)
        whole = json.loads(saved.read_text(encoding="utf-8"))
    finally:
        second.driver.quit()
    (entry,) = whole.pop("entries")
    assert whole.pop("exported")
    assert whole == {
        "format": "planner-sheet-log/1", "night": page().night, "site": page().site,
        "telescope": page().telescope,
    }  # fmt: skip
    assert entry.pop("at")[-6] in "+-"
    assert entry == {
        "target_id": target.target_id, "name": target.name, "kind": target.kind,
        "planned_start": target.start_iso, "eyepiece": target.eyepiece,
        "magnification": target.magnification, "done": True, "outcome": seen, "note": note,
    }  # fmt: skip


def test_the_policy_lets_nothing_out_or_in(browser: Browser, night: Path) -> None:
    browser.open(night)
    broken = browser.driver.execute_async_script(
        "const end = arguments[0], found = new Set();"
        "document.addEventListener('securitypolicyviolation',"
        " e => found.add(e.effectiveDirective));"
        "const i = new Image(); i.src = 'http://127.0.0.1:9/x.png'; document.body.append(i);"
        "const s = document.createElement('script'); s.textContent = 'document.title = 1';"
        "document.body.append(s); fetch('http://127.0.0.1:9/').catch(() => 0);"
        "document.body.setAttribute('style', 'color: lime');"
        "setTimeout(() => end(Array.from(found)), 300);"
    )
    assert {"img-src", "script-src-elem", "connect-src", "style-src-attr"} <= set(broken)
    assert browser.driver.title == page().title


def test_hostile_names_are_shown_and_do_nothing(browser: Browser, place: Path) -> None:
    browser.size(PHONE)
    browser.open(place / "hostile.html")
    assert browser.driver.title == HOSTILE[0]
    assert browser.ask("return document.querySelectorAll('img, script').length") == 1
    assert HOSTILE[0] in browser.ask("return document.getElementById('list').textContent")
    assert red_only(browser.pixels())
    browser.ask("localStorage.clear()")


def test_keys_lead_from_target_to_target_and_the_heading_has_the_focus(
    browser: Browser, night: Path
) -> None:
    from selenium.webdriver.common.keys import Keys

    browser.open(night)
    body = browser.driver.find_element("tag name", "body")
    body.send_keys(Keys.ARROW_RIGHT)
    body.send_keys(Keys.ARROW_RIGHT)
    assert browser.ask("return [location.hash, document.activeElement.id]") == ["#t2", "h2"]
    body.send_keys(Keys.ARROW_LEFT)
    assert browser.ask("return document.activeElement.id") == "h1"
    landmarks = browser.ask(
        "return ['header', 'nav', 'main', 'footer'].map(t => document.querySelectorAll(t).length)"
    )
    assert landmarks == [1, 1, 1, 1]


def test_a_browser_that_keeps_nothing_is_told(browser: Browser, night: Path) -> None:
    made = browser.told(
        "Page.addScriptToEvaluateOnNewDocument",
        source="Storage.prototype.setItem = () => { throw new Error('full') };",
    )
    try:
        browser.open(night)
        told = browser.ask("return document.querySelector('[role=alert]').textContent")
        assert "keeps nothing" in told
    finally:
        browser.told("Page.removeScriptToEvaluateOnNewDocument", identifier=made["identifier"])
    browser.open(night)
    assert browser.ask("return document.querySelector('[role=alert]').textContent") == ""


def test_a_sheet_made_anew_saves_the_looks_of_the_one_before(browser: Browser, place: Path) -> None:
    """Clouds came, the order was made anew with another target first: both looks are in the log."""
    whole = page()
    for name, targets in (("first", whole.targets[:1]), ("second", whole.targets[1:2])):
        path = place / f"{name}.html"
        path.write_text(page_html(replace(whole, targets=targets)), encoding="utf-8")
        browser.open(path, "#t1")
        fill(browser, 1, targets[0].outcomes[0], name)
    browser.ask("location.hash = '#list'; document.getElementById('save').click()")
    log = json.loads(browser.ask("return document.querySelector('#copy textarea').value"))
    assert [entry["note"] for entry in log["entries"]] == ["first", "second"]
    assert [entry["target_id"] for entry in log["entries"]] == [
        target.target_id for target in whole.targets[:2]
    ]
    browser.ask("localStorage.clear()")


def test_what_cannot_be_read_is_set_aside(browser: Browser, night: Path) -> None:
    browser.open(night)
    browser.ask("for (const name of Object.keys(localStorage)) localStorage[name] = '[null'")
    browser.open(night)
    assert "set aside" in browser.ask("return document.querySelector('[role=alert]').textContent")
    assert "[null" in browser.ask("return Object.values(localStorage)")
    browser.ask("localStorage.clear()")


def test_the_target_that_is_due_is_marked(browser: Browser, night: Path) -> None:
    """The latest start that is past, within two hours; none on another day."""
    starts = [dt.datetime.fromisoformat(target.start_iso) for target in page().targets]
    first = min(starts)
    for minutes, wanted in ((1, first), (-1, None), (60 * 24, None)):
        now = 1000.0 * (first + dt.timedelta(minutes=minutes)).timestamp()
        made = browser.told(
            "Page.addScriptToEvaluateOnNewDocument", source=f"Date.now = () => {now};"
        )
        browser.open(night)
        shown = browser.ask(
            "return Array.from(document.querySelectorAll('[data-now]')).map(e => e.textContent)"
        )
        browser.told("Page.removeScriptToEvaluateOnNewDocument", identifier=made["identifier"])
        assert shown == ["now" if start == wanted else "" for start in starts]


def test_no_title_comes_up_in_a_white_box(browser: Browser, night: Path) -> None:
    """A drawing's title would be shown by the system under a resting mouse."""
    browser.open(night, "#t1")
    assert browser.ask("return getComputedStyle(document.querySelector('svg')).pointerEvents") == (
        "none"
    )


def test_the_lit_side_of_a_disc_is_the_brighter_one(browser: Browser, night: Path) -> None:
    """In every look, also where ink is light: a phase is never turned round."""
    browser.open(night, "#t1")
    found = browser.ask(
        "const svg = document.querySelector('svg'), parts = ['lit', 'shade'].map(name => {"
        " const part = document.createElementNS('http://www.w3.org/2000/svg', 'path');"
        " part.setAttribute('class', name); svg.append(part); return part; });"
        "return ['night', 'dim', 'dimmest', 'white'].map(look => {"
        " document.documentElement.dataset.look = look; return parts.map("
        " part => Number(getComputedStyle(part).fill.split('(')[1].split(',')[0])); });"
    )
    assert len(found) == 4 and all(lit > 1.3 * dark for lit, dark in found)


def test_dimmed_light_is_kept_and_there_from_the_start(browser: Browser, night: Path) -> None:
    browser.open(night)
    browser.ask("document.getElementById('dim').click()")
    early = browser.told(
        "Page.addScriptToEvaluateOnNewDocument",
        source="document.addEventListener('readystatechange', () => {"
        " window.early = window.early || document.documentElement.dataset.look; });",
    )
    browser.open(night)
    browser.told("Page.removeScriptToEvaluateOnNewDocument", identifier=early["identifier"])
    assert browser.ask("return window.early") == "dim"
    browser.ask("localStorage.clear()")


def test_white_and_print_are_black_on_white(browser: Browser, night: Path) -> None:
    browser.open(night, "#t1")
    colours = "const s = getComputedStyle(document.body); return [s.color, s.backgroundColor]"
    tap = "document.getElementById('white').click();"
    browser.ask(f"location.hash = '#list'; {tap}")
    assert browser.ask(colours) == ["rgb(255, 0, 0)", "rgb(0, 0, 0)"]  # white asks twice
    browser.ask(tap)
    assert browser.ask(colours) == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    browser.open(night)  # and is never kept
    assert browser.ask(colours) == ["rgb(255, 0, 0)", "rgb(0, 0, 0)"]
    browser.told("Emulation.setEmulatedMedia", media="print")
    try:
        shown = browser.ask(
            "return Array.from(document.querySelectorAll('article'))"
            ".filter(a => a.getBoundingClientRect().height > 0).length"
        )
        assert shown == len(page().targets)
        assert browser.ask(colours)[1] == "rgb(255, 255, 255)"
    finally:
        browser.told("Emulation.setEmulatedMedia", media="")


def test_printed_it_takes_a_page_a_target_and_no_black_ground(
    browser: Browser, night: Path
) -> None:
    """On Letter, the shortest paper: the list, the targets, and at most two pages besides."""
    browser.open(night)
    printed = browser.told("Page.printToPDF", printBackground=True, paperWidth=8.5, paperHeight=11)
    pages = PdfReader(io.BytesIO(base64.b64decode(printed["data"]))).pages
    names = [target.name for target in page().targets]
    assert len(pages) <= len(names) + 3
    text = [leaf.extract_text() for leaf in pages]
    for target in names:
        (own,) = [leaf for leaf in text if f". {target}\n" in leaf and "How did it look?" in leaf]
        assert "Note" in own
    browser.told("Emulation.setEmulatedMedia", media="print")
    try:
        scheme = "return getComputedStyle(document.documentElement).colorScheme"
        assert browser.ask(scheme) in ("light only", "only light")
    finally:
        browser.told("Emulation.setEmulatedMedia", media="")
