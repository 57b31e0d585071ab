"""Write docs/cli.md from what ``--help`` of every command says."""

from __future__ import annotations

import inspect
from pathlib import Path
from typing import TYPE_CHECKING

import click
from generated import write_or_check

from planner.cli.root import main

if TYPE_CHECKING:
    from collections.abc import Iterator

PAGE = Path(__file__).with_name("cli.md")
HEAD = """\
# Commands

This page is written by `python docs/make_cli.py` from the commands' own help; change the help in
`planner/cli/`, not this page.

Results go to standard output, everything else to standard error. Exit code 0: done, also when
the night is empty; 1: could not be done; 2: the request or the kit file is wrong.
"""


def page() -> str:
    """The whole page."""
    context = click.Context(main, info_name="planner", **main.context_settings)
    return "\n".join([HEAD, *(_section(c) for c in _contexts(context))])


def _contexts(context: click.Context) -> Iterator[click.Context]:
    """The contexts of a command and of all below it, in the order of the help."""
    yield context
    if isinstance(context.command, click.Group):
        for name in context.command.list_commands(context):
            command = context.command.get_command(context, name)
            if command is not None:
                yield from _contexts(click.Context(command, parent=context, info_name=name))


def _section(context: click.Context) -> str:
    command = context.command
    usage = " ".join([context.command_path, *command.collect_usage_pieces(context)])
    lines = [f"## {context.command_path}", "", "```text", usage, "```", ""]
    lines += [inspect.cleandoc(command.help or ""), ""]
    for parameter in command.get_params(context):
        option, words = parameter.get_help_record(context) or ("", "")
        if words and parameter.name != "help":
            lines.append(f"- `{option}`: {' '.join(words.split())}")
    if isinstance(command, click.Group):
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            if below is not None:
                lines.append(f"- `{name}`: {below.get_short_help_str(limit=200)}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    write_or_check(PAGE, page(), "make_cli.py")
