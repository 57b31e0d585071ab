"""`planner target --image` and `planner scope --mask-study`, as typed."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from sample_nights import MOONLESS, one_message, run

from planner.cli.masks import with_turned_edge
from planner.errors import UsageError
from planner.kit.reading import load_kit
from planner.verdict.scope import mask_study

if TYPE_CHECKING:
    from pathlib import Path

    from click.testing import Result

    from planner.optics.telescope import Telescope

PNG = b"\x89PNG\r\n\x1a\n"  # signature; PNG specification, third edition, 5.2
CAN_NOT, WRONG = 1, 2


def refuses(result: Result, code: int, words: str) -> None:
    """One line on stderr, nothing on stdout, the code."""
    assert result.exit_code == code, result.output
    assert result.stdout == ""
    assert words in one_message(result.stderr)


def test_target_draws_a_double_and_still_tells_about_it(tmp_path: Path) -> None:
    """The picture whole, the page on stdout, the file's name on stderr."""
    path = tmp_path / "izar.png"
    result = run("target", "Izar", "--date", MOONLESS, "--image", str(path))
    assert result.exit_code == 0, result.output
    assert path.read_bytes().startswith(PNG)
    assert [p.name for p in tmp_path.iterdir()] == ["izar.png"]
    assert result.stdout.startswith("eps Boo Izar")
    assert f"wrote {path}: eps Boo Izar" in result.stderr


def test_target_says_which_of_several_pairs_it_drew(tmp_path: Path) -> None:
    """The four stars of epsilon Lyrae are three pairs."""
    path = tmp_path / "eps.png"
    result = run("target", "eps", "Lyr", "--date", MOONLESS, "--image", str(path))
    assert result.exit_code == 0, result.output
    assert "the first of the 3 that this name means" in result.stderr


@pytest.mark.parametrize("name", ["M 13", "Jupiter"])
def test_target_refuses_to_draw_what_is_no_double(tmp_path: Path, name: str) -> None:
    path = tmp_path / "no.png"
    result = run("target", name, "--date", MOONLESS, "--image", str(path))
    refuses(result, WRONG, "double stars only")
    assert not path.exists()


def test_target_refuses_to_draw_what_is_not_up(tmp_path: Path) -> None:
    """Rigel in May sets with the Sun."""
    path = tmp_path / "no.png"
    result = run("target", "Rigel", "--date", MOONLESS, "--image", str(path))
    refuses(result, CAN_NOT, "another --date")
    assert not path.exists()


def test_target_refuses_another_kind_of_file() -> None:
    refuses(run("target", "Izar", "--date", MOONLESS, "--image", "a.jpg"), WRONG, "ending in .png")


@pytest.fixture
def two_masks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the full glass and one mask, to be quick."""
    monkeypatch.setattr(
        mask_study, "mask_apertures", lambda scope: (scope.aperture_mm, 0.95 * scope.aperture_mm)
    )


@pytest.mark.usefixtures("two_masks")
def test_scope_studies_masks_and_draws_them(tmp_path: Path) -> None:
    """Text on stdout, progress and the file's name on stderr."""
    path = tmp_path / "masks.png"
    result = run("scope", "--mask-study", "--turned-edge", "4 mm, 0.5", "-o", str(path))
    assert result.exit_code == 0, result.output
    assert path.read_bytes().startswith(PNG)
    assert "turned edge in the outer 4 mm, 0.5 waves" in result.stdout
    assert "In short:" in result.stdout
    assert "trying masks" in result.stderr


@pytest.mark.usefixtures("two_masks")
def test_scope_prints_the_study_as_json_and_csv() -> None:
    document = json.loads(run("scope", "--mask-study", "--format", "json").stdout)
    assert document["telescope"]["turned_edge_waves"] == 0.0
    assert len(document["masks"]) == 2
    assert document["eyepiece"] == "7 mm + 1.5x"
    assert document["magnification"] == pytest.approx(1040.0 / 7.0 * 1.5, abs=0.05)
    lines = run("scope", "--mask-study", "--format", "csv").stdout.splitlines()
    assert len(lines) == 1 + 2 + 1


@pytest.mark.parametrize(
    "options",
    [("--mask-study", "--for", "planets"), ("--turned-edge", "4 mm,1"), ("-o", "a.png")],
)
def test_scope_refuses_options_that_do_not_go_together(options: tuple[str, ...]) -> None:
    refuses(run("scope", *options), WRONG, "--mask-study")


@pytest.fixture
def glass() -> Telescope:
    """The embedded kit's telescope, 160 mm."""
    return load_kit(None).telescope(None)


@pytest.mark.parametrize("text", ["6 mm,1", " 6 mm , 1.0", "0.6 cm,1"])
def test_turned_edge_reads_a_width_and_waves(glass: Telescope, text: str) -> None:
    edged = with_turned_edge(glass, text)
    assert edged.glass.edge_width_mm == pytest.approx(6.0)
    assert edged.glass.edge_waves == 1.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("6 mm", "6 mm,1"),
        ("6,1", "one of mm"),
        ("6 mm,one", "6 mm,1"),
        ("40 mm,1", "a tenth of the aperture"),
        ("6 mm,9", "outside 0..2"),
        ("6 mm,nan", "outside 0..2"),
        ("-1 mm,1", "outside 0..16"),
    ],
)
def test_turned_edge_refuses_with_the_remedy(glass: Telescope, text: str, words: str) -> None:
    with pytest.raises(UsageError, match="--turned-edge") as caught:
        with_turned_edge(glass, text)
    assert words in str(caught.value)
