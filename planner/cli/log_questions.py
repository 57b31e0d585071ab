"""Asks for a look on a terminal: a few keys each, and Enter for what was not noted."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from planner.errors import PlannerError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from planner.cli.log_add import LookOptions
    from planner.night.request import Request
    from planner.targets.kind import Kind


def at_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask_name(library: Path) -> str:
    """The name of a target, asked again until it is known."""
    from planner.importers.library import load_all_names
    from planner.targets.names import find

    index = load_all_names(library)
    while True:
        name: str = click.prompt("Which target")
        try:
            find(index, name)
        except PlannerError as error:
            click.echo(f"  {error}")
            continue
        return name


def ask_look(told: LookOptions, kind: Kind, request: Request) -> LookOptions:
    """What was not told on the command line, asked for; words, beginnings or numbers."""
    from planner.cli.log_words import clock_hours, companion_meant, outcome_meant, seeing_meant
    from planner.log.outcome import Companion, outcomes_of
    from planner.targets.kind import Kind as Kinds

    seen = _choice("How did it look", outcomes_of(kind), lambda text: outcome_meant(text, kind))
    while seen is None:
        click.echo("  without that there is nothing to write down")
        seen = _choice("How did it look", outcomes_of(kind), lambda text: outcome_meant(text, kind))
    told = replace(told, seen=seen)
    if kind is Kinds.DOUBLE:
        if told.companion is None:
            told = replace(told, companion=_choice("The companion", Companion, companion_meant))
        if told.clock is None:
            told = replace(told, clock=_answer("Where it stood, 12 on top, like 4:30", clock_hours))
    if told.seeing is None:
        told = replace(told, seeing=_answer('Seeing, like 2 (") or steady', seeing_meant))
    if told.eyepiece is None:
        from planner.cli.log_words import view_meant
        from planner.sheets.page_text import wrapped

        click.echo(wrapped(", ".join(view.name for view in request.views), 2))
        view = _answer("Eyepiece, like 7 or 149x", lambda text: view_meant(text, request.views))
        told = replace(told, eyepiece=view)
    return told if told.note is not None else replace(told, note=_answer("Note", str))


def _choice(
    question: str, words: Sequence[str] | type, meant: Callable[[str], object]
) -> str | None:
    """One of some words, by its number, itself or its beginning; None for Enter."""
    choices = [str(word) for word in words]  # type: ignore[union-attr]
    click.echo("  ".join(f"{number} {word}" for number, word in enumerate(choices, 1)))

    def numbered(text: str) -> str:
        if text.isdecimal() and 1 <= int(text) <= len(choices):
            return choices[int(text) - 1]
        meant(text)
        return text

    while True:
        text: str = click.prompt(question, default="", show_default=False).strip()
        if not text:
            return None
        try:
            return numbered(text)
        except UsageError as error:
            click.echo(f"  {error}")


def _answer(question: str, meant: Callable[[str], object]) -> str | None:
    """A free answer that ``meant`` accepts; None for Enter."""
    while True:
        text: str = click.prompt(question, default="", show_default=False).strip()
        if not text:
            return None
        try:
            meant(text)
        except UsageError as error:
            click.echo(f"  {error}")
            continue
        return text
