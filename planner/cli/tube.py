"""`planner tube`: balance, friction, light and firm standing of the tube."""

from __future__ import annotations

import click

from planner.cli.options import kit_option, open_kit, telescope_option


@click.command()
@kit_option
@telescope_option
@click.option(
    "--format", "output_format", type=click.Choice(["text", "json"]), default="text",
    show_default=True, help="How to print the result.",
)  # fmt: skip
def tube(kit_path: str | None, telescope_name: str | None, output_format: str) -> None:
    """Tell how the tube balances with each eyepiece, what holds it, and what it does to the light.

    From the kit: [[part]], [cradle] and [base] give balance, the hand's force and what tips it;
    [tube] the ring at the front and the cooling; the telescope alone its diagonal's light and the
    height of the eyepiece. What is missing is named.
    """
    kit = open_kit(kit_path)
    from planner.tube.account import account

    telescope = kit.telescope(telescope_name)
    found = account(telescope, kit.rig_of(telescope), kit.views(telescope))
    if output_format == "json":
        from planner.sheets.json_text import json_text
        from planner.sheets.tube_document import tube_document

        click.echo(json_text(tube_document(found)))
        return
    from planner.sheets.tube_text import tube_text

    click.echo(tube_text(found))
