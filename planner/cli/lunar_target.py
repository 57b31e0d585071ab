"""A feature of the Moon as the target of `planner target`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from planner.cli.named_targets import ids_judged
from planner.cli.night_request import library_folder

if TYPE_CHECKING:
    from planner.night.request import Request


def lunar_feature(text: str) -> int | None:
    """The row of the lunar feature that a name means, None where it means something else.

    A name that a star or object bears too is theirs, with a note on stderr; unless the text says
    that the Moon's is meant, or the star is no target.

    Raises:
        UnknownTargetError: nothing is called so; near names of the Moon are among those told.
    """
    from planner.errors import UnknownTargetError
    from planner.importers.library import load_all_names
    from planner.targets.lunar_names import lunar_names, lunar_row, near_lunar, says_lunar
    from planner.targets.names import find, near_names

    row = lunar_row(text)
    if row is not None and says_lunar(text):
        return row
    index = load_all_names(library_folder())
    try:
        matches = find(index, text)
        ids_judged(matches)
    except UnknownTargetError:
        near = near_lunar(text)
        if row is not None or not near:
            return row
        near += [name for name in near_names(index, text) if name not in near]
        raise UnknownTargetError(
            f"no target is called {text.strip()!r}; near names: {', '.join(near)}"
        ) from None
    if row is not None:
        name = lunar_names()[row]
        click.echo(f"note: {name} is on the Moon too: planner target moon {name.lower()}", err=True)
    return None


def feature_page(request: Request, row: int, output_format: str) -> str:
    """The page of one feature, as text or JSON."""
    from planner.night.lunar_nights import feature_tonight
    from planner.night.single_target import plan_lunar_feature

    plan, moon = plan_lunar_feature(request, row)
    told = feature_tonight(request.site, request.date, row, request.least_altitude_deg, moon)
    if output_format == "json":
        from planner.sheets.json_text import json_text
        from planner.sheets.moon_document import feature_document

        return json_text(feature_document(plan, told))
    from planner.sheets.lunar_feature_text import lunar_feature_text

    return lunar_feature_text(plan, told)
