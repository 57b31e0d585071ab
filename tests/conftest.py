"""Lies here so that every folder of tests can import ``sample_nights``.

And so that all processes of a run, also those that tests start, keep split tables and the list of
fonts in one folder: what one has worked out, the others need not. It goes when the tests end.
"""

from __future__ import annotations

import os
from tempfile import TemporaryDirectory

if "PYTEST_XDIST_WORKER" not in os.environ:  # a worker has it from the process that started it
    _CACHE = TemporaryDirectory(prefix="planner-tests-cache-", ignore_cleanup_errors=True)
    os.environ["XDG_CACHE_HOME"] = _CACHE.name
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # waiting threads take the other's core
