"""A record as one line of JSON, and back."""

from __future__ import annotations

from dataclasses import fields

import msgspec

from planner.log.record import Record

NAMES = tuple(entry.name for entry in fields(Record))  # as they stand in a line
_RECORD = msgspec.json.Decoder(Record)


class DamagedLineError(ValueError):
    """A line that is no record; the message says why, in a few words."""


def line_of(record: Record) -> bytes:
    """The record as one line of UTF-8 JSON with its newline; nothing that is empty is written."""
    known = {
        name: value
        for name in NAMES
        if (value := getattr(record, name)) is not None and value != "" and value is not False
    }
    return msgspec.json.encode(known) + b"\n"


def record_of(line: bytes) -> Record:
    """The record of one line; fields not known here are left alone in the file.

    Raises:
        DamagedLineError: it is not one.
    """
    try:
        record = _RECORD.decode(line)
    except (ValueError, RecursionError) as error:
        raise DamagedLineError(str(error)) from None
    if record.at.utcoffset() is None or record.written.utcoffset() is None:
        raise DamagedLineError("a time without its zone")
    return record
