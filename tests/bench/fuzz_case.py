"""One case for the planner's commands, and how texts are spoilt."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

HIDDEN = ("\0", "\x1b[31m", "\x07", "\x7f", "\x85", "\u200b", "\u202e", "\ufeff", "\r", "\x0c")


@dataclass(frozen=True, slots=True)
class Case:
    """Files to write into an empty folder and the command lines to run there."""

    lines: tuple[tuple[str, ...], ...]
    files: dict[str, bytes] = field(default_factory=dict)


def spoilt_bytes(random: Random, content: bytes) -> bytes:
    """The bytes with one to four injuries."""
    spoilt = bytearray(content)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(spoilt) + 1)
        to = min(len(spoilt), at + random.choice((1, 2, 8, 60, 400)))
        match random.randrange(7):
            case 0:
                del spoilt[at:]
            case 1:
                del spoilt[at:to]
            case 2:
                spoilt[at:at] = random.randbytes(random.choice((1, 3, 30)))
            case 3:
                spoilt[at:at] = random.choice(HIDDEN).encode()
            case 4:
                spoilt[at:at] = spoilt[at:to]
            case 5:
                spoilt[at:to] = bytes(byte ^ 1 << random.randrange(8) for byte in spoilt[at:to])
            case 6:
                spoilt[at:to] = random.choice((b"9", b"-", b" ", b".", b"\n")) * (to - at)
    return bytes(spoilt)


def spoilt_coding(random: Random, content: bytes) -> bytes:
    """The text in a coding that nobody expects."""
    text = content.decode("utf-8", "replace")
    coding = random.choice(("utf-16", "utf-16-le", "utf-32", "latin-1", "cp500", "utf-8-sig"))
    return text.encode(coding, "replace")
