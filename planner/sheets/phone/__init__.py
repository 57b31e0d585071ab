"""The sheet as one page for a phone: red on black, offline, with a log to fill in.

Modules: record (what the page shows, as values), views (the circles of a target), writing (the
template, its style and script to one file).
"""
