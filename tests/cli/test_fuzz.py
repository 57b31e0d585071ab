"""A short run of each fuzzer, and proof that they see a fault when there is one."""

from __future__ import annotations

import warnings

import click
import fuzz
import pytest
from click.testing import CliRunner
from fuzz_case import Case

SEED = 20260520  # its few whole nights are quick ones
COUNTS = {
    "mutated-kits": 60, "extreme-kits": 10, "command-lines": 40, "imports": 12, "mirrors": 30,
}  # fmt: skip


@pytest.mark.parametrize("which", fuzz.FUZZERS)
def test_no_case_of_a_fuzzer_ends_in_a_fault(which: str) -> None:
    """Neither traceback nor warning nor spoilt output: the same cases every time."""
    tally = fuzz.fuzz(which, COUNTS[which], SEED)
    assert tally.faults == {}
    assert tally.codes.total() >= COUNTS[which]
    assert tally.codes[0] > 0  # not everything is refused at the door


def test_the_same_seed_gives_the_same_cases() -> None:
    """A fault can be looked at again."""
    for make in fuzz.FUZZERS.values():
        first, second, other = (make(fuzz.Random(seed)) for seed in ("1", "1", "2"))
        assert first == second != other


@pytest.mark.parametrize(
    ("output", "code", "fault"),
    [
        ("fine", 0, None),
        ("fine", 3, "exit code 3"),
        ("fine", 1, "exit code 1 without a message"),
        ("a\x1b[31m", 0, "control characters on stdout"),
        ("Traceback (most recent call last)", 0, "the text of a traceback"),
        ("raise", 0, "KeyError: \"'x'\" "),
        ("warn", 0, "RuntimeWarning: odd "),
    ],
)
def test_a_fault_is_seen(
    output: str, code: int, fault: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A command that misbehaves in each of the ways a fuzzer looks for."""

    @click.command()
    @click.pass_context
    def command(ctx: click.Context) -> None:
        if output == "raise":
            raise KeyError("x")
        if output == "warn":
            warnings.warn("odd", RuntimeWarning, stacklevel=1)
        click.echo(output)
        ctx.exit(code)

    monkeypatch.setattr(fuzz, "planner", command)
    monkeypatch.setitem(fuzz.FUZZERS, "one", lambda random: Case(((),)))
    found = list(fuzz.fuzz("one", 1, SEED).faults)
    if fault is None:
        assert found == []
    else:
        (only,) = found
        assert only.startswith(fault)


@pytest.mark.parametrize(
    ("text", "whole"),
    [('{"a": 1}', True), ('{"a": NaN}', False), ('{"a": -Infinity}', False), ("{", False)],
)
def test_json_is_read_strictly(text: str, whole: bool) -> None:
    """RFC 8259 knows neither NaN nor Infinity."""
    result = CliRunner().invoke(click.Command("echo", callback=lambda: click.echo(text)))
    assert fuzz.faults_of(("json",), result) == ([] if whole else ["JSON that is none"])
