"""What to look at and when: one way from a request to a plan.

Modules in the order of the way: request (what is asked), conditions (the night), candidates (what
the catalogs offer), judging with best_time, pair_times and systems (each at its best), worth,
ranking, planning with planned (one target written out), plan; margin_curve and single_target look
closer; body_features and satellites are the planets', events/ has what the sky does. May import
numpy, planner.verdict and the levels below.
"""
