"""The procedure: phases as data, and the code that loads and verifies them."""

from __future__ import annotations

from wizard.procedure.item import Item, Phase, Procedure
from wizard.procedure.loader import procedure

__all__ = ["Item", "Phase", "Procedure", "procedure"]
