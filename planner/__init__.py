"""An observing-session planner matched to one telescope."""
