"""Every way to spoil a kit file ends in one line that says where, what and the remedy."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from kit_samples import (
    FILE,
    KEY_LINES,
    KeyLine,
    changed,
    checked_message,
    kit_with,
    refusal,
    with_line,
)

from planner.errors import KitError, UsageError
from planner.eye.stars import naked_eye_limit_mag
from planner.kit.likely import KEYS_MEANT
from planner.kit.reading import EXAMPLE_NAME, example_text, load_kit, parse_kit
from planner.kit.schema import BLOCKS

# what nobody can plan without; common practice, no source
REQUIRED = {
    "site": {"name", "latitude", "longitude", "time_zone", "sky"},
    "telescope": {
        "name", "design", "aperture", "focal_length", "secondary",
        "pivot_height", "pivot_to_focuser",  # each once the other is given
    },
    "eyepiece": {"name", "focal_length", "apparent_field"},
    "barlow": {"name", "factor"},
    "filter": {"name", "passes", "bandwidth_nm"},
    "finder": {"name", "magnification", "true_field", "image"},
    "observer": set(),
    "companion": {"name", "eye_height"},
    "tube": set(),
    "part": {"name", "mass", "along"},
    "cradle": {"axis_along"},
    "base": {"mass"},
}  # fmt: skip
KNOWN = {rule.name: rule.names for rule in BLOCKS}
# TOML that is wrong for every key of a kit, and how the message shows it
ABSURD = {
    "true": "true",
    "nan": "nan",
    "inf": "inf",
    "-inf": "-inf",
    "1e308": "1e+308",
    "1" + "0" * 400: "a number of very many digits",
    "0x" + "f" * 4000: "a number of very many digits",
    '""': '""',
    '"   "': '"   "',
    '"a\\tb\\nc"': '"a\\tb\\nc"',
    '"' + "9" * 400 + ' mm"': '"9999999999',
    '"' + "x" * 9000 + '"': '"xxxxxxxxxx',
    "{a = 1}": "{a = 1}",
    "[[1]]": "[[1]]",
    "[{a = [[[1]]]}]": "[{a = ...}]",
    "1979-05-27": "1979-05-27",
    "1979-05-27T07:32:00Z": "1979-05-27T07:32:00+00:00",
    "07:32:00": "07:32:00",
}


def _name(line: KeyLine) -> str:
    return re.findall(r"\w+", line.block)[0]


def test_example_kit_is_read_and_says_so() -> None:
    """Without a file the embedded example is used, under a name that is no path."""
    kit = load_kit()
    assert kit.source == EXAMPLE_NAME
    assert kit.telescope().name == "Elsa"
    assert len(kit.eyepieces) == 5


def test_example_kit_documents_every_key() -> None:
    """A reader of the example finds every key that a block may hold, in that block."""
    sections = re.split(r"(?m)^\[+(\w+)\]+.*$", example_text())
    bodies: dict[str, str] = {}
    for name, body in zip(sections[1::2], sections[2::2], strict=True):
        bodies[name] = bodies.get(name, "") + body
    assert set(bodies) == set(KNOWN)
    missing = [
        f"{block}: {key}"
        for block, keys in KNOWN.items()
        for key in keys
        if not re.search(rf"\b{key} = ", bodies[block])
    ]
    assert not missing


@pytest.mark.parametrize("line", KEY_LINES, ids=str)
def test_parse_kit_names_a_missing_key(line: KeyLine) -> None:
    """A required key that is deleted is named with its block; any other may go."""
    text = with_line(line, "")
    if line.key in REQUIRED[_name(line)]:
        message = refusal(text)
        assert f": {line.block}" in message
        assert f"{line.key} is missing: add " in message
    else:
        assert parse_kit(text, FILE).sites


@pytest.mark.parametrize("line", KEY_LINES, ids=str)
def test_parse_kit_rejects_absurd_values(line: KeyLine) -> None:
    """File, block, key, the value as written and a remedy, and nothing but a KitError."""
    for value, shown in ABSURD.items():
        message = refusal(with_line(line, f"{line.key} = {value}"))
        where, _, rest = message.partition(f": {line.key} = ")
        assert where.startswith(f"{FILE}: {line.block}")
        assert rest.startswith(shown)
        assert re.search(r": [^:]*(write|choose|must|give|at most|points)", rest), message
        assert len(message) < 400


@pytest.mark.parametrize("value", ["-1", "-0.5", "1e99", '"-5 mm"', '"1e3 mm"', '"5 parsec"', "0"])
@pytest.mark.parametrize(
    "key", ["aperture", "focal_length", "clear_aperture", "diagonal_to_focus", "focuser_barrel"]
)
def test_parse_kit_rejects_lengths_no_telescope_has(key: str, value: str) -> None:
    """Negative, naked and absurd lengths."""
    line = next(x for x in KEY_LINES if x.block == "[[telescope]] 1" and x.key == key)
    assert f"{key} = {value[:2]}" in refusal(with_line(line, f"{key} = {value}"))


def _misspellings(key: str) -> st.SearchStrategy[str]:
    places_in = st.integers(0, len(key) - 1)
    drop = places_in.map(lambda i: key[:i] + key[i + 1 :])
    double = places_in.map(lambda i: key[: i + 1] + key[i:])
    swap = places_in.map(lambda i: key[:i] + key[i : i + 2][::-1] + key[i + 2 :])
    return st.one_of(drop, double, swap, st.sampled_from([key.upper(), key.replace("_", "-")]))


@settings(deadline=None, max_examples=120)
@given(st.data(), st.sampled_from(KEY_LINES))
def test_parse_kit_suggests_the_right_spelling(data: st.DataObject, line: KeyLine) -> None:
    """A letter dropped, doubled or swapped, capitals, a dash: the right key is named."""
    wrong = data.draw(_misspellings(line.key))
    assume(wrong and wrong not in KNOWN[_name(line)])
    value = example_text().splitlines()[line.index].partition("=")[2]
    message = refusal(with_line(line, f"{wrong} ={value}"))
    assert f"{line.block}" in message
    assert f"{wrong} = " in message
    assert f"did you mean '{line.key}'?" in message


def test_parse_kit_lists_the_known_keys_where_nothing_is_near() -> None:
    """A key of another world is shown in quotes, on one line."""
    message = refusal(changed(("factor = 1.5", 'factor = 1.5\n"q\\nz" = 3')))
    assert '"q\\nz" = 3: no such key here; remove it (known: barrel, factor, mass, name)' in message


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("[[telescope]]", "[[telescop]]", "[telescop]: no such block; did you mean 'telescope'?"),
        ("[[barlow]]", "[[Barlow]]", "did you mean 'barlow'?"),
        ("[observer]", "[zebra]", "[zebra]: no such block; known blocks: site, telescope"),
        ("[[telescope]]", "[telescope]", "write it with double brackets: [[telescope]]"),
        ("[observer]", "[[observer]]", "write the block once, with single brackets: [observer]"),
        ("[[site]]", "", 'name = "Lindenhof": every key belongs below a block'),
        ("[[site]]", "site = 3\n[[sites]]", "no such block; did you mean 'site'?"),
    ],
)
def test_parse_kit_rejects_blocks_it_does_not_know(old: str, new: str, said: str) -> None:
    """Misspelt blocks, wrong brackets and keys above all blocks."""
    assert said in refusal(changed((old, new)))


def _with_blocks(*names: str) -> str:
    """The example's blocks of these names only."""
    pieces = re.split(r"(?m)^(?=\[+\w+\]+)", example_text())
    return "".join(p for p in pieces if p.startswith(tuple(f"[[{name}]]" for name in names)))


