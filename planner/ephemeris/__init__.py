"""Where things are, and when.

Modules: site, kernel (the door to the ephemeris file), moments, civil_night, clock_hours,
clock_change, crossings, track, body_position, bodies, refraction, constellation. May import
skyfield, numpy and the levels below.
"""
