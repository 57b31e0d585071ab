"""Does this telescope show the Moon, a planet or a red star? Modules: planets, judge, red_stars."""
