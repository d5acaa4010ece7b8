"""Draws the parts of the window, one widget a file: a frozen card in, signals out.

May import: `packdesk.ui.theme`, `packdesk.ui.icons` and the cards of `packdesk.present`. A widget
knows no session, formats no figure and owns no clock; each takes the theme as its first argument.
"""
