"""`planner plan`: the evening in order, with the way from target to target."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.cli.file_path import FilePath
from planner.cli.named_targets import list_ids
from planner.cli.night_request import ChoiceOptions, NightOptions, done_on, request_for
from planner.cli.options import NOW, TimeSpan, choice_options, night_options, open_kit

if TYPE_CHECKING:
    from planner.night.evening.evening import Evening
    from planner.night.evening.order_file import FiledLook
    from planner.night.evening.request import EveningRequest
    from planner.night.request import Request

    Span = tuple[dt.time, dt.time]


@click.command()
@night_options
@choice_options
@click.option(
    "--must", metavar="A,B", help="Targets that the order has to hold, whatever they cost."
)
@click.option("--done", metavar="A,B", help="Targets you have seen already tonight.")
@click.option("--skip", metavar="A,B", help="Targets to leave out.")
@click.option(
    "--clouds", metavar="HH:MM-HH:MM", multiple=True, type=TimeSpan(),
    help="Clouds from when to when; may be given more than once.",
)  # fmt: skip
@click.option(
    "--break", "breaks", metavar="HH:MM-HH:MM", multiple=True, type=TimeSpan(),
    help="A break from about when to when; may be given more than once.",
)  # fmt: skip
@click.option(
    "--with", "companions", metavar="NAME", multiple=True,
    help="A companion of the kit who has to reach the eyepiece too.",
)  # fmt: skip
@click.option(
    "--keep", metavar="FILE", type=FilePath(dir_okay=False),
    help="An order printed before as JSON: what need not change stays as it was.",
)  # fmt: skip
@click.option(
    "--check", metavar="FILE", type=FilePath(dir_okay=False),
    help="Only check an order, perhaps edited by hand: every fault is named.",
)  # fmt: skip
@click.option(
    "--format", "output_format", type=click.Choice(["text", "json", "ics"]), default="text",
    show_default=True, help="How to print the order.",
)  # fmt: skip
def plan(
    kinds: str | None,
    constellation: str | None,
    faintest: float | None,
    limit: int | None,
    wanted_list: str | None,
    only_new: bool,
    only_again: bool,
    must: str | None,
    done: str | None,
    skip: str | None,
    clouds: tuple[Span, ...],
    breaks: tuple[Span, ...],
    companions: tuple[str, ...],
    keep: str | None,
    check: str | None,
    output_format: str,
    **night: Any,
) -> None:
    """Put the evening in order: what, when, and how to get there by hand.

    Chooses and orders so that the sum of worth, less the cost of every hop, change and wait, is
    as great as can be, and says how near to the best possible it is.
    """
    from planner.night.evening.order_file import read_order

    options, path = NightOptions(**night), check or keep
    filed = None if path is None else read_order(Path(path))
    if filed is not None:
        options = options.usually_on(filed.date)
    kit = open_kit(options.kit_path)
    choice = ChoiceOptions(
        kinds, constellation, faintest, limit,
        wanted_list=wanted_list, only_new=only_new, only_again=only_again,
    )  # fmt: skip
    request = request_for(options, choice, kit)
    looked_at = looked_at_tonight(request) if options.start == NOW else ()
    request = replace(request, without=request.without - set(looked_at))
    from planner.night.evening.request import EveningRequest
    from planner.night.evening.session import Gap

    asked = EveningRequest(
        night=replace(request, limit=None),
        most=limit,
        companions=tuple(kit.companion(name) for name in companions),
        must=list_ids(must),
        done=(*list_ids(done), *looked_at),
        skip=list_ids(skip),
        clouds=tuple(Gap(*span) for span in clouds),
        breaks=tuple(Gap(*span) for span in breaks),
        before=None if check else filed,
        here=looked_at[-1] if looked_at else "",
    )
    if check and filed is not None:
        _check(asked, check, filed.looks)
        return
    from planner.night.evening.evening import order_evening

    click.echo(_rendered(order_evening(asked), output_format), nl=output_format != "ics")


def looked_at_tonight(request: Request) -> tuple[str, ...]:
    """What the log has of this very night, the last look last: done, and the last in the view."""
    done = done_on(request.date, request.seen)
    return tuple(sorted(done, key=lambda name: request.seen[name].last_at))


def _check(asked: EveningRequest, path: str, looks: tuple[FiledLook, ...]) -> None:
    """Say what is wrong with an order, or that nothing is.

    Raises:
        PlannerError: there are faults; each is named.
    """
    from planner.errors import PlannerError
    from planner.night.evening.checking import order_faults
    from planner.sheets.order_fault_words import fault_words

    faults = order_faults(asked, looks)
    if faults:
        first, *others = (f"{path}: {fault_words(fault)}" for fault in faults)
        raise PlannerError(first, tuple(others))
    click.echo(f"{path}: {len(looks)} entries, nothing wrong")


def _rendered(evening: Evening, output_format: str) -> str:
    if output_format == "json":
        from planner.sheets.evening_document import evening_document
        from planner.sheets.json_text import json_text

        return json_text(evening_document(evening))
    if output_format == "ics":
        from planner.sheets.evening_calendar import evening_calendar

        return evening_calendar(evening, dt.datetime.now(dt.UTC))
    from planner.sheets.evening_text import evening_text

    return evening_text(evening)
