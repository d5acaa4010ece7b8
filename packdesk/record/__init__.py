"""Keeps what happened: the durable record book, its copies, and sessions as text files.

May import: desk (for its ports) and everything below. The only room that speaks SQL.
"""
