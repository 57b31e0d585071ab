"""`planner target`: everything about one target tonight."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from planner.cli.asking import ChoiceOptions, NightOptions, request_for
from planner.cli.options import night_options

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from planner.targets.names import Match


def _complete(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    from click.shell_completion import CompletionItem

    from planner.targets.names import complete

    return [CompletionItem(name) for name in complete(incomplete)]


@click.command()
@click.argument("name", nargs=-1, required=True, shell_complete=_complete)
@night_options
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="How to print the result.",
)
def target(name: tuple[str, ...], output_format: str, **night: Any) -> None:
    """Tell everything about one target tonight, and why it is or is not on the list.

    NAME forgives case and spaces: "m 13", NGC6205, "eps boo", Izar, "STF 1877", "16 Cyg",
    Jupiter.
    """
    from planner.targets.catalog import load_name_index
    from planner.targets.names import find

    matches = find(load_name_index(), " ".join(name))
    request = request_for(NightOptions(**night), ChoiceOptions())
    from planner.night.one import plan_one

    plan, courses = plan_one(replace(request, only=_ids(matches)))
    if output_format == "json":
        from planner.night.document import night_document

        click.echo(json.dumps(night_document(plan), indent=1, ensure_ascii=False, allow_nan=False))
        return
    from planner.sheets.target_text import target_text

    click.echo(target_text(plan, courses))


def _ids(matches: list[Match]) -> frozenset[str]:
    """The ids of the targets that a name means; a star that is no double is refused."""
    from planner.errors import UnknownTargetError
    from planner.targets.catalog import load_deepsky, load_pairs
    from planner.targets.names import Domain

    found = set()
    for match in matches:
        if match.domain is Domain.PAIR:
            found.add(str(load_pairs().pair_id[match.row]))
        elif match.domain is Domain.DEEP_SKY:
            found.add(str(load_deepsky().id[match.row]))
        elif match.domain is Domain.SOLAR_SYSTEM:
            found.add(match.label)
    if not found:
        raise UnknownTargetError(
            f"{matches[0].label} is a star, but no double in the catalogs; "
            "only doubles, deep-sky objects, the Moon and planets are judged"
        )
    return frozenset(found)
