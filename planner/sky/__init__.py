"""How bright and how blurred the sky is.

Modules: airmass, extinction, scales, moonlight, twilight, background, seeing. Takes plain
numbers, never bodies or telescopes. May import numpy and the levels below.
"""
