"""Makes summary and element files in the published layouts: invented pairs, real proportions."""

from __future__ import annotations

import numpy as np

# Shares as in the published summary, roughly (from memory): a quarter of the companions have no
# magnitude, a few primaries have none either, some places are only in the identifier.
NO_MAGNITUDE_2, NO_MAGNITUDE_1, NO_PLACE, NO_SEPARATION, BOGUS = 0.12, 0.01, 0.02, 0.01, 0.01
DISCOVERERS = ("STF", "STT", "BU", "HJ", "ES", "A", "HU", "J", "UC", "LDS", "TDS", "CVR", "BRT")
HEADER = "WDS summary made for tests; the places, measures and magnitudes are invented\n"


def summary_line(fields: dict[str, object]) -> str:
    """One summary line from texts and numbers, each put in its columns by hand."""
    line = [" "] * 130
    for first, last, name in (
        (1, 10, "wds"), (11, 17, "discoverer"), (18, 22, "components"), (24, 27, "first_year"),
        (29, 32, "last_year"), (34, 37, "measures"), (39, 41, "first_angle"),
        (43, 45, "last_angle"), (47, 51, "first_separation"), (53, 57, "last_separation"),
        (59, 63, "v1"), (65, 69, "v2"), (71, 79, "spectrum"), (81, 84, "pm_ra"),
        (85, 88, "pm_dec"), (90, 93, "pm_ra_2"), (94, 97, "pm_dec_2"), (99, 106, "dm"),
        (108, 111, "notes"), (113, 130, "place"),
    ):  # fmt: skip
        width = last - first + 1
        text = str(fields.get(name, ""))
        left = name in ("wds", "discoverer", "components", "spectrum", "notes", "place", "dm")
        line[first - 1 : last] = text.ljust(width) if left else text.rjust(width)
        assert len(line) == 130, (name, text)
    return "".join(line)


def summary_file(count: int, seed: int = 1) -> bytes:
    """A summary of so many pairs over the whole sky, in order of right ascension, CRLF-free."""
    rng = np.random.default_rng(seed)
    ra = np.sort(rng.uniform(0.0, 360.0, count))
    dec = np.degrees(np.arcsin(rng.uniform(-1.0, 1.0, count)))
    separation = np.exp(rng.uniform(np.log(0.1), np.log(100.0), count))
    v1 = np.clip(rng.normal(9.8, 1.6, count), 5.0, 14.0)
    v2 = np.clip(v1 + rng.exponential(1.4, count), 5.0, 16.0)
    chance = rng.random((5, count))
    angle = rng.integers(0, 360, count)
    years = rng.integers(1985, 2023, count)
    which = rng.integers(0, len(DISCOVERERS), count)
    lines = []
    for row in range(count):
        identifier, place = places(float(ra[row]), float(dec[row]))
        measured = -1 if chance[3, row] < NO_SEPARATION else f"{separation[row]:.1f}"
        code = DISCOVERERS[which[row]]
        lines.append(
            summary_line(
                {
                    "wds": identifier,
                    "discoverer": code + str(row // 16 + 1).rjust(7 - len(code)),
                    "components": "" if row % 5 else "AC",
                    "first_year": 1830 + row % 150,
                    "last_year": years[row],
                    "measures": row % 90 + 1,
                    "first_angle": angle[row],
                    "last_angle": angle[row],
                    "first_separation": measured,
                    "last_separation": measured,
                    "v1": "." if chance[1, row] < NO_MAGNITUDE_1 else f"{v1[row]:.2f}",
                    "v2": "." if chance[0, row] < NO_MAGNITUDE_2 else f"{v2[row]:.2f}",
                    "spectrum": "G5",
                    "pm_ra": f"{row % 200 - 100:+04d}",
                    "pm_dec": f"{row % 160 - 80:+04d}",
                    "notes": "X" if chance[4, row] < BOGUS else "",
                    "place": "" if chance[2, row] < NO_PLACE else place,
                }
            )
        )
    return (HEADER + "\n".join(lines) + "\n").encode()


def places(ra_deg: float, dec_deg: float) -> tuple[str, str]:
    """Identifier and precise place, both as the layout writes them: cut, not rounded."""
    hours = ra_deg / 15.0
    sign = "-" if dec_deg < 0.0 else "+"
    size = abs(dec_deg)
    hour, minute = int(hours), hours % 1.0 * 60.0
    degree, arcmin = int(size), size % 1.0 * 60.0
    identifier = f"{hour:02d}{int(minute * 10.0):03d}{sign}{degree:02d}{int(arcmin):02d}"
    second, arcsec = minute % 1.0 * 60.0, arcmin % 1.0 * 60.0
    precise = (
        f"{hour:02d}{int(minute):02d}{min(second, 59.99):05.2f}"
        f"{sign}{degree:02d}{int(arcmin):02d}{min(arcsec, 59.9):04.1f}"
    )
    return identifier, precise
