"""Kits: spoilt ones, and such as lie at the ends of everything that is allowed."""

from __future__ import annotations

import re
from random import Random

from fuzz_case import HIDDEN, Case, spoilt_bytes, spoilt_coding

from planner.kit.reading import example_text

KIT = "kit.toml"
ODD_VALUES = (
    "nan", "inf", "-inf", "-0.0", "0", "-1", "1e308", "-1e308", "1e-320", "9" * 400, "9" * 5000,
    "0x10", "1_0", "true", '""', '" "', "[]", "{}", "[[]]", "[1, 2]", "1979-05-27", "07:32:00",
    '"nan mm"', '"1e5 mm"', '"-0 mm"', '"0 mm"', '"160"', '"160 parsec"', '"1,5 m"',
    f'"{"9" * 400} mm"', '"१६० mm"', '"\\u0000"', '"\\u001b[31m"', '"\\u0007 mm"', '"\u202e"',
    '"../../etc"', '"Europe/\\u0000"', f'"{"x" * 9000}"', "[" * 3000, '"""\na\nb"""', "'\\'",
)  # fmt: skip
ZONES = ("Europe/Berlin", "Pacific/Kiritimati", "Pacific/Apia", "Etc/GMT+12", "UTC",
         "Antarctica/Troll", "Asia/Kathmandu", "America/St_Johns", "Africa/Monrovia")  # fmt: skip
DATES = ("1899-07-30", "1900-01-01", "1970-01-01", "2026-06-21", "2026-12-21", "2026-03-20",
         "2026-05-14", "2011-12-30", "2053-10-01", "2053-10-08")  # fmt: skip
KINDS = (
    "double",
    "planet,moon",
    "nebula",
    "planetary-nebula",
    "open-cluster",
    "globular-cluster",
    "galaxy",
)  # one at a time: all together cost up to a minute
NEAR = 1e-9  # how near to an end "near" is, as a share of the range


def mutated_kit(random: Random) -> Case:
    """The example kit with a few bytes, keys or values spoilt."""
    text = example_text()
    if random.random() < 0.3:
        content = spoilt_bytes(random, text.encode())
    elif random.random() < 0.05:
        content = spoilt_coding(random, text.encode())
    else:
        for _ in range(random.choice((1, 1, 2, 5))):
            text = spoilt_line(random, text)
        content = text.encode()
    scope = ("scope", "--kit", KIT, "--format", random.choice(("json", "text", "csv")))
    tube = ("tube", "--kit", KIT, "--format", random.choice(("json", "text")))
    return Case((("kit", "check", KIT), scope, tube), {KIT: content})


def spoilt_line(random: Random, text: str) -> str:
    """The text of a kit or a mirror test with one key, value or block spoilt."""
    lines = text.splitlines()
    keys = [n for n, line in enumerate(lines) if re.match(r"(# )?[a-z_]+ *=", line)]
    blocks = [n for n, line in enumerate(lines) if line.startswith("[")]
    at = random.choice(keys)
    key, _, value = lines[at].removeprefix("# ").partition("=")
    match random.randrange(8):
        case 0:
            lines[at] = f"{key}x ={value}"
        case 1:
            del lines[at]
        case 2:
            lines.insert(at, lines[at])
        case 3:
            lines[at] = lines[random.choice(keys)]
        case 4:
            at = random.choice(blocks)
            lines[at] = random.choice(("[[site]]", "[observer]", "[x]", "[[x]]", "[[]]", lines[at]))
        case 5:
            lines[at] = f'"{key.strip()}{random.choice(HIDDEN)}" ={value}'
        case _:
            lines[at] = f"{key}= {random.choice(ODD_VALUES)}"
    return "\n".join(lines)


def extreme_kit(random: Random) -> Case:
    """A kit of values at and near the ends of what is allowed, and a question about it."""
    kit = "".join((_site(random), _telescope(random), _glass(random), _observer(random)))
    check = ("kit", "check", KIT)
    return Case((check, _question(random)), {KIT: kit.encode()})


def _question(random: Random) -> tuple[str, ...]:
    """Mostly cheap ones: a night costs a second or two."""
    form = ("--kit", KIT, "--format", random.choice(("json", "json", "text")))
    if random.random() < 0.88:
        purpose = random.choice(
            ("galaxies", "nebulae", "globulars", "clusters", "planets", "doubles", "sweeping")
        )
        least = f"{_end(random, 0.1, 20.0)!r}"
        asked = random.choice(((), (), ("--for", purpose), ("--exit-pupil", least)))
        air = random.choice(((), ("--air", random.choice(("0.08", "1.5", "clear", "hazy")))))
        return ("scope", *form, *asked, *air)
    night = ("--date", random.choice(DATES), *random.choice(((), ("--seeing", "15"),
             ("--seeing", "0.3"), ("--sky", "15"), ("--sky", "22.2"), ("--air", "1.5"),
             ("--least-altitude", "0"), ("--least-altitude", "85"))))  # fmt: skip
    if random.random() < 0.3:
        name = random.choice(("izar", "m 31", "m 13", "jupiter", "moon", "sirius", "m 57"))
        return ("target", *name.split(), *form, *night)
    kinds = ("--kinds", random.choice(KINDS))
    return ("tonight", *form, *night, *kinds, *random.choice(((), ("--all",))))


