"""The compiled catalogs, as package data; see README.md beside this file."""
