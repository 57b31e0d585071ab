"""docs/formats.md names every field that the outputs have, and no other."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

import pytest
from doc_pages import DOCS, bare, tables

from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.importers.column_map import KEYS
from planner.importers.importing import ImportRequest, import_catalog
from planner.importers.store import imports
from planner.kit.reading import load_kit
from planner.log.line import NAMES
from planner.log.record import LoggedPair, Promise
from planner.night.lunar_nights import feature_tonight, next_moon
from planner.night.planning import make_plan
from planner.night.single_target import plan_lunar_feature, plan_single
from planner.optics.glass import Glass
from planner.sheets.catalog_text import catalog_rows, import_document, import_rows
from planner.sheets.mask_document import mask_document
from planner.sheets.moon_document import feature_document, moon_document
from planner.sheets.night_document import COLUMNS, night_document
from planner.sheets.scope_document import scope_document
from planner.targets.catalog import manifest
from planner.targets.kind import Kind
from planner.targets.lunar_names import lunar_row
from planner.verdict.faintest_star import faintest_star
from planner.verdict.scope.closest_pairs import closest_pairs
from planner.verdict.scope.instrument import instrument_summary
from planner.verdict.scope.limit_reasons import limit_reasons
from planner.verdict.scope.mask_study import judge_good_edge, judge_mask, mask_apertures, mask_study
from planner.verdict.scope.purpose import Purpose, rank_for_purpose
from planner.verdict.scope.view_summary import view_summaries
from planner.verdict.setup import Setup

if TYPE_CHECKING:
    from pathlib import Path

PAGE = DOCS / "formats.md"
DATE = dt.datetime(2026, 6, 15)
CODE = re.compile(r"`(\w+)`")
RICH = "Sgr"  # has targets of nearly every kind, seen, not seen, too low and of unknown brightness
DOUBLES, OTHERS = "`targets[]`, doubles only", "`targets[]`"
SITE_UP_NORTH = """
[[site]]
name = "north"
latitude = 69.6
longitude = 18.9
time_zone = "Europe/Oslo"
sky = 21
[[telescope]]
name = "lens"
design = "refractor"
aperture = "100 mm"
focal_ratio = 8
[[eyepiece]]
name = "10"
focal_length = "10 mm"
apparent_field = 50
"""


def _night(kit: str | None = None, **choice: Any) -> dict[str, Any]:
    options = NightOptions(kit, None, None, DATE, None, None, None, None, None, False, 15.0)
    return night_document(
        make_plan(request_for(options, ChoiceOptions(**choice, for_reading=False)))
    )


@pytest.fixture(scope="module")
def nights(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """Everything in one constellation, seen or not, and a night under the midnight sun."""
    kit = tmp_path_factory.mktemp("kit") / "north.toml"
    kit.write_text(SITE_UP_NORTH, encoding="utf-8")
    return [
        _night(constellation=RICH, include_all=True),
        _night(str(kit), constellation=RICH, include_all=True),
    ]


@pytest.fixture(scope="module")
def scope_setup() -> Setup:
    """The embedded kit's telescope, eye and sky."""
    kit = load_kit()
    place = kit.site()
    return Setup(kit.telescope(), kit.observer, place.zenith_sky_mag, 2.0, place.extinction_mag)


@pytest.fixture(scope="module")
def scope(scope_setup: Setup) -> dict[str, Any]:
    """The scope's answer for the embedded kit, with an order of eyepieces."""
    setup, kit = scope_setup, load_kit()
    views = kit.views(setup.telescope)
    faintest = faintest_star(setup, [view.exit_pupil_mm for view in views])
    return scope_document(
        instrument_summary(setup),
        view_summaries(setup, views),
        faintest,
        limit_reasons(setup, faintest.exit_pupil_mm),
        closest_pairs(setup, views),
        rank_for_purpose(setup, views, Purpose.DOUBLES),
    )


def _documented(heading: str) -> list[str]:
    return [bare(row[0]) for row in tables(PAGE)[heading]]


def _nullable(heading: str) -> set[str]:
    return {bare(row[0]) for row in tables(PAGE)[heading] if row[3]}