@pytest.mark.parametrize("value", ["3", "[3]", '"1.5x"', "true"])
@pytest.mark.parametrize("block", ["barlow", "filter"])
def test_parse_kit_rejects_values_where_blocks_belong(block: str, value: str) -> None:
    """The value is shown."""
    message = refusal(f"{block} = {value}\n" + _with_blocks("site", "telescope", "eyepiece"))
    assert f"{block} = {value}: write the block with double brackets: [[{block}]]" in message


@pytest.mark.parametrize("block", ["site", "telescope", "eyepiece"])
def test_parse_kit_names_a_missing_block(block: str) -> None:
    """What every plan needs."""
    others = {"site", "telescope", "eyepiece", "barlow"} - {block}
    assert f"no [[{block}]] block; add at least one" in refusal(_with_blocks(*others))


def test_parse_kit_needs_no_optional_block() -> None:
    """A site, a telescope and an eyepiece make a kit."""
    kit = parse_kit(_with_blocks("site", "telescope", "eyepiece"), FILE)
    assert (kit.barlows, kit.filters, kit.finders) == ((), (), ())
    assert kit.observer.field_factor == 2.0  # Crumey 2014: a typical observer


@pytest.mark.parametrize("text", ["", "\n", "# only a remark\n"])
def test_parse_kit_rejects_an_empty_file(text: str) -> None:
    """With the way to a filled one."""
    assert "planner kit new" in refusal(text)


