"""The hours in which the owner usually observes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import time


@dataclass(frozen=True, slots=True)
class Hours:
    """Usual hours of a night, as the site's clock shows them.

    ``begin`` is None for dusk, ``end`` None for dawn; an ``end`` before ``begin`` is after
    midnight.
    """

    begin: time | None = None
    end: time | None = None
