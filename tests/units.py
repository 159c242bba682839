"""Outside judges that are slow to load: one set of units for all proofs, properties when asked."""

from __future__ import annotations

from typing import Any

import pint

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
"""pint's own units; the wizard has a set of its own."""


def PropsSI(*given: Any) -> float:
    """A property of a fluid by CoolProp, which takes two seconds to load."""
    from CoolProp.CoolProp import PropsSI as judge

    return float(judge(*given))


def HAPropsSI(*given: Any) -> float:
    """A property of moist air by CoolProp."""
    from CoolProp.CoolProp import HAPropsSI as judge

    return float(judge(*given))
