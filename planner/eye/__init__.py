"""What an eye can see.

Modules: observer, pupil, threshold, stars, second_opinion, surface, profile, acuity.
Takes plain numbers. May import numpy and the levels below.
"""
