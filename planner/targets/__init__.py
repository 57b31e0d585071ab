"""What there is to look at.

Modules: kind, files (the door to package data), catalog, columns, pairs, measure, deepsky, stars,
red_stars, orbit, names, name_key, name_sources, spelling, constellations, titles, standing
(published best-of lists),
lunar_features. May import numpy and the levels below; names, name_key, name_sources,
spelling and files stay free of numpy.
"""
