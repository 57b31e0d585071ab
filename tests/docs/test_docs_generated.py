"""The parts of the pages that scripts write are those the scripts would write today."""

from __future__ import annotations

import runpy
from typing import TYPE_CHECKING

import pytest
from doc_pages import DOCS

if TYPE_CHECKING:
    from pathlib import Path


SCRIPTS = ["make_cli.py", "famous_pairs.py", "make_excerpt.py", "make_kit_tables.py",
           "make_gallery.py"]  # fmt: skip


@pytest.mark.parametrize("script", SCRIPTS)
def test_generated_part_is_fresh(
    script: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Fails with the command that writes it anew."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr("sys.argv", [script, "--check"])
    monkeypatch.syspath_prepend(DOCS)
    runpy.run_path(str(DOCS / script), run_name="__main__")
