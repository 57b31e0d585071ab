"""Tube, parts, cradle and base of a kit file."""

from __future__ import annotations

import pytest
from kit_samples import FILE, changed, kit_with, refusal

from planner.errors import KitError
from planner.kit.reading import example_text, parse_kit
from planner.tube.rig import Rig, Role

TUBE_BLOCKS = "# What follows is for `planner tube`"


def test_a_kit_without_tube_blocks_has_none() -> None:
    kit = parse_kit(example_text().split(TUBE_BLOCKS)[0], FILE)
    assert kit.rig == Rig()


def test_the_examples_rig_is_read_in_millimetres_and_kilograms() -> None:
    rig = kit_with().rig
    assert [part.role for part in rig.parts if part.role is not Role.FIXED] == [
        Role.FOCUSER, Role.LOOSE,
    ]  # fmt: skip
    assert rig.parts[3].load.mass_kg == pytest.approx(0.35)
    assert rig.cradle is not None and rig.base is not None and rig.shell is not None
    assert rig.cradle.bearing is not None and rig.cradle.assumed == ()
    assert rig.base.footing is not None and rig.base.footing.feet == 3
    assert rig.shell.least_path_mm == pytest.approx(195.0 / 2.0 + 6.0 + 85.0)


def test_pounds_and_inches_make_the_same_rig() -> None:
    """1.1 kg are 2.42508488 lb, 540 mm are 21.2598425 in: by the agreement of 1959."""
    metric = kit_with().rig.parts
    imperial = kit_with(
        ('mass = "1.1 kg"', 'mass = "2.42508488 lb"'), ('"540 mm"', '"21.2598425 in"')
    ).rig.parts
    for one, other in zip(metric, imperial, strict=True):
        assert other.load.mass_kg == pytest.approx(one.load.mass_kg, abs=1e-6)
        assert other.load.along_mm == pytest.approx(one.load.along_mm, abs=1e-4)


def test_usual_friction_is_named_as_assumed() -> None:
    cradle = kit_with(("pad_angle = 35 ", "# "), ("\nfriction = 0.12", "\n# ")).rig.cradle
    assert cradle is not None
    assert cradle.assumed == ("friction", "pad_angle")


def test_an_axis_above_the_tube_lowers_the_eyepiece_for_every_command() -> None:
    scope = kit_with(('axis_above = "0 mm"', 'axis_above = "20 mm"')).telescope()
    plain = kit_with().telescope()
    assert scope.stand is not None and plain.stand is not None
    lower = plain.stand.eyepiece_height_mm(0.0) - scope.stand.eyepiece_height_mm(0.0)
    assert float(lower) == pytest.approx(20.0)


def test_a_rig_belongs_to_one_telescope() -> None:
    first = example_text()
    block = first[first.index("[[telescope]]") : first.index("[[eyepiece]]")]
    text = first.replace("[[eyepiece]]", block.replace('"Elsa"', '"Kurt"') + "[[eyepiece]]", 1)
    kit = parse_kit(text.replace('# telescope = "Elsa"', 'telescope = "kurt"'), FILE)
    assert kit.rig_of(kit.telescope("Kurt")).parts
    assert kit.rig_of(kit.telescope("Elsa")) == Rig()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('role = "loose"', 'role = "focuser"', "is one already"),
        ("[cradle] ", "[[cradle]] ", "write the block once, with single brackets: [cradle]"),
        ("feet = 3 ", "feet = 3.5 ", "write a whole number"),
        ('turning_mass = "5 kg"', 'turning_mass = "9 kg"', "not be more than the whole base's"),
        ('# telescope = "Elsa"', 'telescope = "Elza"', "give one of the kit's telescopes: Elsa"),
        ('mass = "1.1 kg"', "mass = 1.1", 'like "1.8 kg" or "4 lb"'),
        ('mass = "170 g"', 'mass = "170 kg"', "must lie from 0 g to 5000 g"),
        ('mass = "170 g"', 'mass = "170"', "write a number and one of g, kg, oz, lb"),
    ],
)
def test_a_rig_that_cannot_be_is_refused(old: str, new: str, told: str) -> None:
    assert told in refusal(changed((old, new)))


TWO = '[[telescope]]\nname = "Tui"\ndesign = "refractor"\naperture = "80 mm"\nfocal_ratio = 6\n\n'


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('clear_aperture = "154 mm"', 'clear_aperture = "250 mm"'),
        ('pivot_to_focuser = "560 mm"', ""),
        ('focal_length = "1040 mm"', "focal_ratio = 60"),
        ('# mirror_test = "elsa.toml"', 'mirror_test = "none.toml"'),
    ],
)
def test_a_faulty_telescope_still_has_its_name(old: str, new: str) -> None:
    """One fault, one message: the tube's telescope stands in the file."""
    text = changed(
        (old, new), ('# telescope = "Elsa"', 'telescope = "Elsa"'),
        ("[[telescope]]", f"{TWO}[[telescope]]"),
    )  # fmt: skip
    with pytest.raises(KitError) as caught:
        parse_kit(text, FILE)
    assert caught.value.others == ()
    assert "[tube]" not in str(caught.value)


def test_a_telescope_without_a_name_is_not_told_twice() -> None:
    text = changed(
        ('name = "Elsa"', '# name = "Elsa"'), ('# telescope = "Elsa"', 'telescope = "Elsa"')
    )
    with pytest.raises(KitError, match="name is missing") as caught:
        parse_kit(text, FILE)
    assert caught.value.others == ()


def test_parts_without_weight_are_refused() -> None:
    text = example_text().split(TUBE_BLOCKS)[0]
    text += '\n[[part]]\nname = "air"\nmass = "0 kg"\nalong = "1 mm"\n'
    assert "no part weighs anything" in refusal(text)
