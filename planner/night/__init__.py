"""What to look at and when: windows, worth, order, the plan and its JSON document.

May import numpy, planner.verdict and the levels below.
"""
