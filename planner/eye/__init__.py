"""What an eye can see.

Modules: observer, pupil, threshold, stars, second_opinion, surface, profile, margin_table,
acuity, glare. Takes plain numbers. May import numpy and the levels below.
"""
