"""What altitude and heat leave of the motor's power.

Invariant: thin or hot air only ever takes power away.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, within
from wizard.calc.gas import ZERO_CELSIUS
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import Length, Ratio, Temperature, TemperatureDifference
from wizard.sources import OUR_JUDGEMENT, Source

ALTITUDE = (-100, 4000)
AMBIENT = (-20, 60)
CLASS_F_RISE = 105.0
CONSTANT_LOSS = 1 / 3


@formula(
    "Temperature rise permitted at the site",
    equation="share = (rise × (1 - (altitude - 1000 m) / 10000 m) - (ambient - 40 °C)) / rise, "
    "each bracket only where positive",
    results="ratio",
    source=Source("NEMA MG 1 14.3 and 14.4, IEC 60034-1 altitude and ambient rules", "memory"),
    absolute=False,
)
def permitted_rise(
    altitude: Length, ambient: Temperature, rise: TemperatureDifference = CLASS_F_RISE
) -> Ratio:
    """Share of the rated temperature rise that altitude and ambient leave.

    x = (rise (1 - (h - 1000)/10000) - (T - 40)) / rise

    Parameters
    ----------
    altitude : float
        Site elevation, -100 to 4000, [m]
    ambient : float
        Air at the motor's inlet, -20 °C to 60 °C, [K]
    rise : float, optional
        Rated rise of the winding; 105 K for class F, [K]

    Returns
    -------
    float
        Share of the rated rise, at most 1, [-]

    Examples
    --------
    2000 m at 40 °C:

    >>> round(permitted_rise(2000.0, 313.15), 6)
    0.9
    """
    within("altitude", altitude, "length", "m", *ALTITUDE)
    within("ambient", ambient, "temperature", "°C", *AMBIENT)
    within("rise", rise, "temperature difference", "K", 30, 150)
    thin = max(0.0, altitude - 1000) / 10000
    hot = max(0.0, ambient - ZERO_CELSIUS - 40)
    return (rise * (1 - thin) - hot) / rise


@formula(
    "Power left by a smaller temperature rise",
    equation="fraction = square root of ((share - constant_loss) / (1 - constant_loss))",
    results="ratio",
    source=OUR_JUDGEMENT,
)
def derated_fraction(share: Ratio, constant_loss: Ratio = CONSTANT_LOSS) -> Ratio:
    """Share of rated power at a share of rated rise: load losses follow the square of load.

    fraction = sqrt((x - c) / (1 - c))

    Parameters
    ----------
    share : float
        Share of the rated rise, [-]
    constant_loss : float, optional
        Share of the losses that do not follow the load, [-]

    Returns
    -------
    float
        Share of rated power, [-]

    Examples
    --------
    >>> round(derated_fraction(0.9), 5), derated_fraction(1.0)
    (0.92195, 1.0)
    """
    above_zero("constant_loss", constant_loss, "ratio", "%")
    within("constant_loss", constant_loss, "ratio", "%", 0, 60)
    if not constant_loss < share <= 1:
        raise OutsideValidity(
            "permitted rise",
            f"{100 * share:.4g} % of the rated rise",
            f"above {100 * constant_loss:.4g} % to 100 %; ask the motor maker",
        )
    return math.sqrt((share - constant_loss) / (1 - constant_loss))
