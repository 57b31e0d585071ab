"""What there is to look at.

Modules: kind, catalog (the door to package data), pairs, deepsky, stars, names, orbit.
May import numpy, pandas, astropy.table and the levels below.
"""
