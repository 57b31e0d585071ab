"""Where things are, and when.

Modules: site, kernel (the door to the ephemeris file), civil_night, track, bodies.
May import skyfield, numpy and the levels below.
"""
