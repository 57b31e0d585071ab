"""The order of the night."""
