"""Chooses the real parts and starts; the command line.

May import every room below; nothing imports it but `__main__`.
"""
