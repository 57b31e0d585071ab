"""A figure as a PNG file, whole or not at all."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from planner.files import write_whole

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

DOTS_PER_INCH = 150


def write_png(figure: Figure, path: Path) -> None:
    """Write the figure; the file is replaced in one step, or left as it was on any error.

    Raises OSError, which names the file, where it cannot be written.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    FigureCanvasAgg(figure)
    buffer = io.BytesIO()
    figure.savefig(buffer, format="png", dpi=DOTS_PER_INCH, facecolor=figure.get_facecolor())
    write_whole(path, buffer.getvalue())
