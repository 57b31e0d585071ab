"""`planner tube`: the page, the document, and what is told of half a kit."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from sample_nights import one_message, run

from planner.kit.reading import example_text

DOCS = Path(__file__).parents[2] / "docs" / "formats.md"
TUBE_BLOCKS = "# What follows is for `planner tube`"


def page(folder: Path, text: str, *options: str) -> str:
    """What the command says of a kit."""
    path = folder / "kit.toml"
    path.write_text(text, encoding="utf-8")
    result = run("tube", "--kit", str(path), *options, kit=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def _fields(heading: str) -> list[str]:
    section = DOCS.read_text(encoding="utf-8").split("## `planner-tube/1`")[1]
    table = section.split(f"### {heading}\n")[1].split("\n#")[0]
    return re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE)


def test_the_page_tells_everything_in_a_hundred_columns(tmp_path: Path) -> None:
    told = page(tmp_path, example_text())
    assert max(map(len, told.splitlines())) <= 100
    for title in (
        "Light", "Balance", "Friction of the altitude bearing", "At the eyepiece", "On the ground",
        "Cooling", "Lifting",
    ):  # fmt: skip
        assert re.search(rf"(?m)^{title}", told), title
    assert "Not told" not in told
    assert told.count("Practice: ") >= 5  # apart from physics
    assert "guidance on lifting where you live" in " ".join(told.split())


def test_the_telescope_alone_is_told_and_each_lack_is_one_line(tmp_path: Path) -> None:
    told = page(tmp_path, example_text().split(TUBE_BLOCKS)[0])
    assert "Light" in told and "At the eyepiece" in told
    assert "Balance" not in told and "Cooling" not in told and "Lifting" not in told
    lacks = told.split("Not told")[1]
    for key in ("[[part]]", "axis_along", "foot_radius", "mirror_thickness", "focuser_height"):
        assert key in lacks


@pytest.mark.parametrize(
    ("key", "named"),
    [
        ("bearing_radius", "what friction holds: give bearing_radius"),
        ("foot_radius", "what tips it: give foot_radius"),
        ("turning_radius", "the force to the side: give turning_radius"),
        ("mirror_thickness", "how the mirror cools: give mirror_thickness"),
    ],
)
def test_a_key_left_out_is_named_and_the_rest_told(tmp_path: Path, key: str, named: str) -> None:
    told = page(tmp_path, re.sub(rf"(?m)^{key} = ", f"# {key} = ", example_text()))
    assert named in told
    assert told.count("\n  - ") == 1
    assert "Balance" in told


def test_an_eyepiece_without_its_mass_is_named(tmp_path: Path) -> None:
    told = page(tmp_path, example_text().replace('mass = "120 g"\n', ""))
    assert "the balance with 10 mm: give the mass of each" in told


def test_a_focuser_too_high_is_found_out(tmp_path: Path) -> None:
    told = page(tmp_path, example_text().replace('"85 mm" ', '"120 mm"'))
    assert "no eyepiece comes to focus" in " ".join(told.split())


def test_a_kit_in_pounds_and_inches_gives_the_same_page(tmp_path: Path) -> None:
    text = example_text()
    tube = text.index(TUBE_BLOCKS)

    def inches(match: re.Match[str]) -> str:
        return f'"{float(match[1]) / 25.4:.9f} in"'

    def pounds(match: re.Match[str]) -> str:
        return f'"{float(match[1]) / 0.45359237:.9f} lb"'

    other = re.sub(r'"(\d+) mm"', inches, text[tube:])
    other = re.sub(r'"([\d.]+) kg"', pounds, other)
    assert other.count(' in"') > 10 and other.count(' lb"') > 4
    assert page(tmp_path, text[:tube] + other) == page(tmp_path, text)


def test_the_document_has_the_fields_of_the_page(tmp_path: Path) -> None:
    whole = json.loads(page(tmp_path, example_text(), "--format", "json"))
    assert list(whole) == _fields("The tube object")
    assert all(list(row) == _fields("`loadings[]`") for row in whole["loadings"])
    section = DOCS.read_text(encoding="utf-8").split("## `planner-tube/1`")[1]
    nested = [whole["light"], whole["light"]["eyepieces"][0], whole["rings"][0],
              whole["best_axis"], whole["altitudes"][0], whole["standing"], whole["cooling"],
              whole["practice"]]  # fmt: skip
    for name in (name for thing in nested for name in thing):
        assert f"`{name}`" in section


def test_a_document_of_the_telescope_alone_has_the_same_fields(tmp_path: Path) -> None:
    text = example_text().split(TUBE_BLOCKS)[0]
    bare = json.loads(page(tmp_path, text, "--format", "json"))
    assert list(bare) == _fields("The tube object")
    assert bare["loadings"] == [] and bare["standing"] is None
    assert "parts" in bare["missing"]


def test_a_fault_in_a_part_is_one_message(tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    path.write_text(example_text().replace('"540 mm"', '"540"'), encoding="utf-8")
    result = run("tube", "--kit", str(path), kit=False)
    assert result.exit_code == 2
    assert '[[part]] 3 "tube": along = "540": write a number' in one_message(result.stderr)
