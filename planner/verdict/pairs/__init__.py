"""Can this telescope split a pair? The classes, the tables they rest on, and the judge.

Modules: criteria (what each class asks for), profiles, need and tables (worst seeing worked out
once), cache (a door to the user's cache), lookup, choice (view, class, limit), spectrum, judge,
outlook (years ahead), picture (as it looks).
"""
