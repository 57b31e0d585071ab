"""Can this instrument show this target now? The only joint of the five sciences.

Modules: instrument and view_summary (the telescope as it is), faintest_star, limit_reasons,
purpose, margin, causes (what stands in the way); deepsky with deepsky_profile, open_clusters,
cluster_stars, star_table, filtering and deepsky_limit; planets; doubles, outlook, mask_study, and
the tables that doubles rests on: split_criteria, split_profiles, split_need, split_tables,
split_cache (a door to the user's cache), split_lookup, split_choice, split_picture.
May import numpy, filelock and every level below.
"""
