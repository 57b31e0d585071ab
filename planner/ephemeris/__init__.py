"""Where things are, and when.

Modules: site, kernel (the door to the ephemeris file), moments, civil_night, clock_hours,
clock_change, crossings, track, body_position, bodies, refraction, constellation, axes, aspect,
jupiter_paths, jupiter_events, red_spot, saturn_moons, lunar_shadow, moon_face, algol,
sun_safety. May import skyfield, astronomy-engine, numpy and the levels below.
"""
