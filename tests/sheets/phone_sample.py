"""One small phone page for the tests: a few targets, once plain and once with hostile names."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from sample_nights import request

from planner.night.evening.outing import listed_outing
from planner.optics.eyepiece import Finder
from planner.sheets.phone.record import phone_page
from planner.sheets.phone.writing import page_html

if TYPE_CHECKING:
    from planner.sheets.phone.record import PhonePage

FINDERS = (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),)
DOUBLES_TOO = 7  # so many targets that doubles and others are among them
HOSTILE = (
    "<script>document.title='run'</script>",
    '"><img src=x onerror="document.title=\'run\'">',
    "</style><style>*{color:#0f0}</style>",
    "{{ 7 * 7 }} & &amp; ' \u202e",
)


@cache
def page() -> PhonePage:
    """The record of a winter night."""
    asked = request("Lindenhof", "2026-12-08", limit=DOUBLES_TOO, finders=FINDERS)
    return phone_page(listed_outing(asked))


@cache
def plain_html() -> str:
    """Its file."""
    return page_html(page())


@cache
def hostile_html() -> str:
    """The same with names that try to be markup, at every place a user's word may stand."""
    targets = tuple(
        replace(
            target, name=HOSTILE[k % 4], target_id=HOSTILE[k % 4], eyepiece=HOSTILE[1],
            power=HOSTILE[0], expectation=HOSTILE[2], way=(HOSTILE[3],),
        )
        for k, target in enumerate(page().targets)
    )  # fmt: skip
    return page_html(
        replace(page(), title=HOSTILE[0], site=HOSTILE[1], telescope=HOSTILE[2], targets=targets)
    )
