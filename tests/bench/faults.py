"""Sets small faults into a copy of the package, one at a time, and asks whether tests notice.

Run with ``python tests/bench/faults.py --count 200 --seed 1 --rooms optics,sky,eye,verdict,night``.
A room may be narrowed to a module: ``--rooms optics.figure``. Only the test files of the same
room that import the module are run, so a fault that survives is one its own tests let pass. The
same seed on the same source gives the same faults. Some survivors are no faults at all: a
starting value of a search, or a bound that nothing reaches; judge them one by one.
"""

from __future__ import annotations

import argparse
import ast
import copy
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

PROJECT = Path(__file__).resolve().parents[2]
PYTEST = ("-x", "-q", "-n", "0", "--no-header", "-p", "no:cacheprovider", "--hypothesis-seed=1")
TIMEOUT_S = 300
CHANGE = 1.2  # a constant is made a fifth larger
NOT_CODE = {"annotation", "returns", "decorator_list", "slice", "type_comment", "type_params"}
COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.GtE: ast.Lt, ast.Gt: ast.LtE, ast.LtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
NAMES = {
    "minimum": "maximum", "maximum": "minimum", "min": "max", "max": "min", "nanmin": "nanmax",
    "nanmax": "nanmin", "argmin": "argmax", "argmax": "argmin", "any": "all", "all": "any",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: the file, its line, what was changed, and which change of the file it is."""

    path: Path
    line: int
    words: str
    number: int


def changed(node: ast.AST) -> Iterator[ast.AST]:
    """Every faulty form of one node, none for most."""
    match node:
        case ast.UnaryOp(op=ast.Not() | ast.Invert(), operand=operand):
            yield operand
        case ast.Call(func=ast.Attribute(attr="where"), args=[_, one, other]):
            yield from (one, other)
        case ast.IfExp(body=one, orelse=other):
            yield from (one, other)
        case ast.Constant(value=bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(value=int() as value):
            yield ast.Constant(value + max(1, round((CHANGE - 1.0) * abs(value))))
        case ast.Constant(value=float() as value):
            yield ast.Constant(value * CHANGE if value else 0.2)
        case _:
            yield from swapped(node)


def swapped(node: ast.AST) -> Iterator[ast.AST]:
    """A node with its operator or function exchanged for the opposite one."""
    new: Any = copy.copy(node)
    match node:
        case ast.Compare(ops=[op]) if type(op) in COMPARISONS:
            new.ops = [COMPARISONS[type(op)]()]
        case ast.BinOp(op=op) if type(op) in OPERATORS:
            new.op = OPERATORS[type(op)]()
        case ast.BoolOp(op=op):
            new.op = ast.Or() if isinstance(op, ast.And) else ast.And()
        case ast.Attribute(attr=name) if name in NAMES:
            new.attr = NAMES[name]
        case ast.Name(id=name) if name in NAMES:
            new.id = NAMES[name]
        case _:
            return
    yield new


def places(node: ast.AST) -> Iterator[tuple[ast.AST, str, int | None, ast.AST]]:
    """Every node of a tree that is code, with its parent, field and place in the field."""
    if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom):
        return
    if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
        return
    for field, value in ast.iter_fields(node):
        if field in NOT_CODE:
            continue
        children = enumerate(value) if isinstance(value, list) else [(None, value)]
        for place, child in children:
            if isinstance(child, ast.AST):
                yield node, field, place, child
                yield from places(child)


def changes(tree: ast.Module) -> Iterator[tuple[tuple[ast.AST, str, int | None, ast.AST], ast.AST]]:
    """Every place of a tree with each of its faulty forms."""
    for place in list(places(tree)):
        for new in changed(place[-1]):
            yield place, new


def faults_of(path: Path) -> Iterator[Fault]:
    """Every fault that can be set into one file."""
    for number, (place, new) in enumerate(changes(ast.parse(path.read_text()))):
        words = f"{ast.unparse(place[-1])}  ->  {ast.unparse(new)}"
        yield Fault(path, getattr(place[-1], "lineno", 0), words, number)


def faulty_text(fault: Fault) -> str:
    """The whole text of a file with a fault in it."""
    tree = ast.parse(fault.path.read_text())
    (parent, field, place, _), new = next(islice(changes(tree), fault.number, None))
    if place is None:
        setattr(parent, field, new)
    else:
        getattr(parent, field)[place] = new
    return ast.unparse(tree)


def room_of(path: Path) -> str:
    """The room a module stands in."""
    return path.relative_to(PROJECT / "planner").parts[0]


def tests_of(path: Path, copied: Path) -> list[str]:
    """The test files of the same room that import a module, by themselves or by a helper."""
    module = ".".join(path.relative_to(PROJECT).with_suffix("").parts)
    texts = {p: p.read_text() for p in sorted((copied / "tests" / room_of(path)).rglob("*.py"))}
    direct = {p for p, text in texts.items() if f"{module} import" in text}
    helpers = [p.stem for p in direct if not p.stem.startswith("test_")]
    through = {p for p, text in texts.items() if any(f"from {h} import" in text for h in helpers)}
    return [str(p) for p in sorted(direct | through) if p.stem.startswith("test_")]


def passes(tests: list[str], copied: Path, timeout_s: float | None) -> bool:
    """Whether the tests pass on the copy; tests that hang do not."""
    environment = os.environ | {"PYTHONPATH": str(copied), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            [sys.executable, "-m", "pytest", *PYTEST, *tests],
            cwd=copied, env=environment, capture_output=True, timeout=timeout_s,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def survives(fault: Fault, copied: Path) -> bool:
    """Whether the tests of its module pass with a fault in it."""
    inside = copied / fault.path.relative_to(PROJECT)
    inside.write_text(faulty_text(fault))
    tests = tests_of(fault.path, copied)
    try:
        return not tests or passes(tests, copied, TIMEOUT_S)
    finally:
        inside.write_text(fault.path.read_text())


def chosen(arguments: argparse.Namespace) -> list[Fault]:
    """The faults to set, in the order of the source."""
    paths = []
    for room in arguments.rooms.split(","):
        place = PROJECT.joinpath("planner", *room.split("."))
        paths += sorted(place.rglob("*.py")) if place.is_dir() else [place.with_suffix(".py")]
    faults = [fault for path in paths for fault in faults_of(path)]
    if not faults:
        raise SystemExit(f"no code to set faults into: {arguments.rooms}")
    picked = random.Random(arguments.seed).sample(
        range(len(faults)), min(arguments.count, len(faults))
    )
    return [faults[i] for i in sorted(picked)]


def main() -> None:
    """Print each fault and its fate, and the shares caught."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200, help="how many faults")
    parser.add_argument("--seed", type=int, default=1, help="which of the possible faults")
    parser.add_argument("--rooms", default="optics,sky,eye,verdict,night", help="with commas")
    faults = chosen(parser.parse_args())
    total, caught = Counter[str](), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        copied = Path(folder)
        for part in ("planner", "tests"):
            unwanted = shutil.ignore_patterns("__pycache__")
            shutil.copytree(PROJECT / part, copied / part, ignore=unwanted)
        shutil.copy(PROJECT / "pyproject.toml", copied)
        needed = sorted({test for fault in faults for test in tests_of(fault.path, copied)})
        if not passes(needed, copied, None):
            raise SystemExit("the tests fail without any fault: put that right first")
        for fault in faults:
            room = room_of(fault.path)
            survived = survives(fault, copied)
            total[room] += 1
            caught[room] += not survived
            where = f"{fault.path.relative_to(PROJECT)}:{fault.line}"
            print(f"{'SURVIVED' if survived else 'caught':8}  {where}  {fault.words}", flush=True)
    for room, number in total.items():
        share = 100 * caught[room] / number
        print(f"{room}: {caught[room]} of {number} caught, {share:.0f} %")
    share = 100 * caught.total() / total.total()
    print(f"together: {caught.total()} of {total.total()} caught, {share:.0f} %")


if __name__ == "__main__":
    main()
