"""Holds colour, type and measure in one object that every widget is given.

May import: PySide6 and the font wheel; never a widget, so that each can be drawn alone.
"""
