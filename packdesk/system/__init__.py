"""Speaks with the operating system: its clocks, folders, sleep, log and missing pieces.

May import the desk (for its ports) and the foundation; never ui, record or paper.
"""
