"""Can this instrument show this target now? The only joint of the five sciences.

Modules: setup (telescope, observer, sky, hand-set settings), sightlines (where targets stand),
verdicts and steps (the one shape of every answer), causes (what stands in the way), powers,
faintest_star. A folder for each kind of target, with its judge: pairs, deepsky, bodies; the
telescope's own report beside them: scope. May import numpy, filelock and every level below.
"""
