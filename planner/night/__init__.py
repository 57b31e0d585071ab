"""What to look at and when: circumstances, windows, worth, the plan and its JSON document.

Modules: request (what is asked), circumstances, standing and window (when), double_list,
deepsky_target, solar_list (each makes a Judged group), worth, making, one, course, plan, document.
May import numpy, planner.verdict and the levels below.
"""
