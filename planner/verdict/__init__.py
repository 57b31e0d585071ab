"""Can this instrument show this target now? The only joint of the five sciences.

Modules: instrument and view_summary (the telescope as it is), faintest_star, limit_reasons,
purpose, margin, causes (what stands in the way), deepsky, deepsky_profile and deepsky_limit,
planets, doubles, outlook, mask_study, and the tables that doubles rests on: split_criteria,
split_profiles, split_need, split_tables, split_cache (a door to the user's cache), split_lookup,
split_choice. May import numpy, filelock and every level below.
"""
