"""The mask study as text, chart, JSON document and CSV rows."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from mask_sample import FULL, ROWS, sample
from matplotlib.backends.backend_agg import FigureCanvasAgg

from planner.sheets.mask_chart import STYLES, mask_chart
from planner.sheets.mask_document import mask_document, mask_rows
from planner.sheets.mask_text import mask_text
from planner.sheets.mask_words import edge_words, finding_words, pair_name, wave_words
from planner.sheets.page_text import PAGE_COLUMNS
from planner.sheets.png_file import write_png
from planner.sheets.rows import csv_text

if TYPE_CHECKING:
    from pathlib import Path


def test_mask_text_fits_the_page_and_names_every_pair() -> None:
    text = mask_text(sample())
    assert max(len(line) for line in text.splitlines()) <= PAGE_COLUMNS
    for finding in sample().findings:
        assert f"{pair_name(finding)}, {finding.separation_arcsec:.1f}" in text
    assert "*152.0" in text
    assert "good edge" in text


def test_mask_text_gives_each_pair_its_own_verdict() -> None:
    study = sample()
    words = [finding_words(study, finding) for finding in study.findings]
    assert words[0] == "a mask pays: a ring of 4.0 mm brings +10%"
    assert words[1] == "no gain to notice: a ring of 4.0 mm brings +1%"
    assert words[3] == "split under a ring of 4.0 mm only"


def test_mask_text_advises_the_best_compromise_and_warns_of_half_a_cover() -> None:
    """The made-up narrow ring costs the equal pair 2 %."""
    text = " ".join(mask_text(sample()).split())
    assert "a ring of 4.0 mm (152.0 mm clear) serves these pairs best together: equal +10%" in text
    assert "faint companion now split" in text
    assert "It need not cover the whole turned zone." in text
    assert "may do harm" in text


def test_mask_text_leaves_a_good_edge_open() -> None:
    """Every mask costs: no advice to cut one, and no row for the edge it already has."""
    rows = ((0.0, FULL), (2.0, (1.0, 2.3, 1.7, 0.0)))
    text = mask_text(sample(0.0, 0.0, rows))
    assert "In short: leave the aperture open." in text
    assert "no mask helps; the widest costs 9%" in text
    assert f"not split at {sample().view.magnification:.0f}x in any seeing, masked or not" in text
    assert "good edge:" not in text
    assert "no turned edge" in text


def test_mask_text_sends_a_wave_that_wants_the_widest_ring_back_to_the_tool() -> None:
    wider = (*ROWS, (9.6, (1.6, 2.6, 2.1, 1.2)))
    assert "wants figuring rather than a mask" in " ".join(mask_text(sample(rows=wider)).split())
    assert "wants figuring" not in mask_text(sample())


def test_a_tested_wave_is_named_as_such() -> None:
    telescope = sample().telescope
    tested = replace(telescope.glass, rms_waves=0.03, profile=((0.0, 0.1), (80.0, 0.0)))
    assert "as your mirror test has it" in wave_words(replace(telescope, glass=tested))
    assert wave_words(telescope) == "wave error 0.050 RMS"


@pytest.mark.parametrize(("waves", "words"), [(1.0, "1 wave of"), (0.5, "0.5 waves of")])
def test_edge_words_count_waves(waves: float, words: str) -> None:
    assert words in edge_words(sample(6.0, waves).telescope)


def test_mask_chart_draws_the_limiting_seeing_of_every_pair() -> None:
    """Data on the axes; a pair that does not split leaves a gap."""
    (axes,) = mask_chart(sample()).axes
    lines = {line.get_label(): line for line in axes.get_lines()}
    for row, finding in enumerate(sample().findings):
        line = lines[pair_name(finding)]
        expected = [worst[row] if worst[row] > 0.0 else np.nan for _, worst in ROWS]
        assert np.allclose(line.get_xdata(), [covered for covered, _ in ROWS])
        assert np.allclose(line.get_ydata(), expected, equal_nan=True)


def test_mask_chart_tells_pairs_apart_without_colour() -> None:
    """Grey lines; every pair has its own dash and its own marker."""
    (axes,) = mask_chart(sample()).axes
    pairs = [line for line in axes.get_lines() if not line.get_label().startswith("_")]
    assert len({line.get_linestyle() for line in pairs}) == len(pairs) == len(STYLES)
    assert len({line.get_marker() for line in pairs}) == len(pairs)
    assert all(float(line.get_color()) < 0.5 for line in pairs)


def test_mask_chart_gives_a_good_edge_the_line_and_mark_of_its_pair() -> None:
    """Hollow, at the left; the made-up good edge splits all four pairs."""
    (axes,) = mask_chart(sample()).axes
    hollow = [line for line in axes.get_lines() if line.get_markerfacecolor() == "white"]
    looks = [(line.get_linestyle(), line.get_marker(), line.get_color()) for line in hollow]
    assert looks == list(STYLES)
    assert [line.get_ydata()[0] for line in hollow] == list(
        sample().good_edge.limiting_seeing_arcsec
    )
    assert all(line.get_xdata()[0] == 0.0 for line in hollow)


def test_mask_chart_ends_at_the_glass_and_marks_the_mask_of_the_kit() -> None:
    """160 mm of glass masked to 152: a ring of 4 mm."""
    (axes,) = mask_chart(sample()).axes
    assert axes.get_xlim()[0] == 0.0
    (words,) = [text for text in axes.texts if "your mask" in text.get_text()]
    assert "152 mm" in words.get_text() and words.get_position()[0] == 4.0
    upright = [line for line in axes.get_lines() if list(line.get_xdata()) == [4.0, 4.0]]
    assert len(upright) == 1


def test_mask_chart_of_an_open_glass_marks_no_mask() -> None:
    study = sample()
    bare = replace(study, telescope=replace(study.telescope, clear_aperture_mm=160.0))
    (axes,) = mask_chart(bare).axes
    assert not [text for text in axes.texts if "your mask" in text.get_text()]


def test_mask_chart_labels_do_not_overlap() -> None:
    """Two labels at least a label's height apart, also for lines that end together."""
    rows = ((0.0, (2.0, 2.0, 2.01, 1.0)), (8.0, (2.0, 2.0, 2.01, 1.0)))
    (axes,) = mask_chart(sample(6.0, 1.0, rows)).axes
    places = sorted(t.get_position()[1] for t in axes.texts if " mag" in t.get_text())
    assert len(places) == 4
    assert np.all(np.diff(places) > 0.09)


