"""Times of whole commands, and of the tracks against target-by-target reduction.

Run with ``python tests/bench/night.py``. It measures and does not judge.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from datetime import date
from pathlib import Path

import numpy as np
from measuring import REPEATS, median_seconds, print_table, seconds
from skyfield.api import Star, wgs84

from planner.ephemeris.civil_night import civil_night
from planner.ephemeris.kernel import kernel
from planner.ephemeris.moments import grid
from planner.ephemeris.track import track
from planner.kit.reading import load_kit
from planner.targets.catalog import load_deepsky

DATE = date(2026, 12, 8)
STEP_MIN = 5
SAMPLE = 300  # targets reduced one by one; the rest is scaled
AIM_S = {"--help": 0.1, "scope": 0.5, "tonight": 3.0, "tonight, tables kept": 1.2}
COMPILED = tempfile.TemporaryDirectory()
PROGRAM = "from planner.cli.root import main; main()"
HEAVY = """
import sys
from planner.cli.root import main
main(["--help"], standalone_mode=False)
print("numpy" in sys.modules, file=sys.stderr)
"""


def run(arguments: list[str], cache: str, program: str = PROGRAM) -> str:
    """One fresh process; returns what it wrote on stderr.

    Its modules are compiled once, as an installation leaves them, also where the surroundings
    forbid Python to keep what it has compiled: a fifth of a second of every start.
    """
    own = dict.fromkeys(("XDG_CACHE_HOME", "XDG_DATA_HOME", "LOCALAPPDATA"), cache)
    environment = {**os.environ, **own, "PYTHONPYCACHEPREFIX": COMPILED.name}
    for unwanted in ("PLANNER_KIT", "PYTHONDONTWRITEBYTECODE"):
        environment.pop(unwanted, None)
    done = subprocess.run(
        [sys.executable, "-c", program, *arguments],
        env=environment, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return done.stderr


def cold(arguments: list[str]) -> None:
    """A run that finds no cache."""
    with tempfile.TemporaryDirectory() as cache:
        run(arguments, cache)


def commands() -> None:
    """Medians of whole processes, tonight cold and warm."""
    evening = ["--date", DATE.isoformat()]
    with tempfile.TemporaryDirectory() as cache:
        heavy = run([], cache, HEAVY).split()[-1] == "True"
        run(["tonight", *evening], cache)
        times = [
            ("--help", median_seconds(lambda: run(["--help"], cache))),
            ("scope", median_seconds(lambda: run(["scope"], cache))),
            ("tonight", median_seconds(lambda: cold(["tonight", *evening]))),
            ("tonight, tables kept", median_seconds(lambda: run(["tonight", *evening], cache))),
            ("target izar", median_seconds(lambda: run(["target", "izar", *evening], cache))),
        ]
    rows = [[name, f"{s:.2f}", f"{AIM_S[name]:g}" if name in AIM_S else "-"] for name, s in times]
    print_table(f"Whole processes, median of {REPEATS}", rows, ["planner", "s", "aim, under"])
    print(f"--help loads numpy: {'yes' if heavy else 'no'}")


def tracks() -> None:
    """Every deep-sky object through a night, at once and one by one."""
    site = load_kit().site().site
    objects = load_deepsky()
    night = civil_night(site, DATE)
    moments = grid(site, night.sunset, night.sunrise, STEP_MIN)
    whole = median_seconds(lambda: track(site, moments, objects.ra_deg, objects.dec_deg))
    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    observer = (kernel()[399] + place).at(moments.times)
    rows = np.linspace(0, len(objects) - 1, SAMPLE).astype(int)

    def one_by_one() -> None:
        for row in rows:
            star = Star(ra_hours=objects.ra_deg[row] / 15.0, dec_degrees=objects.dec_deg[row])
            observer.observe(star).apparent().altaz(site.temperature_c, site.pressure_hpa)

    loop = seconds(one_by_one) * len(objects) / SAMPLE
    print_table(
        f"Altitudes and azimuths of {len(objects)} targets at {moments.seconds.size} moments",
        [
            ["track", f"{whole:.2f}", "1"],
            [f"skyfield, target by target ({SAMPLE} scaled)", f"{loop:.1f}", f"{loop / whole:.0f}"],
        ],
        ["way", "s", "ratio"],
    )


if __name__ == "__main__":
    print(f"python {sys.version.split()[0]}, {os.cpu_count()} cores, {Path(__file__).name}")
    commands()
    tracks()
