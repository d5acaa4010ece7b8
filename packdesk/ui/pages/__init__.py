"""Holds one page a stage, and the start page: sentence, main control, forms, evidence.

May import: everything `ui` may. A page computes nothing: it reads what was typed, shows what
`packdesk.present` says, and has one way in (`show_sight`) and one way out (`submitted`).
"""
