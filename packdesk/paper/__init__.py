"""Sets labels and records on paper: PDF files that say in print what the screen says.

May import: desk and everything below. The only room that speaks reportlab; import it late.
"""
