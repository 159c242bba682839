"""Bolts: preload from torque, stress against proof, stretch, back-off, what clamp is left."""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.formula import formula
from wizard.kinds import Angle, Area, Force, Length, Number, Stiffness, Stress, Torque
from wizard.sources import Source

STEEL = 29e6 * 6894.757293168
"""Young's modulus of steel, 29e6 psi, in Pa."""

TORQUE = Source("T = K F d, bolt-torque handbooks", "confirmed")
ELASTIC = Source("Hooke's law", "computed")


@formula(
    "Preload from torque",
    equation="preload = torque / (nut_factor × diameter)",
    results="force",
    source=TORQUE,
)
def bolt_preload(torque: Torque, diameter: Length, nut_factor: Number = 0.20) -> float:
    """Clamp force of a bolt that is tightened by torque.

    F = T / (K d)

    Parameters
    ----------
    torque : float
        Torque at the nut, 0.5 to 500 lbf·ft, [N·m]
    diameter : float
        Major diameter, 1/4 in to 1 in (6 mm to 25.4 mm), [m]
    nut_factor : float, optional
        K: 0.20 unless the state of the thread is known, 0.10 to 0.50, [-]

    Returns
    -------
    float
        Preload, [N]

    Notes
    -----
    Two bolts tightened alike differ by 25 to 30 %.

    Examples
    --------
    10 lbf·ft on 3/8 in at K 0.20 is 1600 lbf:

    >>> round(bolt_preload(10 * 1.3558179483314, 0.375 * 0.0254) / 4.4482216152605, 6)
    1600.0
    """
    within("torque", torque, "torque", "lbf·ft", 0.5, 500)
    within("diameter", diameter, "length", "mm", 6, 25.4)
    within("nut_factor", nut_factor, "number", "", 0.10, 0.50)
    return torque / (nut_factor * diameter)


@formula(
    "Torque for a preload",
    equation="torque = nut_factor × preload × diameter",
    results="torque",
    source=TORQUE,
)
def torque_for_preload(preload: Force, diameter: Length, nut_factor: Number = 0.20) -> float:
    """Torque that makes a wanted clamp force.

    T = K F d

    Parameters
    ----------
    preload : float
        Clamp force wanted, [N]
    diameter : float
        Major diameter, 1/4 in to 1 in (6 mm to 25.4 mm), [m]
    nut_factor : float, optional
        K, 0.10 to 0.50, [-]

    Returns
    -------
    float
        Torque at the nut, [N·m]

    Examples
    --------
    M12 8.8 at 70 % of proof is 34.2 kN and 82 N·m (published about 34 kN and 82 N·m):

    >>> round(torque_for_preload(0.70 * 580e6 * 84.3e-6, 0.012), 3)
    82.142
    """
    above_zero("preload", preload, "force", "N")
    within("diameter", diameter, "length", "mm", 6, 25.4)
    within("nut_factor", nut_factor, "number", "", 0.10, 0.50)
    return nut_factor * preload * diameter


@formula(
    "Preload stress",
    equation="stress = preload / area",
    results="stress",
    source=Source("definition", "computed"),
)
def bolt_stress(preload: Force, area: Area) -> float:
    """Tension in the thread of a bolt.

    Parameters
    ----------
    preload : float
        Clamp force, [N]
    area : float
        Tensile stress area of the thread, [m2]

    Returns
    -------
    float
        Stress, [Pa]

    Examples
    --------
    >>> round(bolt_stress(34226.0, 84.3e-6) / 1e6, 1)
    406.0
    """
    zero_or_above("preload", preload, "force", "N")
    above_zero("area", area, "area", "mm2")
    return preload / area


@formula(
    "Share of the proof strength",
    equation="share = stress / proof",
    results="ratio",
    source=Source("75 % of proof load for joints that are opened again", "confirmed"),
)
def proof_share(stress: Stress, proof: Stress) -> float:
    """How much of its proof strength a bolt uses.

    Parameters
    ----------
    stress : float
        Tension in the thread, [Pa]
    proof : float
        Proof strength, [Pa]

    Returns
    -------
    float
        Stress over proof strength, [-]

    Examples
    --------
    >>> round(proof_share(406e6, 580e6), 2)
    0.7
    """
    zero_or_above("stress", stress, "stress", "MPa")
    above_zero("proof", proof, "stress", "MPa")
    return stress / proof


