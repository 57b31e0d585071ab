"""Can this instrument show this target now? The only joint of the five sciences.

One module per kind of target; may import numpy and every level below.
"""