def test_parse_kit_rejects_two_of_one_name() -> None:
    """Also when only capitals differ: on the command line they would be the same."""
    message = refusal(changed(('name = "18 mm"', 'name = "32 MM"')))
    assert '[[eyepiece]] 2 "32 MM": name = "32 MM": another [[eyepiece]] has this name' in message


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("latitude = 48,1", "latitude = 48,1: something follows the value; write a decimal point"),
        ("latitude = North", "latitude = North: this is no value: write text in quotes"),
        ("latitude = 48\nlatitude = 49", "latitude = 49: this key stands twice"),
        ("latitude = 48\N{DEGREE SIGN}", "something follows the value"),
        ('latitude = "48', "the text has no closing quote"),
        ("latitude", "latitude: a key needs = and a value"),
        ("latitude =", "latitude =: this is no value"),
        ("= 48", "this is neither a block in brackets nor key = value"),
        ("[latitude", "[latitude: the block's brackets are not closed"),
        ('latitude = "a\\d"', "write \\\\ for a \\ in a text"),
        ("latitude = 2026-02-30", "latitude = 2026-02-30: there is no such date"),
        ("latitude = {a = 1", "a brace is not closed"),
    ],
)
def test_parse_kit_tells_the_fault_of_the_line_that_is_no_toml(line: str, said: str) -> None:
    """The line's number, the line itself and the remedy; the parser's column is no help."""
    text = changed(("latitude = 48.10 ", f"{line}\n#"))
    number = text[: text.index(line)].count("\n") + line.count("\n") + 1
    message = refusal(text)
    assert f": line {number} is not valid TOML: " in message
    assert said in message
    assert "column" not in message


@pytest.mark.parametrize("first", ["[cradle]", "[tube]", "[base]", "[observer]"])
@pytest.mark.parametrize("brackets", ["{}", "[{}]"])
def test_a_block_that_may_stand_once_is_not_sent_to_double_brackets(
    first: str, brackets: str
) -> None:
    """What the remedy asks for must be taken: double brackets are refused for these."""
    text = changed() + brackets.format(first) + "\n"
    said = f": {brackets.format(first)}: this block stands twice; write it once: {first}"
    assert refusal(text).endswith(said)


@pytest.mark.parametrize("name", ["part", "eyepiece", "telescope"])
def test_a_block_that_may_stand_often_is_sent_to_double_brackets(name: str) -> None:
    said = f"this block stands twice; write each in double brackets: [[{name}]]"
    assert refusal(f"[{name}]\n[{name}]\n").endswith(said)


@pytest.mark.parametrize(
    ("value", "said"),
    [("9" * 5000, "a number has too many digits"), ("[" * 5000, "nested too deep")],
)
def test_parse_kit_refuses_what_no_line_can_be_named_for(value: str, said: str) -> None:
    """As short as the others."""
    message = refusal(changed(("latitude = 48.10 ", f"latitude = {value}\n#")))
    assert f"not valid TOML: {said}" in message


@pytest.mark.parametrize("text", ["a = [1,\n\n2,\n", "[[site]]\nname =", "a = 1\nb = [3\n\n\n"])
def test_a_fault_at_the_end_of_the_file_names_its_last_line(text: str) -> None:
    """Where the parser only says that the document ends."""
    last = text.rstrip().count("\n") + 1
    with pytest.raises(KitError, match=rf"x\.toml: line {last} is not valid TOML: \S"):
        parse_kit(text, "x.toml")