def _end(random: Random, low: float, high: float) -> float:
    """A value at an end of a range, close to it, or somewhere between."""
    share = random.choice((0.0, 1.0, NEAR, 1.0 - NEAR, 0.001, 0.5, random.random()))
    return low + share * (high - low)


def _site(random: Random) -> str:
    latitude = random.choice((_end(random, -90.0, 90.0), 48.0, 0.0, -0.0, 66.56))
    sky = random.choice((
        f"sky = {_end(random, 15.0, 22.2)!r}", f"bortle = {random.randint(1, 9)}",
        f"naked_eye_limit = {_end(random, 2.0, 6.7)!r}",
    ))  # fmt: skip
    air = random.choice((
        'haze = "clear"', 'haze = "hazy"', f"extinction = {_end(random, 0.08, 1.5)!r}",
    ))  # fmt: skip
    horizon = random.choice(("[]", "[[0, 80]]", "[[0, 0], [360, 80]]", "[[9, 8], [9, 80], [9, 0]]"))
    return f"""
[[site]]
name = "{random.choice(("a", "Ü" * 40, "🔭", "ـ"))}"
latitude = {latitude!r}
longitude = {_end(random, -180.0, 180.0)!r}
elevation = "{_end(random, -430.0, 6000.0):.3f} m"
time_zone = "{random.choice(ZONES)}"
{sky}
{air}
seeing = {_end(random, 0.4, 10.0)!r}
pressure_hpa = {_end(random, 300.0, 1100.0)!r}
temperature_c = {_end(random, -60.0, 50.0)!r}
horizon = {horizon}
"""


def _telescope(random: Random) -> str:
    aperture = _end(random, 30.0, 2000.0)
    clear = max(20.0, aperture * _end(random, 0.05, 1.0))
    focal = min(max(100.0, aperture * _end(random, 2.0, 30.0)), 60000.0)
    design = random.choice(("newtonian", "newtonian", "refractor", "catadioptric"))
    minor = random.choice((0.0, 0.0, 0.000001, _end(random, 0.0, 0.5999) * clear))
    lines = [
        "[[telescope]]", 'name = "t"', f'design = "{design}"',
        f'mount = "{random.choice(("driven", "hand-moved"))}"',
        f'aperture = "{aperture:.6f} mm"', f'clear_aperture = "{min(clear, aperture):.6f} mm"',
        f'focal_length = "{focal:.6f} mm"',
        random.choice((f'secondary = "{minor:.9f} mm"', "secondary = 0", "obstruction = 0.0",
                       f"obstruction = {minor / aperture!r}")),
        f"transmission = {_end(random, 0.1, 1.0)!r}",
        f"wavefront_error = {_end(random, 0.0, 0.25)!r}",
        f'focuser_barrel = "{_end(random, 15.0, 110.0):.3f} mm"',
    ]  # fmt: skip
    if random.random() < 0.5:
        path = min(_end(random, 20.0, 2000.0), focal * _end(random, 0.01, 0.99999))
        lines.append(f'diagonal_to_focus = "{max(path, 20.0):.6f} mm"')
    if random.random() < 0.4:
        lines.append(f'turned_edge_width = "{_end(random, 0.0, 0.0999 * aperture):.9f} mm"')
        lines.append(f"turned_edge_waves = {_end(random, 0.0, 2.0)!r}")
    return "\n".join(lines) + "\n"


def _glass(random: Random) -> str:
    """Eyepieces, perhaps a Barlow, a filter and a finder; the first eyepiece fits any focuser."""
    text = ""
    for number in range(random.choice((1, 2, 3))):
        stop = (
            f'field_stop = "{_end(random, 0.5, 100.0):.6f} mm"\n' if random.random() < 0.4 else ""
        )
        text += (
            f'[[eyepiece]]\nname = "e{number}"\n'
            f'focal_length = "{_end(random, 1.5, 100.0):.9f} mm"\n'
            f"apparent_field = {_end(random, 20.0, 130.0)!r}\n{stop}"
            f'barrel = "{15.0 if number == 0 else _end(random, 15.0, 110.0):.3f} mm"\n'
        )
    if random.random() < 0.4:
        text += f'[[barlow]]\nname = "b"\nfactor = {_end(random, 1.1, 6.0)!r}\n'
    if random.random() < 0.4:
        passes = random.choice(("O III", "H beta", "nebula", "broad"))
        text += (
            f'[[filter]]\nname = "f"\npasses = "{passes}"\n'
            f"bandwidth_nm = {_end(random, 2.0, 300.0)!r}\n"
            f"transmission = {_end(random, 0.1, 1.0)!r}\n"
        )
    if random.random() < 0.4:
        text += (
            f'[[finder]]\nname = "g"\nmagnification = {_end(random, 1.0, 30.0)!r}\n'
            f'true_field = {_end(random, 0.3, 60.0)!r}\nimage = "mirrored"\n'
        )
    return text


def _observer(random: Random) -> str:
    lines = [
        "[observer]",
        f"age = {_end(random, 10.0, 95.0)!r}",
        f'experience = "{random.choice(("casual", "typical", "keen"))}"',
        f'least_exit_pupil = "{_end(random, 0.2, 3.0):.6f} mm"',
    ]
    if random.random() < 0.5:
        lines.append(f'dark_pupil = "{_end(random, 2.0, 9.0):.6f} mm"')
    return "\n".join(lines) + "\n"
