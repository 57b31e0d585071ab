"""`planner mirror`: the file, the report, the figures, and the wave in the kit's verdicts."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from matplotlib.image import imread
from sample_nights import kit_text, one_message, run

from planner.kit.mirror_file import example_test, read_mirror_test
from planner.kit.reading import load_kit
from planner.mirror.reduction import reduce
from planner.optics.figure import strehl

DOCS = Path(__file__).parents[2] / "docs" / "formats.md"
INCH = 25.4


def told(folder: Path, *options: str, text: str = "", name: str = "elsa.toml") -> str:
    """The report on a test."""
    path = folder / name
    path.write_text(text or example_test(), encoding="utf-8")
    result = run("mirror", str(path), *options, kit=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def refused(folder: Path, text: str, name: str = "elsa.toml") -> str:
    """The message on a faulty test."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    result = run("mirror", str(path), kit=False)
    assert result.exit_code in (1, 2)
    return one_message(result.stderr)


def test_a_new_file_is_written_once_and_can_be_reduced(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    assert run("mirror", "new", str(path), kit=False).exit_code == 0
    again = run("mirror", "new", str(path), kit=False)
    assert again.exit_code == 1 and "already there" in one_message(again.stderr)
    assert path.read_text(encoding="utf-8") == example_test()


def test_the_report_tells_the_wave_and_what_no_test_shows(tmp_path: Path) -> None:
    page = told(tmp_path)
    assert max(map(len, page.splitlines())) <= 100
    for words in ("RMS", "Strehl ratio", "conic constant", "Airy radii", "astigmatism", "4 runs"):
        assert words in page


def test_the_document_has_the_fields_of_the_page(tmp_path: Path) -> None:
    whole = json.loads(told(tmp_path, "--format", "json"))
    section = DOCS.read_text(encoding="utf-8").split("### The mirror object\n")[1].split("\n#")[0]
    assert list(whole) == re.findall(r"^\| `(\w+)` \|", section, re.MULTILINE)
    for key in ("windows", "profile"):
        assert all(f"`{name}`" in section for name in whole[key][0])
    assert whole["rms_waves"]["low"] <= whole["rms_waves"]["value"] <= whole["rms_waves"]["high"]


def test_inches_towards_and_a_table_say_the_same(tmp_path: Path) -> None:
    """One mirror written in four ways has one wave."""
    plain = read_mirror_test(_file(tmp_path, "a.toml", example_test()))
    inches = _numbers(example_test().replace('unit = "mm"', 'unit = "in"'), 1.0 / INCH)
    turned = _numbers(example_test().replace('"away"', '"towards"'), -1.0, zones=False)
    head = example_test().split("[[run]]")[0]
    rows = zip(*(reading for reading in plain.runs), strict=True)
    edge = '[edge]\nwidth = "4 mm"\nwaves = 0.6\n'
    facts = "\n".join("# " + line for line in (head.split("zones =")[0] + edge).splitlines())
    body = ["inner,outer,1,2,3,4"] + [
        ",".join(map(repr, (*zone, *row))) for zone, row in zip(plain.zones, rows, strict=True)
    ]
    table = facts + "\n" + "\n".join(body) + "\n"
    for name, text in (("b.toml", inches), ("c.toml", turned), ("d.csv", table)):
        other = read_mirror_test(_file(tmp_path, name, text))
        assert reduce(other).wave == pytest.approx(reduce(plain).wave, abs=1e-6), name
        assert (other.edge_width_mm, other.edge_waves) == (4.0, 0.6)


def _file(folder: Path, name: str, text: str) -> Path:
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def _numbers(text: str, scale: float, zones: bool = True) -> str:
    """Windows and readings times a factor."""
    keys = "zones|readings" if zones else "readings"

    def scaled(match: re.Match[str]) -> str:
        return re.sub(r"-?[\d.]+", lambda n: repr(float(n[0]) * scale), match[0])

    return re.sub(rf"^(?:{keys}) = .*$", scaled, text, flags=re.MULTILINE)


FAULTS = [
    ("[[36, 51]", "[[36, 30]", "window"),
    ("[0.20, 0.88, 1.60, 2.26, 2.50]", "[0.20, 0.88, 1.60, 2.26]", "run 1"),
    ("[0.20, 0.88, 1.60, 2.26, 2.50]", '[0.20, "x", 1.60, 2.26, 2.50]', "window 2"),
    ('source = "fixed" ', 'source = "laser" ', "source"),
    ('readings_grow = "away" ', 'readings_grows = "away" ', "readings_grow"),
    ("optical_diameter", "# optical_diameter", "optical_diameter"),
    ("[edge] ", "[edges] ", "edge"),
    ("[mirror]", "[mirror", "TOML"),
]


@pytest.mark.parametrize(("right", "wrong", "named"), FAULTS)
def test_mirror_rejects_what_is_wrong_and_names_it(
    right: str, wrong: str, named: str, tmp_path: Path
) -> None:
    right, wrong = right.replace("[[36", "[36"), wrong.replace("[[36", "[36")
    assert right in example_test()
    message = refused(tmp_path, example_test().replace(right, wrong, 1))
    assert named in message and "elsa.toml" in message


def test_mirror_rejects_a_table_with_a_hole(tmp_path: Path) -> None:
    text = '# name = "x"\ninner,outer,1\n0,30,0.1\n30,50\n'
    assert "window 2" in refused(tmp_path, text, "x.csv")
    assert "inner,outer" in refused(tmp_path, "1,2,3\n", "y.csv")
    missing = run("mirror", str(tmp_path / "none.toml"), kit=False)
    assert "planner mirror new" in one_message(missing.stderr)


def test_the_figures_are_drawn_in_grey(tmp_path: Path) -> None:
    picture = tmp_path / "figures.png"
    told(tmp_path, "-o", str(picture), "--secondary", "35", "--ronchi", "4")
    pixels = imread(picture)[:, :, :3]
    assert float((pixels.max(axis=2) - pixels.min(axis=2)).max()) < 0.02
    assert 0.02 < float((pixels[:, :, 0] < 0.5).mean()) < 0.5


def test_the_wave_of_the_test_is_the_telescopes(tmp_path: Path) -> None:
    """In place of a wave error: the mask over the turned edge brings the Strehl ratio back."""
    _file(tmp_path, "elsa.toml", example_test())
    kit = kit_text().replace("wavefront_error = 0.055", 'mirror_test = "elsa.toml"', 1)
    telescope = load_kit(_file(tmp_path, "kit.toml", kit)).telescope()
    masked = strehl(telescope.figure, telescope.obstruction_ratio)
    opened = strehl(telescope.glass.figure(160.0, 160.0), 35.0 / 160.0)
    assert telescope.glass.rms_waves == 0.03 and telescope.glass_band is not None
    assert opened < 0.9 < masked
    other = kit.replace('aperture = "160 mm"', 'aperture = "200 mm"', 1)
    result = run("scope", "--kit", str(_file(tmp_path, "other.toml", other)), kit=False)
    assert result.exit_code == 2 and "mirror_test" in one_message(result.stderr)


def test_scope_tells_the_strehl_ratio_masked_open_and_as_the_test_allows(tmp_path: Path) -> None:
    _file(tmp_path, "elsa.toml", example_test())
    kit = kit_text().replace("wavefront_error = 0.055", 'mirror_test = "elsa.toml"', 1)
    place = _file(tmp_path, "kit.toml", kit)
    page = run("scope", "--kit", str(place), kit=False).stdout
    told = " ".join(page.split("Strehl ratio")[1].split("focus  ")[0].split())
    assert "by your mirror test" in told and "without the mask" in told
    image = json.loads(run("scope", "--kit", str(place), "--format", "json", kit=False).stdout)[
        "image"
    ]
    low, high = image["strehl_band"]
    assert low <= image["strehl"] <= high and image["strehl_unmasked"] < image["strehl"]


def test_what_the_test_leaves_open_is_told_of_pairs(tmp_path: Path) -> None:
    """One run, and readings that scatter: the seeing in which a pair splits has a range."""
    text = example_test()
    first, last = text.index("[[run]]"), text.index("[edge]")
    readings = "[[run]]\nreadings = [0.30, 1.10, 1.45, 2.90, 2.60]\n\n"
    (tmp_path / "rough.toml").write_text(text[:first] + readings + text[last:], encoding="utf-8")
    kit = tmp_path / "kit.toml"
    changed = kit_text().replace("wavefront_error = 0.055", 'mirror_test = "rough.toml"', 1)
    kit.write_text(changed, encoding="utf-8")
    report = run("scope", "--kit", str(kit), kit=False)
    assert report.exit_code == 0, report.stderr
    assert "In brackets: as your mirror test allows" in " ".join(report.stdout.split())
    asked = ["target", "delta cyg", "--date", "2026-07-10", "--kit", str(kit)]
    page = run(*asked, kit=False)
    assert page.exit_code == 0, page.stderr
    told = re.search(
        r'up to about ([\d.]+)" \(([\d.]+)" to ([\d.]+)" as your mirror test allows\)',
        " ".join(page.stdout.split()),
    )
    assert told is not None
    here, low, high = map(float, told.groups())
    assert low <= here <= high and low < high
    (target,) = json.loads(run(*asked, "--format", "json", kit=False).stdout)["targets"]
    assert sorted(target["worst_seeing_by_test"]) == [low, high]


def test_a_table_to_begin_with_says_the_same_as_the_document(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    assert run("mirror", "new", str(path), kit=False).exit_code == 0
    table = read_mirror_test(path)
    document = read_mirror_test(_file(tmp_path, "mine.toml", example_test()))
    assert replace(table, name=document.name) == document


def test_a_slip_of_the_pen_is_named_above_all_else(tmp_path: Path) -> None:
    page = told(tmp_path, text=example_test().replace("[0.24, 0.89,", "[0.24, 8.90,"))
    named = re.search(r"Run 3, window 2 is ([\d.]+) mm off the other runs", page)
    assert named is not None and named.start() < page.index("wave error")
    assert float(named[1]) == pytest.approx(8.0, abs=0.05)


def test_readings_in_inches_are_told_in_inches(tmp_path: Path) -> None:
    inches = _numbers(example_test().replace('unit = "mm"', 'unit = "in"'), 1.0 / INCH)
    page = told(tmp_path, text=inches)
    assert "window, in" in page and "1.42-2.01" in page


def test_a_secondary_without_a_picture_is_refused(tmp_path: Path) -> None:
    path = _file(tmp_path, "elsa.toml", example_test())
    result = run("mirror", str(path), "--secondary", "35", kit=False)
    assert result.exit_code == 2 and "--secondary needs -o" in one_message(result.stderr)