@pytest.mark.parametrize(
    ("block", "wrong", "right"),
    [
        ("[[site]]", "lat = 48", "latitude"),
        ("[[site]]", "Lon = 8", "longitude"),
        ('elevation = "870 m"', 'altitude = "870 m"', "elevation"),
        ("latitude = 48.10 ", "altitude = 48.10 ", "latitude"),
        ("[[site]]", 'tz = "UTC"', "time_zone"),
        ("[[site]]", "SQM = 21", "sky"),
        ("[[site]]", "nelm = 6", "naked_eye_limit"),
        ("[[site]]", "fwhm = 2", "seeing"),
        ("[[telescope]]", 'diameter = "6 in"', "aperture"),
        ("[[telescope]]", 'fl = "1 m"', "focal_length"),
        ("[[telescope]]", "f_number = 6", "focal_ratio"),
        ("[[telescope]]", "strehl = 0.9", "wavefront_error"),
        ("[[telescope]]", 'mask = "150 mm"', "clear_aperture"),
        ("[[eyepiece]]", "afov = 60", "apparent_field"),
        ("[[eyepiece]]", "fov = 60", "apparent_field"),
        ("[[barlow]]", "power = 2", "factor"),
        ("[[filter]]", 'type = "O III"', "passes"),
        ("[[filter]]", "fwhm = 12", "bandwidth_nm"),
        ("[[finder]]", "fov = 5", "true_field"),
        ("[[finder]]", "power = 8", "magnification"),
        ("[observer]", 'min-exit-pupil = "1 mm"', "least_exit_pupil"),
        ("[observer]", 'pupil = "6 mm"', "dark_pupil"),
    ],
)
def test_parse_kit_knows_other_names_of_keys(block: str, wrong: str, right: str) -> None:
    """As makers' tables and other people call them; the key of that very block is named."""
    line = f"{block}\n{wrong}" if block.startswith("[") else wrong
    message = refusal(changed((block, line)))
    assert f"no such key here; did you mean '{right}'?" in message


def test_every_other_name_leads_to_a_key_and_is_none_itself() -> None:
    """No entry is out of date: each names keys that some block has, none is itself right there."""
    for wrong, meant in KEYS_MEANT.items():
        for key in meant:
            blocks = [known for known in KNOWN.values() if key in known]
            assert blocks, (wrong, key)
            assert all(wrong not in known for known in blocks), (wrong, key)


LITERALS = st.recursive(
    st.one_of(
        st.integers().map(str),
        st.integers(-(10**400), 10**400).map(str),
        st.floats().map(repr),
        st.booleans().map(lambda b: str(b).lower()),
        st.text(st.characters(codec="utf-8"), max_size=30).map(
            lambda s: '"' + "".join(f"\\U{ord(c):08x}" for c in s) + '"'
        ),
        st.floats(0, 9e3).map(lambda x: f'"{x:.3f} mm"'),
        st.sampled_from(["clear", "typical", "newtonian", "Europe/Berlin", ".."]).map(repr),
        st.dates().map(str),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[" + ", ".join(items) + "]"),
        st.dictionaries(st.sampled_from("abc"), inner, max_size=2).map(
            lambda d: "{" + ", ".join(f"{k} = {v}" for k, v in d.items()) + "}"
        ),
    ),
    max_leaves=5,
)


def _kit_or_refusal(text: str) -> None:
    try:
        assert parse_kit(text, FILE).sites
    except KitError as error:
        assert len(checked_message(error)) < 600


@settings(deadline=None, max_examples=300)
@given(st.sampled_from(KEY_LINES), LITERALS)
def test_parse_kit_takes_or_refuses_any_value(line: KeyLine, literal: str) -> None:
    """Whatever stands behind a key, the answer is a kit or a KitError."""
    _kit_or_refusal(with_line(line, f"{line.key} = {literal}"))


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_parse_kit_takes_or_refuses_a_damaged_file(data: st.DataObject) -> None:
    """A stretch cut out, or strange characters put in."""
    text = example_text()
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 200)))
    _kit_or_refusal(text[:start] + data.draw(st.text(max_size=5)) + text[end:])


@settings(deadline=None, max_examples=100)
@given(st.text(max_size=60))
def test_parse_kit_refuses_any_other_text(text: str) -> None:
    """Nothing short is a kit."""
    assert refusal(text)


