"""The house rules that a machine can hold: layers, sizes, tests that can fail."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
LEVELS = {
    "errors": 0, "constants": 0, "files": 0, "angles": 1,
    "optics": 2, "sky": 2, "eye": 2, "targets": 2, "ephemeris": 2, "order": 2,
    "verdict": 3, "importers": 3, "hops": 3, "mirror": 3, "tube": 3, "log": 3,
    "night": 4, "kit": 4, "limits": 4, "charts": 5, "sheets": 6, "cli": 7,
}  # fmt: skip
OUTSIDE = {
    "optics": {"numpy"}, "sky": {"numpy"}, "eye": {"numpy"}, "order": {"numpy"},
    "targets": {"numpy"}, "importers": {"numpy", "astropy", "filelock"},
    "ephemeris": {"numpy", "skyfield", "skyfield_data", "astronomy"},
    "verdict": {"numpy", "filelock"}, "hops": {"numpy"}, "mirror": {"numpy"}, "tube": {"numpy"},
    "log": {"numpy", "pandas", "filelock", "msgspec"}, "limits": {"numpy"},
    "night": {"numpy"}, "kit": set(), "charts": {"matplotlib", "numpy"},
    "sheets": {"matplotlib", "tabulate", "numpy", "icalendar", "jinja2", "markupsafe"},
    "cli": {"click", "platformdirs"},
    "errors": set(), "files": set(), "constants": set(), "angles": {"numpy"},
}  # fmt: skip
LONGEST_MODULE = 300


def _modules() -> list[Path]:
    return sorted((ROOT / "planner").rglob("*.py"))


def _room(path: Path) -> str:
    first = path.relative_to(ROOT / "planner").parts[0]
    return first.removesuffix(".py")


def _imports(path: Path) -> list[tuple[int, str]]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names = (
                [f"{node.module}.{a.name}" for a in node.names] if node.module == "planner" else []
            )
            found += [(node.lineno, name) for name in names or [node.module]]
        elif isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
    return found


def test_imports_go_strictly_downwards() -> None:
    broken = []
    for path in _modules():
        room = _room(path)
        if room == "__init__":
            continue
        for line, name in _imports(path):
            parts = name.split(".")
            if parts[0] != "planner" or len(parts) < 2 or parts[1] in (room, "catalogs"):
                continue
            other = parts[1]
            if LEVELS[other] >= LEVELS[room]:
                broken.append(f"{path.relative_to(ROOT)}:{line}: {room} may not import {other}")
    assert not broken, "\n".join(broken)


def _names(tree: Path) -> dict[str, Path]:
    """Every module of a package by its dotted name."""
    paths = [path for path in tree.rglob("*.py") if path.name != "__init__.py"]
    return {".".join(path.relative_to(tree.parent).with_suffix("").parts): path for path in paths}


def _package_circles(tree: Path) -> list[str]:
    """Pairs of packages, sub-packages too, whose modules import one another in a circle."""
    modules = _names(tree)
    steps: dict[str, set[str]] = {}
    for name, path in modules.items():
        own = name.rpartition(".")[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                for wanted in (node.module, *(f"{node.module}.{a.name}" for a in node.names)):
                    if wanted in modules:
                        steps.setdefault(own, set()).add(wanted.rpartition(".")[0])
            elif isinstance(node, ast.Import):
                found = {a.name.rpartition(".")[0] for a in node.names if a.name in modules}
                steps.setdefault(own, set()).update(found)
    reached = {room: _reached(room, steps) for room in steps}
    return [
        f"{one} and {other} import one another"
        for one in sorted(reached)
        for other in sorted(reached[one])
        if one < other and one in reached.get(other, set())
    ]


def _reached(start: str, steps: dict[str, set[str]]) -> set[str]:
    found: set[str] = set()
    ahead = [start]
    while ahead:
        for step in steps.get(ahead.pop(), set()) - found:
            found.add(step)
            ahead.append(step)
    return found


def test_no_two_packages_import_one_another() -> None:
    top_level = {"planner"}  # constants, errors, files, angles: held by the levels above
    broken = _package_circles(ROOT / "planner")
    assert not [line for line in broken if line.split()[0] not in top_level], "\n".join(broken)


def test_a_circle_through_a_sub_package_is_seen(tmp_path: Path) -> None:
    """As it was once between the targets and their own sub-package of importers."""
    inner = tmp_path / "house" / "targets" / "outside"
    inner.mkdir(parents=True)
    (inner.parent / "library.py").write_text("from house.targets.outside.store import x\n")
    (inner / "store.py").write_text("x = 1\n")
    assert _package_circles(tmp_path / "house") == []
    (inner / "importing.py").write_text("from house.targets.library import joined\n")
    assert _package_circles(tmp_path / "house") == [
        "house.targets and house.targets.outside import one another"
    ]


def test_third_party_packages_stay_in_their_rooms() -> None:
    standard = sys.stdlib_module_names
    broken = []
    for path in _modules():
        room = _room(path)
        for line, name in _imports(path):
            top = name.split(".")[0]
            if top in standard or top == "planner" or room == "__init__":
                continue
            if top not in OUTSIDE[room]:
                broken.append(f"{path.relative_to(ROOT)}:{line}: {room} may not import {top}")
    assert not broken, "\n".join(broken)


def test_layer_packages_hold_a_docstring_only() -> None:
    for path in (ROOT / "planner").glob("*/__init__.py"):
        body = ast.parse(path.read_text(encoding="utf-8")).body
        assert len(body) == 1 and isinstance(body[0], ast.Expr), path


def test_no_module_outgrows_its_room() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for path in _modules()
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST_MODULE
    }
    assert not long


def test_public_functions_are_documented() -> None:
    bare = []
    for path in _modules():
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if (
                isinstance(node, ast.FunctionDef | ast.ClassDef)
                and not node.name.startswith("_")
                and ast.get_docstring(node) is None
            ):
                bare.append(f"{path.relative_to(ROOT)}:{node.lineno}: {node.name}")
    assert not bare, "\n".join(bare)


def test_comparisons_in_tests_are_asserted() -> None:
    idle = []
    for path in (ROOT / "tests").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call | ast.Compare):
                text = ast.unparse(node.value)
                if isinstance(node.value, ast.Compare) or text.startswith(
                    ("np.allclose", "np.isclose", "np.array_equal", "pytest.approx", "math.isclose")
                ):
                    idle.append(f"{path.relative_to(ROOT)}:{node.lineno}: {text[:60]}")
    assert not idle, "\n".join(idle)


def test_reading_a_kit_loads_no_astropy() -> None:
    """Every night's start reads a kit; astropy is for the catalogs of others only."""
    code = (
        "import sys\n"
        "from planner.kit.reading import load_kit\n"
        "kit = load_kit()\n"
        "assert kit.telescope().aperture_mm == 160.0\n"
        "assert 'astropy' not in sys.modules\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_a_night_loads_nothing_for_a_network_or_a_lock() -> None:
    """Dear imports that a start without imports and with its tables kept has no use for."""
    code = (
        "import sys\n"
        "import planner.night.planning, planner.sheets.night_text\n"
        "from planner.ephemeris.kernel import timescale\n"
        "timescale()\n"
        "idle = {'ssl', 'urllib.request', 'filelock', 'astropy', 'planner.importers.merging'}\n"
        "assert not idle & set(sys.modules), idle & set(sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_help_loads_no_heavy_package() -> None:
    code = (
        "import sys\n"
        "from planner.cli.root import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'pandas', 'matplotlib', 'astropy', 'skyfield'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_every_package_is_in_the_wheel() -> None:
    """The list in pyproject.toml is that of the folders, the catalogs beside them."""
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    listed = set(told["tool"]["setuptools"]["packages"]) - {"planner.catalogs"}
    folders = (path.parent.relative_to(ROOT) for path in (ROOT / "planner").rglob("__init__.py"))
    assert listed == {".".join(folder.parts) for folder in folders}
