"""Finished values to text, CSV, JSON and paper. Computes no astronomy.

May import matplotlib, tabulate and the values of the levels below.
"""
