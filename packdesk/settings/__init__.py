"""Declared choices of a person and what was measured of printers, kept as a text that people read.

May import `units`, `instants` and `resources`; knows no file and no folder.
"""
