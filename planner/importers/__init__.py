"""The observer's own catalogs: read, matched with what is known, kept, and undone.

Modules: harmless (texts from outside), layouts (which one a file has), wds_layout, orbit_layout,
fixed_width, packed_place, table_import, angle_text and column_map (the ways in), incoming and
rejected_rows (what came), near, tracks, star_match, merging and orbit_match (what is known
already), deriving (a file to a table), joining (tables to one), about and store (the door to the
user's data folder), derived (tables kept to save time), library (all pairs, orbits and names),
importing (the whole act), imported_names and completion. May import numpy, astropy and filelock.
"""
