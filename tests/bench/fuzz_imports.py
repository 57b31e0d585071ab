"""Files for ``planner catalog import``, whole ones spoilt in many ways."""

from __future__ import annotations

import gzip
import io
from functools import cache
from random import Random

from fuzz_case import HIDDEN, Case, spoilt_bytes, spoilt_coding

# Epsilon Bootis and Zeta Herculis in the columns of the Washington summary and the Sixth Catalog.
SUMMARY = (
    "14450+2704STF1877AB    1822 2021  590 321 345   2.6   2.8  2.58  4.81 K0"
    "II-III  -051+021 -051+021 +27 2417 NV   144459.22+270427.2\n"
)
ELEMENTS = (
    "164117.16+313609.8 16413+3136 STF2084        10157 150680  81693   2.95   5.40         34.45y"
    "        0.06     1.33a      0.02     131.       2.      50.        2.      1967.7y         0.2"
    "     0.46     0.02     111.       2. 2000 1996 1  Sod1999\n"
)
TABLE = (
    "ra,dec,separation,v1,v2,position_angle,epoch,components,name,discoverer,wds,note\n"
    "150.1,20.5,12.0,7.1,8.2,45,2015.5,AB,one,STF 9999,10004+2030,a note\n"
    "151.1,-20.5,2.0,7.1,8.2,90,2000.0,AB,two,STF 9998,10044-2030,-\n"
)
ODD_FIELDS = (
    "nan", "inf", "-inf", "1e308", "-1e308", "1e-320", "9" * 400, "-0.0", "", " ", "--", '"', "x",
    "９", "٣", "é", "x" * 9000, "=1+1", *HIDDEN,
)  # fmt: skip
TONIGHT = ("tonight", "--date", "2026-05-14", "--kinds", "double", "--format", "json")


def damaged_import(random: Random) -> Case:
    """One file, spoilt, imported; then the catalogs listed and now and then the night."""
    name, content = random.choice(_wholes())
    match random.randrange(8):
        case 0:
            content = spoilt_coding(random, content)
        case 1 | 2 if name.endswith((".csv", ".txt")):
            content = _odd_fields(random, content, "," if name.endswith(".csv") else " ")
        case 3:
            content = gzip.compress(content)
            content = content if random.random() < 0.2 else spoilt_bytes(random, content)
            name = random.choice((name, f"{name}.gz"))
        case 4:
            name = random.choice(("a", "a.csv", "a.txt", "a.vot", "a.fits", "a.ecsv", "a.xml"))
            content = random.choice((content, b"", b"\n", b"\0" * 900, random.randbytes(3000)))
        case _:
            content = spoilt_bytes(random, content)
    options: tuple[str, ...] = ("--format", random.choice(("json", "text")))
    if random.random() < 0.2:
        options += ("--layout", random.choice(("wds", "orbits", "table")))
    lines: tuple[tuple[str, ...], ...] = (
        ("catalog", "import", name, *options),
        ("catalog", "--format", random.choice(("json", "text"))),
    )
    if random.random() < 0.02:
        lines += (TONIGHT,)
    return Case((*lines, ("catalog", "undo")), {name: content})


def _odd_fields(random: Random, content: bytes, separator: str) -> bytes:
    """The text with one or two of its fields replaced, the width kept in a text by columns."""
    lines = content.decode().splitlines()
    for _ in range(random.choice((1, 2))):
        at = random.randrange(len(lines))
        fields = lines[at].split(separator)
        place = random.randrange(len(fields))
        odd = random.choice(ODD_FIELDS)
        width = len(fields[place])
        fields[place] = odd if separator == "," else odd[:width].rjust(width)
        lines[at] = separator.join(fields)
    return ("\n".join(lines) + "\n").encode()


@cache
def _wholes() -> tuple[tuple[str, bytes], ...]:
    """Good files, one of each form."""
    from astropy.table import Table

    table = Table.read(TABLE, format="ascii.csv", fill_values=[])
    found = [("wds.txt", SUMMARY.encode() * 3), ("orbits.txt", ELEMENTS.encode() * 3)]
    found.append(("table.csv", TABLE.encode()))
    text, votable, fits = io.StringIO(), io.BytesIO(), io.BytesIO()
    table.write(text, format="ascii.ecsv")
    table.write(votable, format="votable")
    table.write(fits, format="fits")
    found.append(("table.ecsv", text.getvalue().encode()))
    return (*found, ("table.vot", votable.getvalue()), ("table.fits", fits.getvalue()))
