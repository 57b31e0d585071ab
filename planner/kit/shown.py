"""A value of a kit file shown back as its owner wrote it, short and on one line."""

from __future__ import annotations

import datetime as dt
import json
import re
from typing import Any

LONGEST_SHOWN = 60
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,40}")


def shown(value: Any) -> str:
    """A TOML value as TOML, cut after 60 characters, hidden characters replaced."""
    return one_line(_toml(value, 0))


def one_line(text: str) -> str:
    """A text cut after 60 characters, hidden characters replaced."""
    line = "".join(c if c.isprintable() else "?" for c in text[: 2 * LONGEST_SHOWN])
    return line if len(line) <= LONGEST_SHOWN else line[: LONGEST_SHOWN - 3] + "..."


def shown_key(key: str) -> str:
    """A key as TOML: bare where it can be, else in quotes."""
    return key if _BARE_KEY.fullmatch(key) else shown(key)


def _toml(value: Any, depth: int) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value[: 2 * LONGEST_SHOWN], ensure_ascii=False)
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    if isinstance(value, int) and value.bit_length() > 200:
        return "a number of very many digits"
    if not isinstance(value, list | dict):
        return str(value)
    if depth == 2:
        return "..."
    if isinstance(value, list):
        return "[" + ", ".join(_toml(item, depth + 1) for item in value[:LONGEST_SHOWN]) + "]"
    pairs = list(value.items())[:LONGEST_SHOWN]
    return "{" + ", ".join(f"{shown_key(k)} = {_toml(v, depth + 1)}" for k, v in pairs) + "}"
