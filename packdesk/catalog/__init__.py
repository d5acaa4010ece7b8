"""What is on the shelf: foods, pouches, films, absorbers, pails and label stock, with sources.

May import: units, resources.
"""
