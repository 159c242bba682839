"""Instruments drawn as text, for 80 columns, in Unicode or in ASCII, readable without colour."""
