"""How tight a belt is, from a push or a pluck, and how tight the work needs it."""

from __future__ import annotations

from math import exp, log, pi, sqrt

from wizard.calc.accepted import above_zero, within
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Angle, Force, Frequency, Length, MassPerLength, Number, Power, Speed
from wizard.sources import Source

DEFLECTION_RULE = Source(
    "1/64 in per inch of span: Practical Machinery Management for Process Plants p. 327; "
    "TM 5-3820-233-12/1 (100 in gives 1 9/16 in)",
    "confirmed",
)
BALANCE = Source("balance of forces at the middle of the span", "computed")
BELT_STIFFNESS = Source("belt stiffness term of belt makers' manuals", "memory")
STRING = Source("equation of a vibrating string", "computed")
BELT_FRICTION = Source(
    "belt friction equation, worked out here; published constants lie 5 to 10 % lower", "computed"
)
TENSION_RATIO = Source("5:1 tension ratio of a V-belt at 180° of wrap", "memory")

DEFLECTION_PER_SPAN = 1 / 64
GRIP = log(5) / pi
"""Effective friction of a V-belt, from 5:1 at half a turn."""


@formula(
    "Test deflection of a belt",
    equation="deflection = span / 64",
    results="length",
    source=DEFLECTION_RULE,
)
def deflection_for_span(span: Length) -> Length:
    """How far the belt is pushed at mid-span for the force test.

    q = t/64, which is 1/64 in per inch and 15.6 mm per metre

    Parameters
    ----------
    span : float
        Free span, [m]

    Returns
    -------
    float
        Deflection, [m]

    Examples
    --------
    A 100 in span gives 1 9/16 in (TM 5-3820-233-12/1):

    >>> deflection_for_span(100 * 0.0254) / 0.0254
    1.5625
    """
    above_zero("span", span, "length", "mm")
    return span * DEFLECTION_PER_SPAN


@formula(
    "Force that deflects a belt at mid-span",
    equation="force = 4 × deflection / span × (tension + stiffness × span / belt_length)",
    results="force",
    source=(BALANCE, BELT_STIFFNESS),
)
def deflection_force(
    tension: Force,
    deflection: Length,
    span: Length,
    stiffness: Force = 0.0,
    belt_length: Length = 1.0,
) -> Force:
    """Force square to a belt that deflects it at mid-span.

    F = (4 q/t) (T + Y t/L); at q = t/64 this is T/16 + Y t/(16 L)

    Parameters
    ----------
    tension : float
        Static tension of one belt, [N]
    deflection : float
        Deflection at mid-span, [m]
    span : float
        Free span, [m]
    stiffness : float, optional
        Stiffness constant Y of the belt, if its maker gives one, [N]
    belt_length : float, optional
        Pitch length of the belt; counts only with a stiffness, [m]

    Returns
    -------
    float
        Force, [N]

    Notes
    -----
    For small deflections: at 1/64 of the span it is 0.05 % above the exact balance.

    Examples
    --------
    200 N over a 500 mm span needs 12.5 N; 350 N with Y = 20 N over 720 mm of a 2460 mm belt
    needs 22.241 N (computed):

    >>> deflection_force(200.0, 0.5 / 64, 0.5)
    12.5
    >>> round(deflection_force(350.0, 0.720 / 64, 0.720, 20.0, 2.460), 3)
    22.241
    """
    above_zero("tension", tension, "force", "N")
    above_zero("deflection", deflection, "length", "mm")
    above_zero("span", span, "length", "mm")
    above_zero("belt length", belt_length, "length", "mm")
    return 4 * deflection / span * (tension + stiffness * span / belt_length)


@formula(
    "Belt tension from a push",
    equation="tension = force × span / (4 × deflection) − stiffness × span / belt_length",
    results="force",
    source=(BALANCE, BELT_STIFFNESS),
)
def tension_from_push(
    force: Force,
    deflection: Length,
    span: Length,
    stiffness: Force = 0.0,
    belt_length: Length = 1.0,
) -> Force:
    """Static tension of one belt from the force that deflects it at mid-span.

    T = F t/(4 q) - Y t/L

    Parameters
    ----------
    force : float
        Force of the spring gauge, square to the belt, [N]
    deflection : float
        Deflection at mid-span, [m]
    span : float
        Free span, [m]
    stiffness : float, optional
        Stiffness constant Y of the belt, if its maker gives one, [N]
    belt_length : float, optional
        Pitch length of the belt; counts only with a stiffness, [m]

    Returns
    -------
    float
        Tension, [N]

    Examples
    --------
    5.625 lbf at 1/64 of the span is 90 lbf of tension (computed):

    >>> round(tension_from_push(5.625, 0.5 / 64, 0.5), 6)
    90.0
    """
    above_zero("force", force, "force", "N")
    above_zero("deflection", deflection, "length", "mm")
    above_zero("span", span, "length", "mm")
    above_zero("belt length", belt_length, "length", "mm")
    return force * span / (4 * deflection) - stiffness * span / belt_length


