"""Takes an order, keeps the record, tells who listens; the ports it needs are protocols here.

May import: present, session and everything below. Pure of Qt, SQL and files.
"""
