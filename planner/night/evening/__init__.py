"""The order of an evening, from judged targets to looks in a row: couples the night to its order.

Modules, in the order they build on one another: session (which minutes there are), pool (which
targets may be looked at), minute_worth (what a look is worth at each minute), hop_minutes and
changes (what it takes to get from one to another), posture (how the observer stands), evening (the
finished order), reasons (why a look stands where it stands, and why another does not).
"""
