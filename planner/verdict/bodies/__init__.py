"""Does this telescope show the Moon, a planet or a red star, and what on it?

Modules: planets, judge, red_stars; for markings features, contrast, ring_gap, detail,
planet_markings; moon_light (Sun height, size and shadow of lunar features).
"""
