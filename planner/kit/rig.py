"""The tube, part, cradle and base blocks of a kit file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from planner.kit import tube_schema
from planner.kit.block import Block
from planner.kit.shown import one_line
from planner.tube.balance import Load
from planner.tube.bearing import Bearing
from planner.tube.cooling import MirrorGlass
from planner.tube.rig import Base, Cradle, Part, Rig, Role, Shell
from planner.tube.standing import Footing

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from planner.kit.faults import Faults
    from planner.kit.rule import BlockRule
    from planner.optics.telescope import Telescope

T = TypeVar("T")
ASSUMED = ("friction", "pad_angle")


def read_part(block: Block) -> Part:
    """A ``[[part]]`` block."""
    block.only_known()
    place = (block.length("along"), block.length("above"))
    return Part(block.text("name"), Load(block.mass("mass"), *place), Role(block.choice("role")))


def read_rig(top: Block, parts: Sequence[Part], faults: Faults) -> Rig:
    """Parts and the blocks that stand once; what is wrong with them is added to the faults."""
    rig = Rig(
        telescope=_telescope(top, faults),
        shell=_single(top, tube_schema.TUBE, _shell, faults),
        parts=tuple(parts),
        cradle=_single(top, tube_schema.CRADLE, _cradle, faults),
        base=_single(top, tube_schema.BASE, _base, faults),
    )
    focusers = [part.name for part in rig.parts if part.role is Role.FOCUSER]
    if len(focusers) > 1:
        faults.add(
            f"{top.file}: [[part]] {focusers[1]!r}: role = 'focuser': {focusers[0]!r} is one "
            "already; eyepieces hang in one focuser at a time"
        )
    if rig.parts and not sum(part.load.mass_kg for part in rig.parts) > 0.0:
        faults.add(f"{top.file}: [[part]]: no part weighs anything; give each its mass")
    return rig


def on_its_cradle(telescopes: Sequence[Telescope], rig: Rig) -> tuple[Telescope, ...]:
    """The telescopes, the one that the cradle carries with its axis where the cradle has it."""
    carried = rig.telescope or (telescopes[0].name if telescopes else None)
    return tuple(
        replace(scope, stand=replace(scope.stand, axis_above_mm=rig.cradle.axis.above_mm))
        if rig.cradle and scope.stand and scope.name == carried
        else scope
        for scope in telescopes
    )


def _single(top: Block, rule: BlockRule, read: Callable[[Block], T], faults: Faults) -> T | None:
    """A block that may stand once, read; None where there is none or it is faulty."""
    if rule.name not in top.values:
        return None
    values = top.values[rule.name]
    if not isinstance(values, dict):
        with faults.kept():
            top.fail(rule.name, f"write the block once, with single brackets: {rule.heading}")
        return None
    block = Block(top.file, rule.heading, values, rule)
    with faults.kept(block):
        block.only_known()
        return read(block)
    return None


def _telescope(top: Block, faults: Faults) -> str | None:
    """The right name of the telescope that the tube is said to belong to.

    Names count as they stand in the file, even of a faulty block; where one has none, its block's
    own fault is enough.
    """
    values = top.values.get(tube_schema.TUBE.name)
    if not isinstance(values, dict) or "telescope" not in values:
        return None
    block = Block(top.file, tube_schema.TUBE.heading, values, tube_schema.TUBE)
    with faults.kept():
        given, names = block.text("telescope"), _telescope_names(top)
        for name in names or ():
            if name.casefold() == given.casefold():
                return name
        if names:
            listed = one_line(", ".join(names))
            block.fail("telescope", f"give one of the kit's telescopes: {listed}")
    return None


def _telescope_names(top: Block) -> list[str] | None:
    """The telescopes' names as they stand in the file; None where a block has none."""
    tables = top.values.get("telescope")
    if not isinstance(tables, list):
        return None
    given = [table.get("name") for table in tables if isinstance(table, dict)]
    names = [name.strip() for name in given if isinstance(name, str)]
    return names if len(names) == len(tables) else None


def _length(block: Block, key: str) -> float | None:
    return block.length(key) if block.has(key) else None


def _shell(block: Block) -> Shell:
    return Shell(
        inner_mm=_length(block, "inner_diameter"),
        wall_mm=_length(block, "wall"),
        length_mm=_length(block, "length"),
        focuser_mm=_length(block, "focuser_height"),
        spare_mm=block.length("spare_focus"),
        mirror_mm=_length(block, "mirror_thickness"),
        glass=MirrorGlass(block.choice("mirror_glass")),
        open_back=block.choice("mirror_back") == "open",
    )


def _cradle(block: Block) -> Cradle:
    axis = Load(block.mass("mass"), block.length("axis_along"), block.length("axis_above"))
    friction, pad_angle = block.number("friction"), block.number("pad_angle")
    radius = _length(block, "bearing_radius")
    return Cradle(
        axis=axis,
        bearing=None if radius is None else Bearing(radius, friction, pad_angle),
        assumed=tuple(key for key in ASSUMED if not block.has(key)),
    )


def _base(block: Block) -> Base:
    mass = block.mass("mass")
    turning = block.mass("turning_mass") if block.has("turning_mass") else mass
    if turning > mass:
        block.fail("turning_mass", f"must not be more than the whole base's {mass:g} kg")
    feet = block.number("feet")
    if feet != int(feet):
        block.fail("feet", "write a whole number, 3 or more")
    foot_radius, radius = _length(block, "foot_radius"), _length(block, "turning_radius")
    friction = block.number("turning_friction")
    return Base(
        mass_kg=mass,
        turning_kg=turning,
        footing=None if foot_radius is None else Footing(foot_radius, int(feet)),
        bearing=None if radius is None else Bearing(radius, friction),
    )