@formula(
    "Belt tension from its pitch",
    equation="tension = 4 × mass × (span)² × (frequency)²",
    results="force",
    source=STRING,
)
def tension_from_frequency(mass: MassPerLength, span: Length, frequency: Frequency) -> Force:
    """Tension of a plucked belt from the frequency of its free span.

    T = 4 m L^2 f^2

    Parameters
    ----------
    mass : float
        Mass of one belt per length, [kg/m]
    span : float
        Free span, [m]
    frequency : float
        Lowest frequency of the plucked span, [Hz]

    Returns
    -------
    float
        Tension, [N]

    Notes
    -----
    For a free and still span with the machine stopped.

    Examples
    --------
    0.18 kg/m over 742 mm at 22 Hz (computed):

    >>> round(tension_from_frequency(0.18, 0.742, 22.0), 2)
    191.86
    """
    above_zero("belt mass", mass, "mass per length", "kg/m")
    above_zero("span", span, "length", "mm")
    above_zero("frequency", frequency, "frequency", "Hz")
    return 4 * mass * span**2 * frequency**2


@formula(
    "Pitch of a belt at a tension",
    equation="frequency = √(tension / mass) / (2 × span)",
    results="frequency",
    source=STRING,
)
def frequency_at_tension(tension: Force, mass: MassPerLength, span: Length) -> Frequency:
    """Frequency at which a free span should sound.

    f = sqrt(T/m)/(2 L)

    Parameters
    ----------
    tension : float
        Tension of one belt, [N]
    mass : float
        Mass of one belt per length, [kg/m]
    span : float
        Free span, [m]

    Returns
    -------
    float
        Frequency, [Hz]

    Examples
    --------
    250 N in a belt of 0.18 kg/m over 742 mm (computed):

    >>> round(frequency_at_tension(250.0, 0.18, 0.742), 3)
    25.113
    """
    above_zero("tension", tension, "force", "N")
    above_zero("belt mass", mass, "mass per length", "kg/m")
    above_zero("span", span, "length", "mm")
    return sqrt(tension / mass) / (2 * span)


@formula(
    "Static tension that the drive needs",
    equation="tension = service × power / (belt_speed × belts) / 2 × (r + 1) / (r − 1) + "
    "mass × (belt_speed)², r = exp(0.5123 × wrap)",
    results="force",
    source=(BELT_FRICTION, TENSION_RATIO),
)
def needed_tension(
    power: Power,
    belt_speed: Speed,
    belts: int,
    mass: MassPerLength,
    wrap: Angle,
    service: Number = 1.0,
) -> Force:
    """Static tension per belt that carries the power without slip.

    Te = s P/(v n), r = exp(0.5123 theta), T = (Te/2) (r + 1)/(r - 1) + m v^2

    Parameters
    ----------
    power : float
        Shaft power, [W]
    belt_speed : float
        Speed of the belt, [m/s]
    belts : int
        Belts that share the power, [-]
    mass : float
        Mass of one belt per length, [kg/m]
    wrap : float
        Wrap on the smaller sheave, [rad]
    service : float, optional
        Service factor for the shocks of the load, 1 to 2; 1 is the bare power, [-]

    Returns
    -------
    float
        Static tension of one belt, [N]

    Notes
    -----
    Wrap from 90° to 180°. Belts actually fitted count, not grooves.

    Examples
    --------
    5.5 kW at 8.53 m/s, 2 belts of 0.18 kg/m, wrap 157.8° (computed):

    >>> from math import radians
    >>> round(needed_tension(5500.0, 8.53, 2, 0.18, radians(157.8)), 2)
    278.3
    """
    above_zero("power", power, "power", "kW")
    above_zero("belt speed", belt_speed, "speed", "m/s")
    above_zero("belt mass", mass, "mass per length", "kg/m")
    if belts < 1:
        raise InputError("belts", str(belts), "1 or more")
    within("wrap", wrap, "angle", "°", 90, 180)
    within("service", service, "number", "", 1, 2)
    ratio = exp(GRIP * wrap)
    pull = service * power / (belt_speed * belts)
    return pull / 2 * (ratio + 1) / (ratio - 1) + mass * belt_speed**2
