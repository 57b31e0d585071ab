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


def _said(told: str) -> str:
    return " ".join(told.split())


def test_the_worst_loading_of_the_table_is_the_one_the_text_goes_by(tmp_path: Path) -> None:
    """By hand: 6.33 kg without the finder, 43 mm before balance: 6.33 g 0.043 = 2.67 N m."""
    told = _said(page(tmp_path, example_text()))
    assert "serves all eyepieces, the empty focuser and the tube without 8x50 finder best" in told
    assert "turns it with up to 2.67 (empty, no 8x50 finder)" in told
    assert "as it is 2.67 N m (empty, no 8x50 finder)" in told


def test_no_more_may_go_than_hangs_there(tmp_path: Path) -> None:
    told = json.loads(page(tmp_path, example_text(), "--format", "json"))
    masses = {"32 mm": 0.17, "5 mm": 0.13}
    found = {
        row["focuser"]: row["may_go_kg"] for row in told["loadings"] if row["focuser"] in masses
    }
    assert found == masses
    assert " all  stays" in page(tmp_path, example_text())


def test_columns_that_are_not_shown_are_not_explained(tmp_path: Path) -> None:
    """With the axis far ahead of balance every loading drifts."""
    far = example_text().replace('axis_along = "335 mm"', 'axis_along = "500 mm"')
    told = page(tmp_path, far)
    assert "may come" not in told.lower() and "may go" not in told.lower()
    assert "May come, may go" in page(tmp_path, example_text())


def test_a_far_axis_is_to_be_moved_before_any_number(tmp_path: Path) -> None:
    far = example_text().replace('axis_along = "335 mm"', 'axis_along = "800 mm"')
    told = page(tmp_path, far)
    assert "Move the axis first" in told and "That asks for a radius" not in told
    assert "raise it" not in told and "the tube goes by itself at every altitude" in _said(told)
    assert "less than 0.00" not in told
    assert "falls over by itself" in _said(told)


def test_a_tube_that_runs_away_is_balanced_before_its_friction_is_measured(tmp_path: Path) -> None:
    """Twice what the bearing holds over the arm, which the slide makes longer by 42."""
    away = example_text().replace('axis_along = "335 mm"', 'axis_along = "385 mm"')
    assert "Measure it: slide the tube 42 forward first" in _said(page(tmp_path, away))
    check = json.loads(page(tmp_path, away, "--format", "json"))["friction_check"]
    assert check["slide_first_mm"] == pytest.approx(-42.0, abs=0.5)
    hold = 0.12 * (6.99 + 0.8) * 9.80665 * 0.140 / 0.819152  # cos 35 deg
    assert check["both_pulls_n"] == pytest.approx(2.0 * hold / (0.895 - 0.343), rel=2e-3)
    assert "first, since level" not in page(tmp_path, example_text())


@pytest.mark.parametrize(
    ("inner", "told"),
    [
        (
            "195",
            "leaves 7 all around. Practice wants 10 to 25, since tube air is warm: too little.",
        ),
        ("210", "leaves 15 all around. Practice wants 10 to 25, since tube air is warm: enough."),
        ("250", "leaves 35 all around. Practice wants 10 to 25, since tube air is warm: plenty."),
        ("170", "The tube of 170 cuts in by 5!"),
    ],
)
def test_the_room_around_the_light_is_judged(tmp_path: Path, inner: str, told: str) -> None:
    """A ring of 180 at the front, by the page's own line: (inner - 180) / 2 all around."""
    text = example_text().replace('inner_diameter = "195 mm"', f'inner_diameter = "{inner} mm"')
    assert told in _said(page(tmp_path, text))


def test_a_tube_that_ends_before_its_diagonal_is_found_out(tmp_path: Path) -> None:
    """The flat's middle is 1040 - 205 = 835 before the mirror, half of its 35 reaches to 852."""
    short = example_text().replace('length = "1010 mm"', 'length = "845 mm"')
    told = _said(page(tmp_path, short))
    assert "The tube, 845 long, ends before the diagonal does" in told
    assert "reaches to 852 before the mirror" in told
    assert "ends before" not in page(tmp_path, short.replace('"845 mm"', '"860 mm"'))


def test_a_driven_mounts_forces_are_told_for_loose_clamps(tmp_path: Path) -> None:
    driven = example_text().replace('mount = "hand-moved"', 'mount = "driven"')
    told = page(tmp_path, driven)
    assert told.count("clamps loose") == 3
    assert max(map(len, told.splitlines())) <= 100
    assert "clamps" not in page(tmp_path, example_text())


def test_a_front_that_goes_both_ways_fits_the_page(tmp_path: Path) -> None:
    """A heavy weight below the tube's middle: the front rises level and sinks when high."""
    text = example_text().replace('along = "15 mm"', 'along = "15 mm"\nabove = "-500 mm"')
    text = text.replace('name = "10 mm"', 'name = "eyepiece of a longer name, 10 mm"')
    told = page(tmp_path, text)
    assert re.search(r"rises below \d+ deg|sinks above \d+ deg", told)
    assert max(map(len, told.splitlines())) <= 100


REFRACTOR = (
    ('design = "newtonian"', 'design = "refractor"'),
    ('secondary = "35 mm"', "#"),
    ('diagonal_to_focus = "205 mm"', "#"),
    ('pivot_to_focuser = "560 mm"', 'pivot_to_focuser = "-540 mm"'),
)


def test_a_refractors_page_knows_no_mirror_and_lets_the_eyepiece_sink(tmp_path: Path) -> None:
    """The focuser 540 behind an axis at 720: lower the higher it points."""
    text = example_text()
    for old, new in REFRACTOR:
        assert old in text
        text = text.replace(old, new)
    told = _said(page(tmp_path, text))
    assert "back is away from the sky" in told and "towards the mirror" not in told
    assert (
        "from axis to focuser, below 0 behind it, it is 560 by parts and cradle, but "
        "pivot_to_focuser is -540" in told
    )
    rows = json.loads(page(tmp_path, text, "--format", "json"))["altitudes"]
    heights = [row["height_mm"] for row in rows]
    assert heights == sorted(heights, reverse=True)
    assert "The kit has the focuser" not in told
    front = page(tmp_path, text.replace('"-540 mm"', '"540 mm"'))
    assert 'as a refractor\'s does, write pivot_to_focuser = "-540 mm"' in _said(front)
    deep = page(tmp_path, text.replace('"-540 mm"', '"-1100 mm"'))
    assert "would lie in the ground" in _said(deep)
