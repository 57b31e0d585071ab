"""Lies here so that every folder of tests can import ``sample_nights``."""
