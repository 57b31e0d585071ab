"""All faults of one kit file, kept in order and told together."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from planner.errors import KitError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.kit.block import Block


class Faults:
    """The faults found so far, none twice."""

    def __init__(self) -> None:
        self._messages: list[str] = []

    def add(self, message: str) -> None:
        """Keep one more."""
        if message not in self._messages:
            self._messages.append(message)

    def add_all(self, block: Block, known: str = "") -> None:
        """Keep the faults that keys of a block have by themselves, one a key.

        ``known`` is a fault of that block that is kept already: it stands for its key.
        """
        for key, message in block.faults():
            if not known.startswith(block.fault(key, "")):
                self.add(message)

    @contextmanager
    def kept(self, block: Block | None = None) -> Iterator[None]:
        """Keep the first fault met inside, then what else the block's keys have."""
        try:
            yield
        except KitError as error:
            self.add(str(error))
            if block is not None:
                self.add_all(block, known=str(error))

    def tell(self) -> None:
        """Raise what was found.

        Raises:
            KitError: the first fault, with the others behind it.
        """
        if self._messages:
            raise KitError(self._messages[0], tuple(self._messages[1:]))
