"""The mask study of `planner scope`: asks, shows progress, draws and prints."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.verdict.scope.mask_study import MaskStudy
    from planner.verdict.setup import Setup

EDGE_REMEDY = 'write a width and a number of waves, like "6 mm,1"'


def masks_answer(
    setup: Setup,
    views: Sequence[View],
    turned_edge: str | None,
    chart: Path | None,
    output_format: str,
) -> str:
    """The study in the format asked for, with its line end; draws the chart when one is wanted.

    Raises:
        UsageError: the turned edge is no such thing.
        ModelRangeError: the telescope lies outside the model.
    """
    from dataclasses import replace

    from planner.sheets import mask_document, mask_text
    from planner.sheets.rows import csv_text

    if turned_edge is not None:
        setup = replace(setup, telescope=with_turned_edge(setup.telescope, turned_edge))
    study = _studied(setup, views)
    if chart is not None:
        from planner.sheets.mask_chart import mask_chart
        from planner.sheets.png_file import write_png

        write_png(mask_chart(study), chart)
        click.echo(f"wrote {chart}", err=True)
    if output_format == "csv":
        return csv_text(mask_document.mask_rows(study))
    if output_format == "json":
        document = mask_document.mask_document(study)
        from planner.sheets.json_text import json_text

        return json_text(document) + "\n"
    return mask_text.mask_text(study) + "\n"


def with_turned_edge(telescope: Telescope, text: str) -> Telescope:
    """The telescope with the turned edge of a text like ``6 mm,1``.

    Raises:
        UsageError: no such text, or an edge outside the model.
    """
    from dataclasses import replace

    from planner.errors import ModelRangeError, UsageError
    from planner.kit.lengths import length_mm

    width, comma, waves = text.rpartition(",")
    try:
        if not comma:
            raise ValueError(EDGE_REMEDY)
        return replace(
            telescope,
            glass=replace(
                telescope.glass, edge_width_mm=length_mm(width), edge_waves=_number(waves)
            ),
        )
    except ModelRangeError as error:
        raise UsageError(f"--turned-edge {text}: {error}") from error
    except ValueError as error:
        raise UsageError(f"--turned-edge {text}: {error}") from error


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError as error:
        raise ValueError(EDGE_REMEDY) from error


def _studied(setup: Setup, views: Sequence[View]) -> MaskStudy:
    """The study, mask by mask, with a bar of progress on a terminal's stderr."""
    from planner.verdict.scope.mask_study import (
        judge_good_edge,
        judge_mask,
        mask_apertures,
        mask_study,
    )

    apertures = mask_apertures(setup.telescope)
    with click.progressbar(apertures, label="trying masks", file=sys.stderr) as bar:
        steps = [judge_mask(setup, aperture, views) for aperture in bar]
    return mask_study(setup, steps, judge_good_edge(setup, views), views)
