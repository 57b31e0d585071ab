"""Values shown back to their owner."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.kit.shown import LONGEST_SHOWN, shown, shown_key

VALUES = st.recursive(
    st.one_of(
        st.integers(), st.floats(), st.booleans(), st.text(), st.dates(), st.times(), st.datetimes()
    ),
    lambda inner: st.one_of(st.lists(inner), st.dictionaries(st.text(), inner)),
    max_leaves=8,
)


@settings(deadline=None, max_examples=200)
@given(VALUES)
def test_shown_is_short_and_on_one_line(value: object) -> None:
    """Whatever TOML may hold."""
    text = shown(value)
    assert text.isprintable()
    assert len(text) <= LONGEST_SHOWN


@pytest.mark.parametrize(
    "toml", ["true", "48.1", "-3", '"6 in"', '"a\\"b"', "[[0, 8], [60, 12]]", "2026-03-01", "nan"]
)
def test_shown_is_what_the_file_holds(toml: str) -> None:
    """As written, not as the programming language writes it."""
    assert shown(tomllib.loads(f"x = {toml}")["x"]) == toml


@pytest.mark.parametrize(("key", "text"), [("sky", "sky"), ("a b", '"a b"'), ("", '""')])
def test_shown_key_is_quoted_where_toml_wants_it(key: str, text: str) -> None:
    """Source: TOML 1.0.0, keys."""
    assert shown_key(key) == text
