"""Shows the state of the work on a screen and hands on what the person asks.

May import: everything below, and PySide6, which no other room speaks. The drawing layer is
`theme` (colour, type, measure), `icons` and `widgets` (one a file): a widget takes a frozen card
from `packdesk.present.cards`, formats nothing, stores nothing, and answers with signals.
"""
