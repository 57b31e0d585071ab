"""Command lines: every command and option with odd values, mixed with good ones."""

from __future__ import annotations

from random import Random

from fuzz_case import HIDDEN, Case

KIT = b"""
[[site]]
name = "Pole"
latitude = 90
longitude = 0
time_zone = "UTC"
sky = 21.5
[[site]]
name = "South"
latitude = -90.0
longitude = -180
time_zone = "Antarctica/McMurdo"
sky = 22.0
[[site]]
name = "Garden"
latitude = 48.1
longitude = 8.2
time_zone = "Europe/Berlin"
bortle = 4
[[telescope]]
name = "Elsa"
design = "newtonian"
aperture = "160 mm"
focal_length = "1040 mm"
secondary = "35 mm"
[[eyepiece]]
name = "18 mm"
focal_length = "18 mm"
apparent_field = 60
"""
ODD_TEXTS = (
    "", " ", "-", "--", "\0", "a\0b", "\udcff", "m\udce931", "x" * 5000, "９", "１３", "٣", "²",
    "½", "-0", "-0.0", "nan", "NaN", "inf", "-inf", "1e999", "1e-999", "9" * 400, "0x1f", "1_0",
    "1,5", "%s", "{}", "$HOME", "'", '"', "\\", "é", "e\u0301", "ß", "🔭", "~", "*", "../..",
    *HIDDEN,
)  # fmt: skip
PATHS = (
    "kit.toml", "no.toml", "ki\0t.toml", "\0", "\udcff.toml", "\udce9/\udcff.png", "no/such/x.pdf",
    "", ".", "..", "/", "/dev/null", "x" * 300 + ".toml", "x.pdf", "x.png", "x\0.pdf", "x\0.png",
    "\udcff.pdf", "\udcff.png", "a b.png", "\x1b[31m.toml", "\x1b[31m.pdf", "new\nline.toml",
    "kit.toml/x.pdf", "kit.toml/x.toml", "-x.pdf", "٣.toml",
)  # fmt: skip
NUMBERS = ("-0", "-0.0", "0", "1", "0.3", "15", "15.0", "22.2", "85", "1e0", "２", "٢", "1_5",
           " 2 ", "20", "0.1", "+1", "1.", ".5", "-30", "30", "1e-320")  # fmt: skip
DATES = ("1899-07-29", "1899-07-30", "1900-01-01", "2053-10-08", "2053-10-09", "2053-10-10",
         "2026-05-14", "2026-12-21", "2026-06-21", "2024-02-29", "2026-02-29", "0001-01-01",
         "9999-12-31", "２０２６-05-14", "2026-5-1", "+2026-05-14")  # fmt: skip
CLOCKS = ("00:00", "23:59", "24:00", "12:00", "11:59", "02:30", "٠٢:30", "2:3", "23:59:60")
NAMES = ("m 31", "izar", "jupiter", "moon", "sun", "vega", "mizar", "STF 1877", "ngc 7000",
         "M ３１", "NGC ०", "m -0", "m 0", "m 1e3", "ngc " + "9" * 300)  # fmt: skip
KINDS = ("planet", "moon", "planet,moon", "PLANET", "planet,,moon", ",", "nebula")
AIRS = ("clear", "CLEAR", "0.08", "1.5", "٠.5", "0.2\0")
EDGES = ("6 mm,1", "6 mm,", ",1", "0 mm,0", "-0 mm,-0", "6 mm,nan", "inf mm,1", "1 in,2", "６ mm,1",
         "9" * 400 + " mm,1", "6 mm,1\0", "6 mm,1e400")  # fmt: skip
FORMATS = ("json", "json", "text", "csv", "JSON", "yaml")
SITES = ("Pole", "South", "Garden", "pole ", "Pol")
NIGHT = {
    "--kit": PATHS, "--site": SITES, "--telescope": ("Elsa", "elsa"), "--date": DATES,
    "--seeing": NUMBERS, "--sky": NUMBERS, "--air": AIRS, "--from": CLOCKS, "--until": CLOCKS,
    "--least-altitude": NUMBERS,
}  # fmt: skip
CHOICE = {
    "--kinds": KINDS, "--constellation": ("Her", "hercules", "HER\0", "ΗΡΑ"),
    "--faintest": NUMBERS, "--limit": ("1", "99999999999999999999", "１", "0", "-0", "1_0"),
    "--order": ("worth", "time", "Time"),
}  # fmt: skip
COMMANDS: dict[tuple[str, ...], dict[str, tuple[str, ...]]] = {
    ("tonight",): {**NIGHT, **CHOICE, "--format": FORMATS},
    ("target",): {**NIGHT, "--format": FORMATS, "--image": PATHS},
    ("sheet",): {**NIGHT, **CHOICE, "--output": PATHS, "--paper": ("a4", "letter", "A4")},
    ("scope",): {
        "--kit": PATHS, "--site": SITES, "--telescope": ("Elsa",), "--air": AIRS,
        "--exit-pupil": NUMBERS, "--for": ("planets", "doubles", "PLANETS"),
        "--turned-edge": EDGES, "--output": PATHS, "--format": FORMATS,
    },
    ("kit", "new"): {},
    ("kit", "check"): {},
    ("catalog",): {"--format": FORMATS},
    ("catalog", "verify"): {},
    ("catalog", "undo"): {},
    ("catalog", "import"): {
        "--layout": ("wds", "orbits", "table", "WDS"), "--format": FORMATS,
        "--columns": ("ra=a,dec=b", "=", "ra", "ra=", "ra=\0", "ra=a,ra=b", "," * 900),
    },
}  # fmt: skip
ARGUMENTS = {"target": NAMES, "new": PATHS, "check": PATHS, "import": PATHS}
FLAGS = ("--all", "--mask-study", "--help", "--version", "--no-such", "--", "-", "-h")


def odd_line(random: Random) -> Case:
    """One command line over a kit with sites at the poles."""
    command = random.choice(tuple(COMMANDS))
    options = COMMANDS[command]
    line = list(command)
    if "--kit" in options and random.random() < 0.9:
        line += ["--kit", "kit.toml"]
    if command[0] in ("tonight", "sheet"):  # a whole night takes a second
        line += ["--kinds", "planet,moon"]
    if command == ("sheet",):
        line += ["--output", random.choice(PATHS)]
    for name in random.sample(tuple(options), min(len(options), random.choice((0, 1, 1, 2, 4)))):
        values = options[name]
        line += [name, random.choice(values if random.random() < 0.6 else ODD_TEXTS)]
    if random.random() < 0.05:
        line += [random.choice(FLAGS)]
    if command[-1] in ARGUMENTS:
        values = ARGUMENTS[command[-1]]
        line += [random.choice(values if random.random() < 0.7 else ODD_TEXTS)]
    return Case((tuple(line),), {"kit.toml": KIT})
