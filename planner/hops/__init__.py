"""The way to a target by hand, from a star the bare eye sees.

Modules: hop (what a hop is), clock (directions as clock hours), landmarks (the stars on the way),
search (the cheapest way), line (two stars whose line meets the target).
"""
