"""The parts of the pages that scripts write are those the scripts would write today."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from doc_pages import DOCS

if TYPE_CHECKING:
    from pathlib import Path


SCRIPTS = ["make_cli.py", "famous_pairs.py", "make_excerpt.py", "make_kit_tables.py",
           "make_gallery.py"]  # fmt: skip


@pytest.mark.parametrize("script", SCRIPTS)
def test_generated_part_is_fresh(script: str, tmp_path: Path) -> None:
    """Fails with the command that writes it anew."""
    done = subprocess.run(
        [sys.executable, str(DOCS / script), "--check"],
        env={**os.environ, "XDG_DATA_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
