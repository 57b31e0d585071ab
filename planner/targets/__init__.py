"""What there is to look at.

Modules: kind, files (the door to package data), catalog, columns, pairs, deepsky, stars, red_stars,
orbit, names, name_key, name_sources, spelling, constellations, library (shipped and own catalogs
together), and the package outside (the observer's own catalogs). May import numpy, astropy.table,
filelock and the levels below; names, name_key, name_sources, spelling and files stay free of numpy.
"""
