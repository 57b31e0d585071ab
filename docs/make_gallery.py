"""Draw the charts of docs/gallery/ with the planner itself and write docs/gallery.md."""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner
from generated import write_or_check

from planner.cli.root import main

PAGE = Path(__file__).with_name("gallery.md")
FOLDER = Path(__file__).with_name("gallery")
# File, words above it, arguments; all for the embedded example kit.
PICTURES = (
    (
        "ring-by-eye.svg",
        "Where to look: M 57 by eye. The dashed ring is the finder's field.",
        ("M 57", "--eye", "--date", "2026-12-08", "--time", "18:00"),
    ),
    (
        "snowball-in-the-finder.svg",
        "The hop to NGC 7662 in a finder that turns the view by 180 degrees.",
        ("NGC 7662", "--date", "2026-12-08", "--time", "21:00"),
    ),
    (
        "orion-low-power.svg",
        "M 42 in the lowest power, turned as this Newtonian turns it, to the catalog's limit.",
        ("M 42", "--date", "2026-12-08", "--eyepiece", "32 mm"),
    ),
    (
        "izar-mirrored.svg",
        "Izar as a star diagonal would show it, left and right swapped.",
        ("Izar", "--date", "2027-06-20", "--eyepiece", "18 mm", "--orientation", "mirrored"),
    ),
)
HEAD = """\
# Gallery

Charts for the invented garden and telescope of the example kit. This page and its pictures are
drawn by `python docs/make_gallery.py`; N and E stand at the rim, the arrow is the way stars drift
while the tube rests.
"""


def drawn(name: str, arguments: tuple[str, ...]) -> str:
    """The text of one chart, from a run of the command."""
    with TemporaryDirectory() as nobodys:
        path = Path(nobodys, name)
        own = {"PLANNER_KIT": "", "XDG_DATA_HOME": nobodys}
        command = ("chart", *arguments, "-o", str(path))
        CliRunner().invoke(main, command, env=own, catch_exceptions=False)
        return path.read_text(encoding="utf-8")


def page() -> str:
    """The page around the pictures."""
    parts = [HEAD]
    for name, words, arguments in PICTURES:
        told = " ".join(f'"{word}"' if " " in word else word for word in arguments)
        command = f"```sh\nplanner chart {told} -o {name}\n```"
        parts.append(f"{words}\n\n{command}\n\n![{words}](gallery/{name})\n")
    return "\n".join(parts)


if __name__ == "__main__":
    if "--check" not in sys.argv:
        FOLDER.mkdir(exist_ok=True)
    for name, _, arguments in PICTURES:
        write_or_check(FOLDER / name, drawn(name, arguments), "make_gallery.py")
    write_or_check(PAGE, page(), "make_gallery.py")
