"""Kits for the tests: the example text, changed line by line."""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest

from planner.errors import KitError
from planner.kit.kit import Kit
from planner.kit.reading import example_text, parse_kit

FILE = "my.toml"


@dataclass(frozen=True)
class KeyLine:
    """One ``key = value`` line of the example: its index, its block as errors name it."""

    index: int
    block: str
    key: str

    def __str__(self) -> str:
        return f"{self.block} {self.key}"


def key_lines() -> list[KeyLine]:
    """Every line of the example that sets a key."""
    found, block, counts = [], "", {}
    for index, line in enumerate(example_text().splitlines()):
        if header := re.match(r"\[+\w+\]+", line):
            name = header.group()
            counts[name] = counts.get(name, 0) + 1
            block = f"{name} {counts[name]}" if name.startswith("[[") else name
        elif key := re.match(r"(\w+) = ", line):
            found.append(KeyLine(index, block, key.group(1)))
    return found


KEY_LINES = key_lines()


def with_line(line: KeyLine, text: str) -> str:
    """The example with one line replaced."""
    lines = example_text().splitlines()
    lines[line.index] = text
    return "\n".join(lines) + "\n"


def changed(*pairs: tuple[str, str]) -> str:
    """The example with pieces of text replaced, each found once or more; the first one counts."""
    text = example_text()
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def kit_with(*pairs: tuple[str, str]) -> Kit:
    """The kit of a changed example."""
    return parse_kit(changed(*pairs), FILE)


def refusal(text: str) -> str:
    """The one-line message of the KitError that a text must give."""
    with pytest.raises(KitError) as caught:
        parse_kit(text, FILE)
    return checked_message(caught.value)


def checked_message(error: KitError) -> str:
    """The message of an error, which must be one line and begin with the file."""
    message = str(error)
    assert message.startswith(f"{FILE}: ")
    assert message.isprintable()  # hence one line
    return message
