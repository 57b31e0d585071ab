"""Every block and key of a kit file, said once: the reader, its refusals and the docs follow it.

A new key is one row here and its use in the reader.
"""

from __future__ import annotations

from planner.constants import ALGOL_EPOCH_HJD
from planner.eye.pupil import AGE_RANGE_YEARS
from planner.kit.rule import BlockRule, Key, Kind
from planner.kit.tube_schema import BASE, CRADLE, PART, TUBE, glass_mass
from planner.optics.figure import WORST_RMS_WAVES
from planner.optics.glass import DEEPEST_TURNED_EDGE_WAVES, WIDEST_TURNED_EDGE
from planner.optics.image import WIDEST_OBSTRUCTION
from planner.optics.telescope import Design, Diagonal
from planner.sky.extinction import ELEVATION_RANGE_M, Aerosol
from planner.sky.scales import LIMIT_RANGE_MAG

TEXT, CHOICE, NUMBER, LENGTH = Kind.TEXT, Kind.CHOICE, Kind.NUMBER, Kind.LENGTH

EXTINCTION_RANGE_MAG = (0.08, 1.5)  # mountain top to thick haze; common practice, no source
ONE_AND_A_QUARTER_INCH_MM = 31.75
LARGEST_APERTURE_MM = 2000.0
EXPERIENCES = ("casual", "typical", "keen")
MOUNT_WORDS = ("hand-moved", "driven")
IMAGES = ("upright", "inverted", "mirrored")
FILTER_LINES = ("O III", "H beta", "nebula", "broad")

_NAME = Key("name", TEXT, "text", required=True)


def _barrel(name: str, meaning: str) -> Key:
    return Key(name, LENGTH, meaning, 15.0, 110.0, default=ONE_AND_A_QUARTER_INCH_MM)


SITE = BlockRule("site", True, True, "One or more.", (
    _NAME,
    Key("latitude", NUMBER, "degrees, north positive", -90.0, 90.0, required=True),
    Key("longitude", NUMBER, "degrees, **east** positive", -180.0, 180.0, required=True),
    Key("elevation", LENGTH, "length above the sea",
        ELEVATION_RANGE_M[0] * 1000.0, ELEVATION_RANGE_M[1] * 1000.0, "m", default=0.0),
    Key("time_zone", Kind.ZONE, "IANA name, such as `Europe/Berlin`", required=True,
        example="Europe/Berlin"),
    Key("sky", NUMBER, "moonless zenith, V mag per square arcsecond; or one of the next two",
        15.0, 22.2, default_words="one of three required"),
    Key("naked_eye_limit", NUMBER,
        "instead of `sky`: faintest star overhead of an average eye, V", *LIMIT_RANGE_MAG,
        instead_of="sky"),
    Key("bortle", NUMBER, "instead of `sky`: class, a whole number; rough", 1.0, 9.0,
        instead_of="sky"),
    Key("seeing", NUMBER, "usual seeing at the zenith, full width at half maximum, arcsec",
        0.4, 10.0, default=2.0),  # a garden at low height; common practice, no source
    Key("haze", CHOICE, "`clear`, `average` or `hazy`", choices=tuple(a.value for a in Aerosol),
        default=Aerosol.AVERAGE.value),
    Key("extinction", NUMBER,
        "instead of `haze`: magnitudes per airmass for the dark-adapted eye",
        *EXTINCTION_RANGE_MAG, instead_of="haze"),
    Key("horizon", Kind.POINTS,
        "points `[azimuth, altitude]`, degrees 0 to 360 and 0 to 80, joined by straight lines",
        0.0, 80.0, default_words="flat"),
    Key("ceiling", Kind.POINTS,
        "as `horizon`, altitudes 0 to 90: the greatest altitude free of a roof or balcony above",
        0.0, 90.0, default_words="none"),
    Key("pressure_hpa", NUMBER, "as a barometer there shows it, hPa", 300.0, 1100.0,
        default_words="from the elevation"),
    Key("temperature_c", NUMBER, "degrees Celsius", -60.0, 50.0, default=10.0),
))  # fmt: skip

