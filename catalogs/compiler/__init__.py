"""Compile the shipped catalogs from packages of the registries; a tool of the workshop.

Run from the root of the repository: ``python -m catalogs.compiler build --starnames FILE`` writes
the files, ``python -m catalogs.compiler check TABLE.csv`` compares the pairs with a table of
published measures. Not part of the wheel.

Modules: sources, sphere, photometry, stars, designations, pairs, chance, motion, systems, typed,
colours, doubles, deepsky, deepsky_typed, nebulae, outliers, writing, manifest, readme, build,
checking, orbit_check.
"""
