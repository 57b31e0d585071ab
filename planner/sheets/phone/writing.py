"""The phone page as one self-contained file: template, style and script under a strict policy."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files
from typing import TYPE_CHECKING

from planner.files import write_whole
from planner.sheets.phone.record import phone_page

if TYPE_CHECKING:
    from pathlib import Path

    from planner.night.evening.outing import Outing
    from planner.sheets.phone.record import PhonePage

POLICY = (
    "default-src 'none'; script-src '{script}'; style-src '{style}'; img-src data:; "
    "base-uri 'none'; form-action 'none'"
)


def write_phone_page(outing: Outing, path: Path) -> int:
    """Write the page whole or not at all; returns its number of targets."""
    page = phone_page(outing)
    write_whole(path, page_html(page).encode("utf-8"))
    return len(page.targets)


def page_html(page: PhonePage) -> str:
    """The page as HTML; every word of the kit, the catalogs and the night stands as text only.

    The policy lets nothing run or load but the page's own script, style and inline pictures,
    named by their digests, so that a stray tag in a name could not act even if it got through.
    """
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    style, script = _part("page.css"), _part("page.js")
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["drawing"] = Markup  # made by the writer of drawings, which escapes
    template = environment.from_string(_part("page.html.j2"))
    return template.render(
        page=page,
        policy=POLICY.format(script=_digest(script), style=_digest(style)),
        style=Markup(style),
        script=Markup(script),
    )


def _part(name: str) -> str:
    return (files("planner.sheets.phone") / name).read_text(encoding="utf-8")


def _digest(text: str) -> str:
    """The source expression of an inline part, W3C Content Security Policy Level 3."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
