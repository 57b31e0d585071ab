"""What the telescope does to the light.

Modules: telescope, eyepiece, view, resolution, light, newtonian, figure (errors of the wave),
image (the transfer of detail and the image of a star). May import numpy and the levels below.
"""
