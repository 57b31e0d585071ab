"""The observer's own catalogs: read, matched with what is known, kept, and undone.

Modules: layouts (which one a file has), wds_layout, orbit_layout, fixed_width, packed_place,
table_import, angle_text and column_map (the ways in), incoming and refusals (what came), near,
tracks, star_match, merging and orbit_match (what is known already), importing (the whole act),
stored and shelf (the door to the user's data folder), outside_names.
"""
