"""The procedure: phases as data, and the code that loads and verifies them."""

from __future__ import annotations

from wizard.procedure.item import Item, Phase, Procedure
from wizard.procedure.loader import keep_on, procedure

__all__ = ["Item", "Phase", "Procedure", "keep_on", "procedure"]
