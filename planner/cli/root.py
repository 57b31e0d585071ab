"""The command group and the one place where errors become messages and exit codes."""

from __future__ import annotations

import io
import os
import sys
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any

import click

from planner.cli.catalog import catalog
from planner.cli.chart import chart
from planner.cli.events import events
from planner.cli.kit import kit
from planner.cli.log import log
from planner.cli.mirror import mirror
from planner.cli.moon import moon
from planner.cli.nights import nights
from planner.cli.plan import plan
from planner.cli.scope import scope
from planner.cli.sheet import sheet
from planner.cli.target import target
from planner.cli.tonight import tonight
from planner.cli.tube import tube
from planner.errors import PlannerError, UsageError
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator


_OPENING = "Error: "  # click's own
_HELP_INSTEAD = getattr(click.exceptions, "NoArgsIsHelpError", ())  # click before 8.2 has none


def _wrapped(message: str) -> str:
    text = "".join(c if c.isprintable() or c in "\n\t" else "?" for c in message)
    longest = max(text.split(), key=len, default="")
    return wrapped(text, 2, break_long_words=os.sep not in longest, break_on_hyphens=False)


class _CouldNot(click.ClickException):
    """What could not be done, in lines of at most 100 columns; a long path is left whole.

    A message may quote what a file or command line holds, so hidden characters, which a
    terminal would obey, are shown as question marks.
    """

    def __init__(self, message: str, others: tuple[str, ...] = ()) -> None:
        super().__init__(message)
        self.others = others

    def format_message(self) -> str:
        """The message, wrapped to stand after click's "Error: ", and each other on a new line."""
        first, *rest = (_wrapped(_OPENING + text) for text in (self.message, *self.others))
        return "\n".join((first.removeprefix(_OPENING), *rest))


class _WrongRequest(_CouldNot):
    """A wrong request, as click's own usage errors but without the usage line."""

    exit_code = 2


class ErrorMappingGroup(click.Group):
    """Turns the planner's errors into one message on stderr and exit code 1 or 2."""

    def make_context(self, *args: Any, **more: Any) -> click.Context:
        """Read the options; printing the help may fail like any other output."""
        _buffer_output()
        with _one_message():
            return super().make_context(*args, **more)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; no traceback reaches the user for anything foreseen."""
        with _one_message():
            return super().invoke(ctx)


def _buffer_output() -> None:
    """Put a buffer before an unbuffered stdout (PYTHONUNBUFFERED).

    Without one Python writes a long text once, and drops without a word what a full disk no
    longer takes.
    """
    raw = getattr(sys.stdout, "buffer", None)
    if isinstance(raw, io.RawIOBase):
        encoding, errors = sys.stdout.encoding, sys.stdout.errors
        sys.stdout = io.TextIOWrapper(io.BufferedWriter(raw), encoding=encoding, errors=errors)


@contextmanager
def _one_message() -> Iterator[None]:
    """Map every foreseen error to one message and an exit code."""
    try:
        yield
    except click.UsageError as error:
        if isinstance(error, _HELP_INSTEAD):
            raise
        path = error.ctx.command_path if error.ctx else "planner"
        raise _WrongRequest(f"{error.format_message()} (see: {path} --help)") from error
    except UsageError as error:
        raise _WrongRequest(str(error), error.others) from error
    except PlannerError as error:
        raise _CouldNot(str(error), error.others) from error
    except BrokenPipeError:
        _drop_output()
        sys.exit(0)
    except OSError as error:
        if not error.filename:
            _drop_output()
        where = error.filename or "standard output"
        reason = (error.strerror or str(error)).lower()
        raise _CouldNot(
            f"{where}: {reason}; check the path, the rights and the free space"
        ) from error


def _drop_output() -> None:
    """Send what is still in the buffer nowhere: at exit Python would try to write it once more."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


@click.group(cls=ErrorMappingGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="one-telescope-planner", prog_name="planner")
@click.pass_context
def main(ctx: click.Context) -> None:
    """What will this telescope, with these eyepieces, show tonight?

    Start with `planner tonight`; it uses an embedded example kit until you write your own with
    `planner kit new MYKIT.toml`.

    Never point a telescope or finder at or near the Sun without a full-aperture front filter.
    """
    ctx.color = False


for command in (
    tonight, plan, nights, events, moon, target, chart, sheet, log, scope, mirror, tube, kit,
    catalog,
):  # fmt: skip
    main.add_command(command)
