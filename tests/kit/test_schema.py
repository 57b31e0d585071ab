"""The reader follows the schema: its ranges, its defaults, its keys that exclude one another."""

from __future__ import annotations

from datetime import time

import pytest
from kit_samples import FILE, changed, kit_with, refusal

from planner.errors import KitError
from planner.kit.block import Block
from planner.kit.reading import parse_kit
from planner.kit.rule import BlockRule, Key, Kind
from planner.kit.schema import BLOCKS
from planner.optics.telescope import Mount

ROWS = [
    pytest.param(rule, key, id=f"{rule.name} {key.name}") for rule in BLOCKS for key in rule.keys
]
UNITS = {Kind.NUMBER: "", Kind.LENGTH: " mm", Kind.MASS: " kg"}
BOUNDED = [row for row in ROWS if row.values[1].kind in UNITS]
# A smallest kit, from docs/formats.md, as TOML values by block and key.
SMALLEST = {
    "site": {"name": '"a"', "latitude": "1", "longitude": "2", "time_zone": '"UTC"', "sky": "20"},
    "telescope": {
        "name": '"t"', "design": '"newtonian"', "aperture": '"200 mm"',
        "focal_length": '"1000 mm"', "secondary": '"40 mm"',
    },
    "eyepiece": {"name": '"e"', "focal_length": '"25 mm"', "apparent_field": "50"},
}  # fmt: skip


def _kit_text(rule: BlockRule, values: dict[str, str]) -> str:
    """A smallest kit with some values more, or others, in one block."""
    blocks = {name: dict(keys) for name, keys in SMALLEST.items()}
    own = blocks.setdefault(rule.name, {})
    own.update(values)
    rules = {r.name: r for r in BLOCKS}
    return "\n".join(
        "\n".join((rules[name].heading, *(f"{k} = {v}" for k, v in keys.items())))
        for name, keys in blocks.items()
    )


def _written(key: Key, value: float) -> str:
    text = f"{value:.9f}{UNITS[key.kind]}"
    return text if key.kind is Kind.NUMBER else f'"{text}"'


def _alone(rule: BlockRule, key: Key, value: float) -> str | None:
    """What the block says of one key with this value, or None."""
    values = {key.name: value if key.kind is Kind.NUMBER else f"{value:.9f}{UNITS[key.kind]}"}
    return dict(Block(FILE, rule.heading, values, rule).faults()).get(key.name)


@pytest.mark.parametrize(("rule", "key"), BOUNDED)
def test_both_ends_of_a_range_are_allowed_and_no_more(rule: BlockRule, key: Key) -> None:
    beyond = 0.001 * (key.high - key.low)
    assert _alone(rule, key, key.low) is None
    assert _alone(rule, key, key.high) is None
    for value in (key.low - beyond, key.high + beyond):
        assert "must lie from" in str(_alone(rule, key, value))


@pytest.mark.parametrize(("rule", "key"), BOUNDED)
def test_the_reader_of_a_block_asks_for_every_key(rule: BlockRule, key: Key) -> None:
    """A value below the range is refused on reading, hence the key is not only in the table."""
    needed = {k.name: '"x"' for k in rule.keys if k.required and k.kind is Kind.TEXT}
    needed = {} if rule.name in SMALLEST else needed
    instead = {key.name: _written(key, key.low - 1.0)}
    text = _kit_text(rule, {**needed, **instead})
    if key.instead_of:
        text = "\n".join(x for x in text.splitlines() if not x.startswith(f"{key.instead_of} ="))
    with pytest.raises(KitError) as caught:
        parse_kit(text, FILE)
    told = (str(caught.value), *caught.value.others)
    assert any(f"{rule.name}]" in line and f": {key.name} = " in line for line in told)


@pytest.mark.parametrize(("rule", "key"), [row for row in ROWS if row.values[1].instead_of])
def test_keys_that_exclude_one_another_are_refused_together(rule: BlockRule, key: Key) -> None:
    values = {key.name: _written(key, key.low), key.instead_of: '"average"'}
    if key.instead_of != "haze":
        first = rule.key(key.instead_of)
        values[key.instead_of] = _written(first, first.low)
    assert f"{key.name} = " in refusal(_kit_text(rule, values))
    assert "give only one of" in refusal(_kit_text(rule, values))