def _parts(night: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The objects of a night under the headings of the page."""
    return {
        "The object": [night],
        "`site`": [night["site"]],
        "`night`": [night["night"]],
        "`instrument`": [night["instrument"]],
        "`instrument.eyepieces[]`": night["instrument"]["eyepieces"],
        "`assumptions`": [night["assumptions"]],
        OTHERS: [target for target in night["targets"] if target["kind"] != "double"],
    }


def test_fields_of_the_night_are_those_of_the_page(nights: list[dict[str, Any]]) -> None:
    for heading, objects in _parts(nights[0]).items():
        assert objects
        for found in objects:
            assert list(found) == _documented(heading), heading


def test_fields_of_doubles_are_those_of_the_page(nights: list[dict[str, Any]]) -> None:
    doubles = [target for target in nights[0]["targets"] if target["kind"] == "double"]
    assert doubles
    for found in doubles:
        assert list(found) == _documented(OTHERS) + _documented(DOUBLES)


def test_null_comes_only_where_the_page_says_so(nights: list[dict[str, Any]]) -> None:
    nulls: dict[str, set[str]] = {}
    for night in nights:
        parts = _parts(night)
        doubles = [target for target in night["targets"] if target["kind"] == "double"]
        own = set(_documented(DOUBLES))
        parts[OTHERS] += [{k: v for k, v in d.items() if k not in own} for d in doubles]
        parts[DOUBLES] = [{k: v for k, v in d.items() if k in own} for d in doubles]
        for heading, objects in parts.items():
            found = {name for one in objects for name, value in one.items() if value is None}
            nulls.setdefault(heading, set()).update(found)
    assert nulls["`night`"] and nulls[OTHERS] and nulls[DOUBLES]
    for heading, names in nulls.items():
        assert names <= _nullable(heading), heading


def test_columns_of_the_csv_are_the_fields_of_the_page() -> None:
    assert list(COLUMNS) == _documented(OTHERS) + _documented(DOUBLES)


def test_fields_of_other_pairs_are_those_the_page_names(nights: list[dict[str, Any]]) -> None:
    others = [p for t in nights[0]["targets"] for p in t.get("other_pairs", [])]
    assert others
    for found in others:
        view = ["view", "eyepiece", "magnification", "exit_pupil_mm", "true_field_deg"]
        assert list(found) == ["name", "verdict", *view, *_documented(DOUBLES)[:-1]]


def test_fields_of_the_scope_are_those_of_the_page(scope: dict[str, Any]) -> None:
    parts = {"The scope object": [scope], "`views[]`": scope["views"]}
    parts["`ranking[]`"] = scope["ranking"]
    parts["`closest_pairs[]`"] = scope["closest_pairs"]
    parts["`closest_pairs[].pairs[]`"] = scope["closest_pairs"][0]["pairs"]
    for name in ("telescope", "conditions", "image", "light", "newtonian"):
        parts[f"`{name}`"] = [scope[name]]
    reasons = scope["light"]["faintest_star_reasons"]
    parts["`light.faintest_star_reasons`"] = [reasons]
    parts["`light.faintest_star_reasons.changes[]`"] = reasons["changes"]
    for heading, objects in parts.items():
        assert objects
        for found in objects:
            assert list(found) == _documented(heading), heading
            nulls = {name for name, value in found.items() if value is None}
            assert nulls <= _nullable(heading), heading


def test_fields_of_the_mask_study_are_those_of_the_page(scope_setup: Setup) -> None:
    edge = replace(scope_setup.telescope, glass=Glass(0.05, 6.0, 1.0))
    setup = replace(scope_setup, telescope=edge)
    apertures = mask_apertures(edge)
    steps = [judge_mask(setup, aperture) for aperture in (apertures[0], apertures[-1])]
    study = mask_document(mask_study(setup, steps, judge_good_edge(setup)))
    parts = {
        "The study object": [study],
        "`telescope` of the study": [study["telescope"]],
        "`pairs[]`": study["pairs"],
        "`masks[]`": [*study["masks"], study["good_edge"]],
    }
    for heading, objects in parts.items():
        for found in objects:
            assert list(found) == _documented(heading), heading
            nulls = {name for name, value in found.items() if value is None}
            assert nulls <= _nullable(heading), heading


def test_fields_of_the_moon_are_those_of_the_page() -> None:
    """A night with her, one without, and a feature on both."""
    for date in (dt.datetime(2027, 2, 14), dt.datetime(2027, 2, 6)):
        options = NightOptions(None, None, None, date, None, None, None, None, None, False, 15.0)
        request = request_for(options, ChoiceOptions())
        moon = replace(request, only=frozenset({"Moon"}), kinds=frozenset({Kind.MOON}))
        plan, _ = plan_single(moon)
        place = request.site, request.date
        document = moon_document(plan, next_moon(*place, 15.0))
        row = lunar_row("rupes recta")
        assert row is not None
        found = plan_lunar_feature(request, row)[1]
        told = feature_document(plan, feature_tonight(*place, row, 15.0, found))
        parts = {"The Moon's object": [document], "The feature's object": [told]}
        parts["`good_nights[]`"] = [*told["good_nights"], document["next_moon"]]
        if document["moon"] is not None:
            parts["`moon`"] = [document["moon"]]
            parts["`moon.features[]`"] = [*document["moon"]["features"], told["feature"]]
        for heading, objects in parts.items():
            for one in objects:
                assert list(one) == _documented(heading), heading
                nulls = {name for name, value in one.items() if value is None}
                assert nulls <= _nullable(heading), heading


def test_columns_of_outside_tables_are_those_of_the_page() -> None:
    rows = tables(DOCS / "own-catalogs.md")["Tables: which column is what"]
    named = [key for row in rows for key in CODE.findall(row[0])]
    assert sorted(named) == sorted(KEYS)


def test_fields_of_catalogs_and_imports_are_those_of_the_page(tmp_path: Path) -> None:
    table = tmp_path / "mine.csv"
    table.write_text("ra,dec,separation,v1,v2\n150.0,20.0,3.2,7.1,8.0\n", encoding="utf-8")
    report = import_catalog(ImportRequest(table, tmp_path / "store", DATE.date()))
    assert list(import_document(report)) == _documented("The import object")
    own = import_rows([entry.about for entry in imports(tmp_path / "store")])
    assert [list(row) for row in own] == [_documented("`imports[]`")]
    for row in catalog_rows(manifest()):
        assert sorted(row) == sorted(_documented("`catalogs[]`"))


def test_fields_of_the_log_are_those_of_the_page() -> None:
    assert _documented("One record") == list(NAMES)
    told = {bare(row[0]): row[2] for row in tables(PAGE)["One record"]}
    for name, shape in (("pair", LoggedPair), ("said", Promise)):
        named = CODE.findall(told[name])
        assert [field.name for field in fields(shape)] == named, name
