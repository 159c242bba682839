"""Anchors and feet: distances in the slab, torque against target, shims and gaps."""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero, one_of, within
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Length, Torque
from wizard.sources import Source
from wizard.tables import table

INCH = 0.0254

ACI = Source("ACI 318-19 17.9 (ACI 318-14 17.7)", "memory")
NO_SHEET = Source("common practice where no approval sheet is at hand", "memory")


def anchor_kinds() -> tuple[str, ...]:
    """Kinds of anchor whose edge distance is tabled."""
    return tuple(row["anchor"] for row in table("anchor_edges").rows)


class AnchorDistances(NamedTuple):
    """Least spacing and edge distance, m."""

    spacing: float
    edge: float


class Embedment(NamedTuple):
    """Least and greatest embedment, and the hole that goes with the embedment used, m."""

    least: float
    greatest: float
    hole: float


@formula(
    "Least spacing and edge distance of anchors",
    equation="spacing = 6 × diameter, edge = 6, 8 or 10 × diameter for anchor",
    results={"spacing": "length", "edge": "length"},
    source=ACI,
)
def anchor_distances(diameter: Length, anchor: str) -> AnchorDistances:
    """Distance between anchors and from the edge of the slab, where no sheet says less.

    spacing 6 d; edge 6 d undercut, 8 d torque-controlled, 10 d displacement-controlled

    Parameters
    ----------
    diameter : float
        Anchor diameter, 1/4 in to 1 in (6 mm to 25.4 mm), [m]
    anchor : str
        Kind of anchor

    Returns
    -------
    AnchorDistances
        Least spacing and edge distance, [m]

    Examples
    --------
    A 1/2 in wedge anchor: 3 in apart, 4 in from the edge:

    >>> [round(v / 0.0254, 6) for v in anchor_distances(0.0127, anchor_kinds()[0])]
    [3.0, 4.0]
    """
    within("diameter", diameter, "length", "mm", 6, 25.4)
    one_of("anchor", anchor, anchor_kinds())
    edge = table("anchor_edges").row("anchor", anchor)["edge"]
    return AnchorDistances(6 * diameter, edge * diameter)


@formula(
    "Embedment of anchors in a slab",
    equation="least, greatest and hole = 4 × diameter, larger of 2/3 × slab and slab - 4 in, "
    "embedment + 1/2 in",
    results={"least": "length", "greatest": "length", "hole": "length"},
    source=(ACI, NO_SHEET),
)
def anchor_embedment(diameter: Length, slab: Length, embedment: Length) -> Embedment:
    """How deep anchors may and must sit, and how deep the hole must be.

    h_ef at least 4 d, at most max(2/3 h, h - 4 in); hole 1/2 in (13 mm) deeper

    Parameters
    ----------
    diameter : float
        Anchor diameter, 1/4 in to 1 in (6 mm to 25.4 mm), [m]
    slab : float
        Thickness of the slab, [m]
    embedment : float
        Embedment used, [m]

    Returns
    -------
    Embedment
        Least and greatest embedment and hole depth, [m]

    Examples
    --------
    A 1/2 in anchor in a 6 in slab: 2 in to 4 in:

    >>> [round(v / 0.0254, 6) for v in anchor_embedment(0.0127, 6 * 0.0254, 3 * 0.0254)]
    [2.0, 4.0, 3.5]
    """
    within("diameter", diameter, "length", "mm", 6, 25.4)
    above_zero("slab", slab, "length", "in")
    above_zero("embedment", embedment, "length", "in")
    greatest = max(2 * slab / 3, slab - 4 * INCH)
    return Embedment(4 * diameter, greatest, embedment + INCH / 2)


@formula(
    "Torque against target",
    equation="share = applied / target",
    results="ratio",
    source=Source("definition", "computed"),
)
def torque_share(applied: Torque, target: Torque) -> float:
    """Torque applied over torque wanted.

    Parameters
    ----------
    applied : float
        Torque the wrench was set to, [N·m]
    target : float
        Torque wanted, 0.5 to 500 lbf·ft, [N·m]

    Returns
    -------
    float
        Applied over target, [-]

    Examples
    --------
    13 N·m on a target of 10 lbf·ft:

    >>> round(torque_share(13.0, 13.558179), 4)
    0.9588
    """
    above_zero("applied", applied, "torque", "lbf·ft")
    within("applied", applied, "torque", "lbf·ft", 0, 500)
    within("target", target, "torque", "lbf·ft", 0.5, 500)
    return applied / target


@formula(
    "Largest of the gaps",
    equation="largest = largest of gaps",
    results="length",
    source=Source("definition", "computed"),
)
def largest_gap(gaps: tuple[Length, ...]) -> float:
    """The gap or movement that decides.

    Parameters
    ----------
    gaps : tuple
        Gap or movement at each foot, 0 or more, [m]

    Returns
    -------
    float
        Largest of them, [m]

    Examples
    --------
    >>> largest_gap((0.0, 0.0002, 0.0001))
    0.0002
    """
    if not gaps:
        raise InputError("gaps", "nothing", "one for each foot")
    for gap in gaps:
        within("gaps", gap, "length", "mm", 0, 50)
    return max(gaps)
