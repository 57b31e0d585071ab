"""Events worth the alarm clock: what happens in the coming nights, and what this site sees of it.

Modules: event (the record), sky_hours (Sun, Moon and planets hour by hour), meetings, seasons,
lunar_eclipses, occultations, rhythms (Jupiter's moons and Algol), finding (all of them).
"""