TELESCOPE = BlockRule("telescope", True, True, "One or more.", (
    _NAME,
    Key("design", CHOICE, "`newtonian`, `refractor` or `catadioptric`", required=True,
        choices=tuple(d.value for d in Design)),
    Key("mount", CHOICE, "`hand-moved` or `driven`", choices=MOUNT_WORDS, default="hand-moved"),
    Key("greatest_altitude", NUMBER, "degrees: how high the mount points without a struggle",
        40.0, 90.0, default_words="80; driven 90"),
    Key("aperture", LENGTH, "length: the glass", 30.0, LARGEST_APERTURE_MM, required=True),
    Key("clear_aperture", LENGTH,
        "length: what a mask or cell leaves open, not above the aperture",
        20.0, LARGEST_APERTURE_MM, default_words="the aperture"),
    Key("focal_length", LENGTH, "length; f/2 to f/30 of the aperture", 100.0, 60000.0,
        default_words="this or the next required"),
    Key("focal_ratio", NUMBER, "instead of `focal_length`: of the full aperture", 2.0, 30.0,
        instead_of="focal_length"),
    Key("secondary", LENGTH,
        "length: minor axis of the flat, 0 if none; at most "
        f"{WIDEST_OBSTRUCTION:g} of the clear aperture", 0.0, LARGEST_APERTURE_MM,
        default_words="required but for refractors"),
    Key("obstruction", NUMBER, "instead of `secondary`: share of the full aperture's diameter",
        0.0, WIDEST_OBSTRUCTION, instead_of="secondary"),
    Key("wavefront_error", NUMBER, "RMS of the wave (not of the glass) in waves of 550 nm",
        0.0, WORST_RMS_WAVES, default=0.05),
    Key("wavefront_peak_to_valley", NUMBER,
        "instead of `wavefront_error`: waves, smooth error", 0.0, 0.8,
        instead_of="wavefront_error"),
    Key("mirror_test", TEXT,
        "a file with the mirror's zone readings, from the kit's own folder on; its wave stands "
        "for the glass, and `wavefront_error` is then the rest, 0.03 if left out",
        default_words="none", example="elsa.toml"),
    Key("transmission", NUMBER,
        "share of light that mirrors and lenses pass, without the obstruction", 0.1, 1.0,
        default_words="0.79; refractors 0.92"),
    _barrel("focuser_barrel", "length: inner barrel"),
    Key("diagonal_to_focus", LENGTH,
        "length: light path from the flat to the focus, below the focal length", 20.0, 2000.0,
        default_words="unknown"),
    Key("turned_edge_width", LENGTH,
        "length: width of a turned zone along the rim; with the next", 0.0,
        WIDEST_TURNED_EDGE * LARGEST_APERTURE_MM, default=0.0,
        range_words="0 mm to a tenth of the aperture"),
    Key("pivot_height", LENGTH,
        "length: the altitude axis above the ground; with the next, for the eyepiece's height",
        100.0, 3000.0, default_words="unknown"),
    Key("pivot_to_focuser", LENGTH,
        "length: from the altitude axis along the tube to the focuser; below 0 where this lies "
        "behind the axis, as with refractors", -10000.0, 10000.0, default_words="unknown"),
    Key("focuser_reach", LENGTH, "length: from the middle of the tube out to the eyepiece",
        0.0, 2000.0, default_words="0.7 of the aperture"),
    Key("focuser_angle", NUMBER,
        "degrees: where the focuser points, seen along the tube towards the sky: 0 right, 90 on "
        "top, 180 left; for the eyepiece's height and the exact turn of the charts", 0.0, 360.0,
        default=0.0),
    Key("diagonal", CHOICE,
        "before the eyepiece of a refractor or catadioptric: `mirror`, `erecting` or `none`",
        choices=tuple(d.value for d in Diagonal), default_words="mirror; Newtonians none"),
    Key("turned_edge_waves", NUMBER, "error of the wave at the rim, waves", 0.0,
        DEEPEST_TURNED_EDGE_WAVES, default=0.0),
))  # fmt: skip

EYEPIECE = BlockRule(
    "eyepiece", True, True,
    "One or more. One whose barrel does not go into a telescope's focuser is left out there.", (
    _NAME,
    Key("focal_length", LENGTH, "length", 1.5, 100.0, required=True),
    Key("apparent_field", NUMBER, "degrees", 20.0, 130.0, required=True),
    Key("field_stop", LENGTH, "length: diameter of the ring inside; gives the truest field",
        0.5, 100.0, default_words="unknown"),
    _barrel("barrel", "length: outer diameter"),
    glass_mass("the eyepiece"),
))  # fmt: skip

BARLOW = BlockRule(
    "barlow", True, False,
    "Any number; each is combined with each eyepiece that goes into it.", (
    _NAME,
    Key("factor", NUMBER, "times the power", 1.1, 6.0, required=True),
    _barrel("barrel", "length: of the eyepieces it takes, and its own"),
    glass_mass("the Barlow"),
))  # fmt: skip

FILTER = BlockRule("filter", True, False, "Any number.", (
    _NAME,
    Key("passes", CHOICE, "`O III`, `H beta`, `nebula` (both) or `broad`", required=True,
        choices=FILTER_LINES),
    Key("bandwidth_nm", NUMBER, "nm", 2.0, 300.0, required=True),
    Key("transmission", NUMBER, "share of the light it is made to pass", 0.1, 1.0, default=0.9),
))  # fmt: skip