def test_load_kit_reads_a_file_with_a_byte_order_mark(tmp_path: Path) -> None:
    """As some editors write UTF-8."""
    path = tmp_path / "kit.toml"
    path.write_text(example_text(), encoding="utf-8-sig")
    assert load_kit(path).source == str(path)


def test_load_kit_rejects_what_is_no_readable_text(tmp_path: Path) -> None:
    """Another encoding, a folder, no file: each with its own remedy."""
    path = tmp_path / "kit.toml"
    path.write_text(example_text().replace("Elsa", "Björn"), encoding="latin-1")
    with pytest.raises(KitError, match=r"kit\.toml: not a text file in UTF-8; save it as"):
        load_kit(path)
    with pytest.raises(KitError, match=f"{re.escape(str(tmp_path))}: .*; give a kit file"):
        load_kit(tmp_path)
    with pytest.raises(KitError, match=r"none\.toml: no such file; write one with: planner kit"):
        load_kit(tmp_path / "none.toml")


@settings(deadline=None, max_examples=60)
@given(data=st.binary(max_size=200))
def test_load_kit_refuses_any_bytes(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    """Never another exception."""
    path = tmp_path_factory.getbasetemp() / "bytes.toml"
    path.write_bytes(data)
    with pytest.raises(KitError, match=r"bytes\.toml: "):
        load_kit(path)


@settings(deadline=None, max_examples=60)
@given(sky=st.floats(18.0, 22.0), limit=st.floats(4.5, 6.9))
def test_naked_eye_limit_gives_the_field_factor_that_reproduces_it(
    sky: float, limit: float
) -> None:
    """A bare eye with the fitted factor sees just as deep as the owner said."""
    text = changed(("sky = 20.9 ", f"sky = {sky!r} "), ("# naked_eye_limit", "naked_eye_limit"))
    try:
        observer = parse_kit(text.replace("= 5.8 ", f"= {limit!r} "), FILE).observer
    except KitError as error:
        assert "check both" in str(error)
        low, high = re.findall(r"about ([\d.]+) to ([\d.]+)", str(error))[0]
        assert not float(low) + 0.06 < limit < float(high) - 0.06  # 0.05 is rounding
        return
    assert observer.field_factor_measured
    seen = float(naked_eye_limit_mag(sky, observer.field_factor))
    assert seen == pytest.approx(limit, abs=1e-9)  # both ways are closed formulae


def test_observer_pupil_follows_from_the_age_or_is_given() -> None:
    """7 exp(-0.5 (age/100)^2): 6.1 mm at 52. Source: Schaefer 1990, PASP 102, 212, eq 5."""
    half_digit = 0.05
    assert kit_with().observer.dark_pupil_mm == pytest.approx(6.1, abs=half_digit)
    given_pupil = kit_with(("# dark_pupil", "dark_pupil")).observer
    assert given_pupil.dark_pupil_mm == 5.5


@pytest.mark.parametrize("age", [10, 95])
def test_observer_may_be_young_or_old(age: int) -> None:
    """All ages for which a pupil is known."""
    assert kit_with(("age = 52", f"age = {age}")).observer.age_years == age


@pytest.mark.parametrize("age", [9, 96, -52, 520])
def test_observer_rejects_ages_without_a_pupil(age: int) -> None:
    """The range is said."""
    message = refusal(changed(("age = 52", f"age = {age}")))
    assert f"[observer]: age = {age}: must lie from 10 to 95" in message


@pytest.mark.parametrize(("word", "factor"), [("casual", 2.4), ("typical", 2.0), ("Keen", 1.4)])
def test_experience_gives_the_field_factor(word: str, factor: float) -> None:
    """Source: Crumey 2014, MNRAS 442, 2600, sect. 1.6."""
    observer = kit_with(('"typical"', f'"{word}"')).observer
    assert observer.field_factor == factor
    assert not observer.field_factor_measured


def test_kit_picks_by_name_and_suggests_the_right_one() -> None:
    """The first without a name; capitals and blanks do not matter."""
    kit = kit_with()
    assert kit.site(" lindenhof ").name == "Lindenhof"
    with pytest.raises(UsageError, match="no site named 'LINDENHOFF'; did you mean 'Lindenhof'"):
        kit.site("LINDENHOFF")
    with pytest.raises(UsageError, match="no telescope named 'xyz'; it has: Elsa"):
        kit.telescope("xyz")
