"""Drawings to scale from a job's own values, as lines of text."""

from __future__ import annotations

from wizard.pictures.choice import picture, pressures
from wizard.pictures.scene import Scene

__all__ = ["Scene", "picture", "pressures"]
