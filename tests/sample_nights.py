"""The invented kit, sites and nights that the tests of the plan and of the commands share."""

from __future__ import annotations

import datetime as dt
import json
import os
import subprocess
import sys
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from click.testing import CliRunner, Result

from planner.cli.root import main
from planner.kit.reading import parse_kit
from planner.night.conditions import night_conditions
from planner.night.judging import judged_groups
from planner.night.planning import make_plan
from planner.night.request import Request
from planner.optics.view import all_views

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.night.plan import Plan

_FOLDER = TemporaryDirectory(prefix="planner-tests-")  # goes when the tests end
FOLDER = Path(_FOLDER.name)
CACHE = Path(os.environ.get("XDG_CACHE_HOME", FOLDER))  # of all processes of the run; conftest.py
ENVIRONMENT = {"XDG_CACHE_HOME": str(CACHE), "XDG_DATA_HOME": str(FOLDER), "PLANNER_KIT": ""}
TABLES = CACHE / "one-telescope-planner"  # where the commands keep their tables
MOONLESS = "2026-05-14"  # new Moon on 16 May 2026 (almanac, from memory)
MESSAGE_COLUMNS = 100
WIDE = ("--limit", "120", "--least-altitude", "10")
SITES = {
    "Lindenhof": (48.1, 8.2, 870, "Europe/Berlin"),
    "Nordkapp": (70.0, 25.0, 10, "Europe/Oslo"),
    "Glen": (57.5, -4.5, 200, "Europe/London"),
    "Beagle": (-55.0, -68.0, 20, "America/Argentina/Ushuaia"),
    "Kauri": (-36.8, 174.7, 50, "Pacific/Auckland"),
    "Atoll": (1.87, -157.4, 3, "Pacific/Kiritimati"),
}
TELESCOPE = """
[[telescope]]
name = "Elsa"
design = "newtonian"
mount = "hand-moved"
aperture = "160 mm"
clear_aperture = "154 mm"
focal_length = "1040 mm"
secondary = "35 mm"
wavefront_error = 0.055
[[telescope]]
name = "Little"
design = "refractor"
mount = "driven"
aperture = "80 mm"
focal_length = "900 mm"
[observer]
age = 52
experience = "typical"
"""
EYEPIECES = ((32, 50), (18, 60), (10, 60), (7, 58), (5, 58))  # focal length, apparent field


def kit_text(sky: float = 21.5) -> str:
    """Six sites, two telescopes, five eyepieces and a Barlow lens; all invented."""
    sites = "".join(
        f'[[site]]\nname = "{name}"\nlatitude = {latitude}\nlongitude = {longitude}\n'
        f'elevation = "{elevation} m"\ntime_zone = "{zone}"\nsky = {sky}\nseeing = 2.0\n'
        for name, (latitude, longitude, elevation, zone) in SITES.items()
    )
    eyepieces = "".join(
        f'[[eyepiece]]\nname = "{length} mm"\nfocal_length = "{length} mm"\n'
        f"apparent_field = {field}\n"
        for length, field in EYEPIECES
    )
    return sites + eyepieces + '[[barlow]]\nname = "1.5x"\nfactor = 1.5\n' + TELESCOPE


KIT = parse_kit(kit_text(), "test kit")
KIT_FILE = FOLDER / "kit.toml"
KIT_FILE.write_text(kit_text(), encoding="utf-8")


def request(site: str = "Lindenhof", date: str = MOONLESS, **changes: Any) -> Request:
    """One night's request; ``changes`` are fields of the request."""
    place, telescope = KIT.site(site), KIT.telescope()
    values: dict[str, Any] = {
        "site": place.site,
        "telescope": telescope,
        "views": all_views(telescope, KIT.eyepieces, KIT.barlows),
        "filters": (),
        "observer": KIT.observer,
        "date": dt.date.fromisoformat(date),
        "seeing_arcsec": 2.0,
        "zenith_sky_mag": 21.5,
        "sky_words": "for the tests",
        "extinction_mag": 0.2,
        "air_words": "for the tests",
        "cache_folder": TABLES,
    }
    return Request(**{**values, **changes})


@cache
def plan(site: str = "Lindenhof", date: str = MOONLESS, **changes: Any) -> Plan:
    """The plan of such a request, made once."""
    return make_plan(request(site, date, **changes))


@cache
def judged(
    site: str = "Lindenhof", date: str = MOONLESS, **changes: Any
) -> tuple[Conditions, tuple[Judged, ...]]:
    """The conditions of such a request and its groups of targets, judged once."""
    conditions = night_conditions(request(site, date, **changes))
    return conditions, tuple(judged_groups(conditions))


def run(*arguments: str, kit: bool = True) -> Result:
    """One command in this process, with the test kit."""
    given = (*arguments, "--kit", str(KIT_FILE)) if kit else arguments
    return CliRunner().invoke(main, given, env=ENVIRONMENT)


@cache
def night_json(site: str, date: str, *options: str) -> dict[str, Any]:
    """The document of one night, as the command prints it; any constant JSON lacks is refused."""
    result = run("tonight", "--site", site, "--date", date, "--format", "json", *options)
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout, parse_constant=_refuse)


def one_message(stderr: str) -> str:
    """The first error message unwrapped; its lines are set in, and only a path makes one long.

    A kit with several faults has a message for each, all in the same form.
    """
    lines = stderr.removesuffix("\n").split("\n")
    assert lines[0].startswith("Error: ")
    for line in lines:
        assert line.startswith(("Error: ", "  "))
        assert len(line) <= MESSAGE_COLUMNS or max(line.split(), key=len).count("/") > 1, line
    end = next((i for i, line in enumerate(lines) if i and line.startswith("Error: ")), None)
    return " ".join(line.strip() for line in lines[:end])


def _refuse(constant: str) -> None:
    raise AssertionError(f"{constant} is not JSON")


def environment(**more: str) -> dict[str, str]:
    """For a process that a test starts: it finds the planner from any folder."""
    where = os.pathsep.join([str(Path(__file__).parents[1]), os.environ.get("PYTHONPATH", "")])
    return {**os.environ, **ENVIRONMENT, "PYTHONPATH": where, **more}


def shell(*arguments: str, **more: Any) -> subprocess.CompletedProcess[str]:
    """One command in a process of its own, with the test kit from the environment."""
    return subprocess.run(
        [sys.executable, "-c", "from planner.cli.root import main; main()", *arguments],
        env=environment(PLANNER_KIT=str(KIT_FILE)),
        text=True,
        check=False,
        **{"capture_output": "stdout" not in more, **more},
    )
