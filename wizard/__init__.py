"""Commissioning wizard for a tank-mounted, belt-driven piston air compressor."""

__version__ = "0.1.0"
