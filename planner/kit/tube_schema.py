"""The blocks of a kit file that tell of the tube: its parts, its cradle, its base."""

from __future__ import annotations

from planner.kit.rule import BlockRule, Key, Kind
from planner.tube.cooling import MirrorGlass
from planner.tube.rig import Role

TEXT, CHOICE, NUMBER = Kind.TEXT, Kind.CHOICE, Kind.NUMBER
LENGTH, MASS = Kind.LENGTH, Kind.MASS

USUAL_FRICTION = 0.12  # plastic pads on laminate, 0.08 to 0.2: own judgement
USUAL_PAD_ANGLE_DEG = 35.0  # of pads to either side of the lowest point: own judgement
BACKS = ("open", "closed")
ALONG = (-3000.0, 10000.0)
ABOVE = (-1000.0, 1000.0)


def glass_mass(of_what: str) -> Key:
    """The ``mass`` of what goes into the focuser."""
    return Key("mass", MASS, f"mass of {of_what}, for the balance of the tube", 0.0, 5.0, "g",
               default_words="unknown")  # fmt: skip


def _friction(name: str) -> Key:
    return Key(name, NUMBER, "coefficient of the pads; `planner tube` says how to measure it",
               0.01, 1.0, default=USUAL_FRICTION)  # fmt: skip


TUBE = BlockRule(
    "tube", False, False,
    "At most one, in single brackets, as `[cradle]` and `[base]`: for `planner tube`.", (
    Key("telescope", TEXT, "name of the telescope that tube, parts, cradle and base belong to",
        default_words="the first"),
    Key("inner_diameter", LENGTH, "length: the tube's, inside", 50.0, 3000.0,
        default_words="unknown"),
    Key("wall", LENGTH, "length: thickness of the tube's wall", 0.2, 60.0,
        default_words="unknown"),
    Key("length", LENGTH, "length: from the mirror's face to the tube's front end", 100.0, 10000.0,
        default_words="unknown"),
    Key("focuser_height", LENGTH, "length: of the focuser racked in, above the tube", 5.0, 300.0,
        default_words="unknown"),
    Key("spare_focus", LENGTH,
        "length: how far above that the focus shall lie, where `diagonal_to_focus` is not given",
        0.0, 100.0, default=0.0),
    Key("mirror_thickness", LENGTH, "length: of the main mirror at its rim", 3.0, 200.0,
        default_words="unknown"),
    Key("mirror_glass", CHOICE, "`borosilicate`, `plate glass`, `fused silica` or `glass ceramic`",
        choices=tuple(g.value for g in MirrorGlass), default=MirrorGlass.BOROSILICATE.value),
    Key("mirror_back", CHOICE, "whether air reaches the mirror's back: `open` or `closed`",
        choices=BACKS, default="open"),
))  # fmt: skip

PART = BlockRule(
    "part", True, False,
    "Any number: everything that turns with the tube, but eyepieces and Barlows. Lengths from any "
    "one point, the same for all.", (
    Key("name", TEXT, "text", required=True),
    Key("mass", MASS, "mass", 0.0, 500.0, "kg", required=True),
    Key("along", LENGTH, "length: its middle, along the tube towards the sky", *ALONG,
        required=True),
    Key("above", LENGTH, "length: its middle above that of the tube when this lies level", *ABOVE,
        default=0.0),
    Key("role", CHOICE,
        "`fixed`; `focuser`: eyepieces hang here; `loose`: comes off at times, as a finder",
        choices=tuple(r.value for r in Role), default=Role.FIXED.value),
))  # fmt: skip

CRADLE = BlockRule(
    "cradle", False, False,
    "At most one, in single brackets: what the tube lies and turns in.", (
    Key("axis_along", LENGTH, "length: the altitude axis, from the same point as the parts",
        *ALONG, required=True),
    Key("axis_above", LENGTH, "length: the axis above the middle of the tube when this lies level",
        *ABOVE, default=0.0),
    Key("mass", MASS, "mass of rings and bearings, their middle on the axis", 0.0, 200.0, "kg",
        default=0.0),
    Key("bearing_radius", LENGTH, "length: of the altitude bearing", 3.0, 1500.0,
        default_words="unknown"),
    Key("pad_angle", NUMBER, "degrees of each pad from the bearing's lowest point", 0.0, 80.0,
        default=USUAL_PAD_ANGLE_DEG),
    _friction("friction"),
))  # fmt: skip

BASE = BlockRule(
    "base", False, False,
    "At most one, in single brackets: what carries the cradle. The axis's height is the "
    "telescope's `pivot_height`.", (
    Key("mass", MASS, "mass of all that does not tilt with the tube", 0.0, 500.0, "kg",
        required=True),
    Key("turning_mass", MASS, "mass: of it, what turns to the side with the tube", 0.0, 500.0,
        "kg", default_words="the whole mass"),
    Key("foot_radius", LENGTH, "length: from the upright axis to a foot", 20.0, 3000.0,
        default_words="unknown"),
    Key("feet", NUMBER, "how many, a whole number", 3.0, 12.0, default=3.0),
    Key("turning_radius", LENGTH, "length: from the upright axis to the middle of its pads",
        3.0, 1500.0, default_words="unknown"),
    _friction("turning_friction"),
))  # fmt: skip