@formula(
    "Stretch of a bolt",
    equation="stretch = preload × grip / (area × modulus)",
    results="length",
    source=ELASTIC,
)
def bolt_stretch(preload: Force, grip: Length, area: Area, modulus: Stress = STEEL) -> float:
    """How much longer a bolt is under its preload.

    stretch = F L / (A E)

    Parameters
    ----------
    preload : float
        Clamp force, [N]
    grip : float
        Length of the bolt between head and nut, [m]
    area : float
        Tensile stress area, [m2]
    modulus : float, optional
        Young's modulus, steel unless given, [Pa]

    Returns
    -------
    float
        Stretch, [m]

    Examples
    --------
    1600 lbf on 4 in of a 3/8-16 bolt stretch it by 0.0028 in:

    >>> round(bolt_stretch(1600 * 4.4482216152605, 4 * 0.0254, 0.0775 * 0.0254**2) / 0.0254, 7)
    0.0028476
    """
    zero_or_above("preload", preload, "force", "N")
    above_zero("grip", grip, "length", "in")
    above_zero("area", area, "area", "mm2")
    above_zero("modulus", modulus, "stress", "MPa")
    return preload * grip / (area * modulus)


@formula(
    "Stiffness of a bolt",
    equation="stiffness = area × modulus / grip",
    results="stiffness",
    source=ELASTIC,
)
def bolt_stiffness(grip: Length, area: Area, modulus: Stress = STEEL) -> float:
    """Force that stretches a bolt by one unit of length.

    k = A E / L

    Parameters
    ----------
    grip : float
        Length of the bolt between head and nut, [m]
    area : float
        Tensile stress area, [m2]
    modulus : float, optional
        Young's modulus, steel unless given, [Pa]

    Returns
    -------
    float
        Stiffness, [N/m]

    Examples
    --------
    4 in of a 3/8-16 bolt:

    >>> k = bolt_stiffness(4 * 0.0254, 0.0775 * 0.0254**2)
    >>> round(k / 175.12683524647, 1)
    561875.0
    """
    above_zero("grip", grip, "length", "in")
    above_zero("area", area, "area", "mm2")
    above_zero("modulus", modulus, "stress", "MPa")
    return area * modulus / grip


@formula(
    "Travel of a nut that is backed off",
    equation="travel = angle / (full turn) × pitch",
    results="length",
    source=Source("definition of the pitch", "computed"),
)
def back_off_travel(angle: Angle, pitch: Length) -> float:
    """How far a nut moves along the thread.

    Parameters
    ----------
    angle : float
        Angle the nut is turned back, [rad]
    pitch : float
        Pitch of the thread, [m]

    Returns
    -------
    float
        Travel, [m]

    Examples
    --------
    A quarter turn of 3/8-16 is 0.015625 in:

    >>> round(back_off_travel(math.pi / 2, 0.0625 * 0.0254) / 0.0254, 9)
    0.015625
    """
    zero_or_above("angle", angle, "angle", "°")
    above_zero("pitch", pitch, "length", "mm")
    return angle / math.tau * pitch


@formula(
    "Clamp that is left after backing off",
    equation="residual = larger of 0 and preload - travel / (1 / bolt + 1 / joint)",
    results="force",
    source=ELASTIC,
)
def residual_preload(preload: Force, travel: Length, bolt: Stiffness, joint: Stiffness) -> float:
    """Clamp force that a bolt keeps when its nut is turned back.

    F' = max(0, F - travel / (1/k_bolt + 1/k_joint))

    Parameters
    ----------
    preload : float
        Clamp force before, [N]
    travel : float
        Travel of the nut, [m]
    bolt : float
        Stiffness of the bolt, [N/m]
    joint : float
        Stiffness of foot and pad, [N/m]

    Returns
    -------
    float
        Clamp force after, [N]

    Notes
    -----
    On a rigid shim a quarter turn takes all of it, on a soft pad a few percent.

    Examples
    --------
    A quarter turn of 3/8-16 at 10 lbf·ft, soft pad of 5000 lbf/in and rigid shim:

    >>> lbf, per_inch, inch = 4.4482216152605, 175.12683524647, 0.0254
    >>> [round(residual_preload(1600 * lbf, 0.015625 * inch, 561875 * per_inch,
    ...                         k * per_inch) / lbf, 1) for k in (5000.0, 4e6)]
    [1522.6, 0.0]
    """
    zero_or_above("preload", preload, "force", "N")
    zero_or_above("travel", travel, "length", "mm")
    above_zero("bolt", bolt, "stiffness", "N/mm")
    above_zero("joint", joint, "stiffness", "N/mm")
    return max(0.0, preload - travel / (1 / bolt + 1 / joint))
