"""The user's kit file, to values; every error names file, key, value and remedy.

May import the levels below; reads user files.
"""
