"""Does this telescope show the Moon or a planet? Modules: planets, judge."""
