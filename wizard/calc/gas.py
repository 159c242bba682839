"""Constants of air, and the laws that air formulas rest on."""

from __future__ import annotations

from wizard.sources import Source

STANDARD_PRESSURE = 101325.0
STANDARD_TEMPERATURE = 288.15
ZERO_CELSIUS = 273.15
GAS_CONSTANT = 287.05287
"""Of dry air, J/(kg K), the value of ISO 2533."""
VAPOUR_GAS_CONSTANT = 461.523
HEAT_RATIO = 1.4

GAS_LAW = Source("ideal-gas law", "computed")
MASS_BALANCE = Source("mass balance on an ideal gas", "computed")
