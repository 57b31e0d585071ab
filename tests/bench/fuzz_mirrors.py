"""Mirror tests: spoilt ones, and such as lie at the ends of what a tester can read."""

from __future__ import annotations

from itertools import pairwise
from random import Random

from fuzz_case import Case, spoilt_bytes, spoilt_coding
from fuzz_kits import spoilt_line

from planner.kit.mirror_file import example_test


def odd_mirror(random: Random) -> Case:
    """One test, spoilt or extreme, reduced; now and then with its figures."""
    kind = random.choice((".toml", ".csv"))
    name = f"mirror{kind}"
    text = example_test(kind)
    match random.randrange(6):
        case 0:
            content = spoilt_bytes(random, text.encode())
        case 1:
            content = spoilt_coding(random, text.encode())
        case 2 | 3:
            name, content = "mirror.toml", spoilt_line(random, example_test()).encode()
        case _:
            name, content = "mirror.toml", _extreme(random).encode()
    options: tuple[str, ...] = ("--format", random.choice(("json", "text")))
    if random.random() < 0.1:
        options += ("-o", "mirror.png", "--ronchi", random.choice(("0.5", "4", "20")))
    return Case((("mirror", name, *options),), {name: content})


def _extreme(random: Random) -> str:
    """Few or many windows, flat or deep mirrors, readings from perfect to absurd."""
    diameter = random.choice((30.0, 114.0, 160.0, 1000.0))
    radius = random.choice((200.0, 2.2 * diameter, 12.0 * diameter, 60000.0))
    zones = random.choice((3, 4, 12, 40))
    edges = [diameter / 2.0 * (k / zones) ** 0.5 for k in range(zones + 1)]
    if random.random() < 0.3:
        edges = [0.8 * edge for edge in edges]
    size = random.choice((0.0, 1e-6, 0.01, 1.0, 100.0))
    conic = random.choice((-1.0, 0.0, 1.0, -30.0))
    runs = []
    for _ in range(random.choice((1, 2, 4, 12))):
        clean = [-conic * (a * a + b * b) / (2.0 * radius) for a, b in pairwise(edges)]
        runs.append([round(reading + random.gauss(0.0, size), 6) for reading in clean])
    windows = [[round(a, 4), round(b, 4)] for a, b in pairwise(edges)]
    head = (
        f'[mirror]\nname = "extreme"\noptical_diameter = "{diameter:g} mm"\n'
        f'radius_of_curvature = "{radius:g} mm"\nsource = "{random.choice(("fixed", "moving"))}"\n'
        f'readings_grow = "{random.choice(("away", "towards"))}"\nzones = {windows}\n'
    )
    edge = f'[edge]\nwidth = "{0.1 * diameter:g} mm"\nwaves = {random.choice((0.0, 0.5, 2.0))}\n'
    body = "".join(f"[[run]]\nreadings = {run}\n" for run in runs)
    return head + body + (edge if random.random() < 0.5 else "")