def test_all_faults_of_a_kit_are_told_at_once() -> None:
    """Four blocks, six faults, the first in the file first; none twice."""
    text = changed(
        ("latitude = 48.10 ", "latitude = 148 "),
        ("seeing = 2.0 ", "seeing = 99 "),
        ('aperture = "160 mm"', 'aperture = "160 parsec"'),
        ("transmission = 0.79", "transmision = 0.79"),
        ("factor = 1.5", "factor = 15"),
        ("age = 52", "age = 520"),
    )
    with pytest.raises(KitError) as caught:
        parse_kit(text, FILE)
    told = [str(caught.value), *caught.value.others]
    for piece in (
        "latitude = 148", "seeing = 99", 'aperture = "160 parsec"', "transmision = 0.79",
        "factor = 15", "age = 520",
    ):  # fmt: skip
        assert len([line for line in told if f": {piece}: " in line]) == 1
    assert len(told) == 6
    assert "latitude" in told[0]


def test_a_misspelt_key_is_not_told_as_missing_too() -> None:
    with pytest.raises(KitError) as caught:
        parse_kit(changed(("latitude = 48.10 ", "latitud = 48.10 ")), FILE)
    assert "did you mean 'latitude'?" in str(caught.value)
    assert caught.value.others == ()


def test_a_sound_kit_has_no_fault_by_itself() -> None:
    """A bare 0 for no secondary is right, though it has no unit."""
    assert kit_with(('secondary = "35 mm"', "secondary = 0")).telescope().obstruction_mm == 0.0
    text = changed(('secondary = "35 mm"', "secondary = 0"), ("seeing = 2.0 ", "seeing = 99 "),
                   ('aperture = "160 mm"', 'aperture = "1 mm"'))  # fmt: skip
    with pytest.raises(KitError) as caught:
        parse_kit(text, FILE)
    assert len(caught.value.others) == 1


@pytest.mark.parametrize(("mount", "altitude"), [("hand-moved", 80.0), ("driven", 90.0)])
def test_greatest_altitude_follows_from_the_mount(mount: str, altitude: float) -> None:
    telescope = kit_with(('mount = "hand-moved"', f'mount = "{mount}"')).telescope()
    assert telescope.greatest_altitude_deg == altitude
    assert (telescope.mount is Mount.DRIVEN) == (mount == "driven")


def test_greatest_altitude_may_be_given() -> None:
    assert kit_with(("# greatest_alt", "greatest_alt")).telescope().greatest_altitude_deg == 75.0


def test_usual_hours_are_dusk_to_dawn_or_clock_times() -> None:
    hours = kit_with().hours
    assert (hours.begin, hours.end) == (None, time(0, 30))  # as the example says
    none = kit_with(('usual_from = "dusk"', ""), ('usual_until = "00:30"', "")).hours
    assert (none.begin, none.end) == (None, None)
    late = kit_with(('"dusk"  ', '"21:05"'), ('"00:30"', '"Dawn"')).hours
    assert (late.begin, late.end) == (time(21, 5), None)


@pytest.mark.parametrize("value", ['"25:00"', '"9 pm"', '"dawn"', "21", '""', "21:30:00"])
def test_usual_hours_refuse_what_is_no_clock_time(value: str) -> None:
    message = refusal(changed(('usual_from = "dusk"', f"usual_from = {value}")))
    assert 'write "dusk" or a clock time in quotes, like "21:30"' in message


def test_faults_of_keys_that_exclude_one_another_and_of_zones_are_told_too() -> None:
    """Beside faults of other keys of the block, and every block that there is none of."""
    text = changed(
        ("sky = 20.9 ", "bortle = 4\nsky = 20.9 "),
        ("latitude = 48.10 ", "latitude = 148.1 "),
        ("Europe/Berlin", "Europe/Berln"),
    )
    with pytest.raises(KitError) as raised:
        parse_kit(text + "[moon]\na = 1\n[[telescop]]\nb = 2\n", FILE)
    told = "\n".join((str(raised.value), *raised.value.others))
    for word in ("latitude = 148.1", "Europe/Berln", "only one of sky", "[moon]", "[telescop]"):
        assert told.count(word) == 1, told
    assert len(raised.value.others) == 4
