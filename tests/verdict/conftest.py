"""Lies here so that every folder of verdicts can import the samples."""
