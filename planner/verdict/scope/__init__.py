"""The telescope by itself, for its report: what it can do whatever the target.

Modules: instrument, view_summary, limit_reasons, purpose, mask_study.
"""
