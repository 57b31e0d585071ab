"""The mirror at the tester: zone readings (tester), the wave they mean (reduction), how
sure it is (band), trade criteria.

Lengths in mm, waves of the reflected wave at 550 nm; glass too high counts as positive.
"""
