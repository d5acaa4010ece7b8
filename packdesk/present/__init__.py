"""Says state in finished words and plain figures: the same for screen, paper and JSON.

May import: session and everything below. Knows no Qt, no paper, no clock of its own.
"""