def test_mask_document_is_json_with_the_findings() -> None:
    document = json.loads(json.dumps(mask_document(sample()), allow_nan=False))
    assert document["format"] == "planner-mask-study/1"
    assert [pair["a_mask"] for pair in document["pairs"]] == [
        "pays",
        *["no gain to notice"] * 2,
        "pays",
    ]
    assert document["pairs"][3]["gain"] is None
    assert document["masks"][0]["worst_seeing_faint_companion_arcsec"] is None
    assert document["best_compromise_clear_aperture_mm"] == 152.0


def test_mask_rows_are_a_row_a_mask_and_one_for_a_good_edge() -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(mask_rows(sample())))))
    assert [row["edge"] for row in rows] == ["as it is"] * len(ROWS) + ["good"]
    assert float(rows[2]["worst_seeing_equal_arcsec"]) == 1.21


def test_write_png_writes_a_picture_and_nothing_else(tmp_path: Path) -> None:
    write_png(mask_chart(sample()), tmp_path / "chart.png")
    assert [path.name for path in tmp_path.iterdir()] == ["chart.png"]
    assert (tmp_path / "chart.png").read_bytes().startswith(b"\x89PNG")


def test_write_png_leaves_no_part_behind_when_it_fails(tmp_path: Path) -> None:
    """A folder in the picture's place cannot be replaced."""
    place = tmp_path / "chart.png"
    place.mkdir()
    with pytest.raises(OSError, match="chart.png"):
        write_png(mask_chart(sample()), place)
    assert list(tmp_path.iterdir()) == [place]


def test_every_text_of_the_chart_stays_on_it() -> None:
    """Measured by the renderer that writes the file."""
    figure = mask_chart(sample())
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    for text in [*figure.texts, *(t for axes in figure.axes for t in axes.texts)]:
        box = text.get_window_extent(canvas.get_renderer())
        assert box.x0 >= 0.0 and box.y0 >= 0.0, text.get_text()
        assert box.x1 <= figure.bbox.width and box.y1 <= figure.bbox.height, text.get_text()