FINDER = BlockRule("finder", True, False, "Any number.", (
    _NAME,
    Key("magnification", NUMBER, "1 for a sight without power", 1.0, 30.0, required=True),
    Key("true_field", NUMBER, "degrees", 0.3, 60.0, required=True),
    Key("image", CHOICE, "`upright`, `inverted` (turned by 180°) or `mirrored`", required=True,
        choices=IMAGES),
    Key("aperture", LENGTH, "length: of its objective", 10.0, 150.0,
        default_words="from a name such as `8x50`, else not known"),
))  # fmt: skip

OBSERVER = BlockRule("observer", False, False, "At most one, in single brackets.", (
    Key("name", TEXT, "text", default="observer"),
    Key("age", NUMBER, "years", *AGE_RANGE_YEARS, default=45.0),  # common practice, no source
    Key("dark_pupil", LENGTH, "length: your pupil in the dark, if measured", 2.0, 9.0,
        default_words="from the age"),
    Key("experience", CHOICE, "`casual`, `typical` or `keen`", choices=EXPERIENCES,
        default="typical"),
    Key("naked_eye_limit", NUMBER,
        "your own faintest star overhead at the first site, V; replaces `experience`", 2.0, 8.5),
    Key("least_exit_pupil", LENGTH, "length: the smallest exit pupil you like", 0.2, 3.0,
        default=0.5),
    Key("eye_height", LENGTH, "length: your eye above the ground when you stand", 500.0, 2200.0,
        default_words="unknown"),
    Key("step", LENGTH, "length: the height of a step you have at the telescope", 0.0, 1000.0,
        default=0.0),
    Key("red_spot_longitude", NUMBER,
        "degrees of System II at which you last saw or read of Jupiter's Red Spot; with the next",
        0.0, 360.0, default_words="unknown"),
    Key("red_spot_date", TEXT, "date of that reading, like `2026-11-01`", example="2026-11-01",
        default_words="required with the longitude"),
    Key("red_spot_drift", NUMBER, "degrees that longitude grows in a month", -30.0, 30.0,
        default=0.0),
    Key("algol_epoch", NUMBER,
        "heliocentric Julian date of a minimum of Algol that you trust", 2440000.0, 2480000.0,
        default=ALGOL_EPOCH_HJD),
    Key("usual_from", Kind.CLOCK, "when you usually begin: `dusk`, or a clock time like `21:30`",
        default="dusk"),
    Key("usual_until", Kind.CLOCK, "when you usually stop: `dawn`, or a clock time like `00:30`",
        default="dawn"),
    Key("log", TEXT, "folder of your log, from the kit file's own on", example="log",
        default_words="with the system's data of yours"),
))  # fmt: skip

COMPANION = BlockRule("companion", True, False, "Any number: who looks with you.", (
    _NAME,
    Key("eye_height", LENGTH, "length: the eye above the ground when standing", 500.0, 2200.0,
        required=True),
))  # fmt: skip

# A file of its own, the mirror test; its windows and readings are read beside the schema.
MIRROR = BlockRule("mirror", False, True, "Once.", (
    Key("name", TEXT, "name of the mirror", required=True, example="Elsa, 160 mm"),
    Key("optical_diameter", LENGTH, "length: the polished glass", 30.0, LARGEST_APERTURE_MM,
        required=True),
    Key("radius_of_curvature", LENGTH, "length: twice the focal length", 200.0, 60000.0,
        required=True),
    Key("source", CHOICE, "`fixed`: the lamp stays; `moving`: it goes with the knife",
        choices=("fixed", "moving"), required=True),
    Key("readings_grow", CHOICE,
        "`away`: larger readings are farther from the mirror; `towards`: nearer",
        choices=("away", "towards"), required=True),
    Key("unit", CHOICE, "of windows and readings: `mm` or `in`", choices=("mm", "in"),
        default="mm"),
))  # fmt: skip
MIRROR_EDGE = BlockRule("edge", False, False, "Once, of a turned edge.", (
    Key("width", LENGTH, "length: the turned zone along the rim", 0.0,
        WIDEST_TURNED_EDGE * LARGEST_APERTURE_MM, required=True),
    Key("waves", NUMBER, "how far the wave lags at the very rim, waves", 0.0,
        DEEPEST_TURNED_EDGE_WAVES, required=True),
))  # fmt: skip

BLOCKS = (
    SITE, TELESCOPE, EYEPIECE, BARLOW, FILTER, FINDER, OBSERVER, COMPANION,
    TUBE, PART, CRADLE, BASE,
)  # fmt: skip
