"""What the telescope does to the light.

Modules: telescope, eyepiece, view, resolution, light, newtonian, and the image of a
double star. May import numpy, planner.angles, planner.constants, planner.errors.
"""
