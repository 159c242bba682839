"""Checks of place, floor, anchors and labels: verdicts on both sides of a published limit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import numpy as np

from tests.proof.model import Proof
from tests.proof.site import HANDOVER, NOTE, PASS, SAFETY, Pairs, said, si
from tests.units import UNITS
from wizard.checks.anchoring import anchor_layout, anchor_torque, back_off, preload_stress
from wizard.checks.calibration import calibration_in_date
from wizard.checks.feet import foot_gap, shim_stack, soft_foot
from wizard.checks.floor import floor_bearing, floor_load, machine_level
from wizard.checks.jurisdiction import electrical_practice
from wizard.checks.location import room_temperature, wall_clearance
from wizard.checks.ventilation import louver_area, room_warming, ventilation_air
from wizard.checks.working_space import (
    panel_headroom,
    panel_width,
    panel_working_space,
    supply_to_ground,
)

WEDGE = "torque-controlled (wedge or sleeve)"


def _walls() -> Pairs:
    for text, verdict in (
        ("11.9 in", HANDOVER),
        ("12 in", NOTE),
        ("305 mm", NOTE),
        ("24 in", PASS),
    ):
        yield said(wall_clearance(si(text, "m"))), verdict


def _table_s1() -> Pairs:
    printed = {
        (120.0, "live"): 3.0, (150.0, "grounded"): 3.0, (277.0, "nothing"): 3.0,
        (277.0, "grounded"): 3.5, (277.0, "live"): 4.0,
    }  # fmt: skip
    for (volts, opposite), feet in printed.items():
        yield said(panel_working_space(si(f"{feet} ft", "m"), volts, opposite)), PASS
        yield said(panel_working_space(si(f"{feet - 0.01} ft", "m"), volts, opposite)), SAFETY
    for millimetres, verdict in ((699.0, SAFETY), (700.0, PASS), (900.0, PASS)):
        depth = si(f"{millimetres} mm", "m")
        yield said(panel_working_space(depth, 231.0, "grounded", "IEC")), verdict


def _practices() -> Pairs:
    published = {"United States": "US", "European Union": "IEC", "United Kingdom": "IEC"}
    for place, own in published.items():
        for practice in ("US", "IEC"):
            verdict = PASS if practice == own else HANDOVER
            yield said(electrical_practice(place, practice)), verdict


def _widths() -> Pairs:
    yield said(panel_width(si("30 in", "m"))), PASS
    yield said(panel_width(si("29.9 in", "m"))), SAFETY
    yield said(panel_width(si("30 in", "m"), si("36 in", "m"))), SAFETY
    yield said(panel_width(0.7, None, "IEC")), PASS
    yield said(panel_width(0.699, None, "IEC")), SAFETY


def _heights() -> Pairs:
    yield said(panel_headroom(si("6.5 ft", "m"))), PASS
    yield said(panel_headroom(si("6.49 ft", "m"))), SAFETY
    yield said(panel_headroom(2.0, None, "IEC")), PASS
    yield said(panel_headroom(1.99, None, "IEC")), SAFETY


def _to_ground() -> Pairs:
    wye = "wye with grounded neutral"
    for line, printed in ((208.0, "120"), (480.0, "277"), (600.0, "346")):
        yield f"{supply_to_ground(line, wye).results['to_ground']:.0f}", printed


def _rooms() -> Pairs:
    for fahrenheit, verdict in (
        (31.9, HANDOVER), (39.0, HANDOVER), (40.0, PASS), (104.0, PASS), (104.2, HANDOVER),
        (114.0, HANDOVER), (115.1, SAFETY),
    ):  # fmt: skip
        kelvin = float(UNITS.Quantity(fahrenheit, "degF").to("K").magnitude)
        yield said(room_temperature(kelvin)), verdict


def _rises() -> Pairs:
    for rise, verdict in ((-3.0, PASS), (8.0, PASS), (8.1, HANDOVER)):
        yield said(room_warming(300.0 + rise, 300.0)), verdict


def _air_needed() -> Pairs:
    """Sensible heat of air by pint, with the density of a perfect gas at 40 °C."""
    heat = UNITS.Quantity(10.0, "hp") / 0.9
    density = UNITS.Quantity(101325.0 / (287.055 * 313.15), "kg/m**3")
    capacity = UNITS.Quantity(1006.0, "J/(kg*kelvin)")
    needed = float((heat / (density * capacity * UNITS.Quantity(8.0, "kelvin"))).to("m**3/s").m)
    power = si("10 hp", "W")
    for factor, verdict in ((0.999, HANDOVER), (1.001, PASS)):
        found = ventilation_air(power, 0.0, 313.15, 303.15, needed * factor, 0.9)
        yield found.results["needed"], needed
        yield said(found), verdict


def _louvers() -> Pairs:
    flow = si("1200 foot**3/minute", "m**3/s")
    for feet_a_minute, verdict in ((499.0, PASS), (501.0, HANDOVER)):
        gross = si(f"{1200 / feet_a_minute / 0.45} ft**2", "m**2")
        yield said(louver_area(flow, gross, 0.45)), verdict


def _floors() -> Pairs:
    weight, length, width = si("1650 lb", "kg"), si("48 in", "m"), si("30 in", "m")
    for psf, verdict in ((125, SAFETY), (164.9, SAFETY), (165, PASS), (250, PASS)):
        rating = si(f"{psf} lbf/ft**2", "Pa")
        yield said(floor_load(weight, length, width, rating)), verdict
    yield said(floor_load(weight, length, width)), "INCONCLUSIVE"


def _bearing() -> Pairs:
    """1650 lb on four pads at 0.35 of 3000 psi: 0.589 in2 each is just enough."""
    weight, strength = si("1650 lb", "kg"), si("3000 psi", "Pa")
    exact = 1650 * 1.5 / 4 / 1050
    for area, verdict in ((exact * 1.001, PASS), (exact * 0.999, SAFETY)):
        yield said(floor_bearing(weight, "four", si(f"{area} in**2", "m**2"), strength)), verdict


def _levels() -> Pairs:
    for eighths, verdict in ((1.0, PASS), (1.01, NOTE), (2.0, NOTE), (2.01, HANDOVER)):
        rise = si(f"{eighths / 8 * 2} in", "m")
        yield said(machine_level(rise, si("2 ft", "m"))), verdict
    yield said(machine_level(0.001, 1.0, "away from the drain")), HANDOVER


def _torques() -> Pairs:
    target = si("10 lbf*ft", "N*m")
    for pounds, verdict in ((9.0, PASS), (8.9, HANDOVER), (11.0, PASS), (11.1, HANDOVER),
                            (15.0, HANDOVER), (15.1, SAFETY)):  # fmt: skip
        applied = (target, si(f"{pounds} lbf*ft", "N*m"))
        yield said(anchor_torque(applied, target)), verdict


def _proof_load() -> Pairs:
    """M12 8.8: 75 % of the printed proof load of 48 900 N, by T = K F d at K 0.20."""
    torque = 0.20 * 0.75 * 48_900.0 * 0.012
    yield said(preload_stress(torque * 0.998, "M12", "8.8")), PASS
    yield said(preload_stress(torque * 1.002, "M12", "8.8")), HANDOVER


def _quarter_turn() -> Pairs:
    quarter = si("0.25 turn", "radian")
    found = back_off(quarter, "jam nut", si("10 lbf*ft", "N*m"), "3/8-16", si("4 in", "m"))
    yield found.results["travel"], si("0.015625 in", "m")
    yield said(found), PASS
    yield said(back_off(quarter, "not locked")), HANDOVER
    yield said(back_off(0.0, "jam nut")), HANDOVER


def _layouts() -> Pairs:
    """ACI 318-19 17.9 for a 1/2 in wedge anchor in a 6 in slab: 3 in, 4 in, at most 4 in deep."""
    inch = 0.0254
    cases = {
        (3.0, 4.0, 3.0): PASS, (2.9, 4.0, 3.0): HANDOVER, (3.0, 3.9, 3.0): HANDOVER,
        (3.0, 4.0, 4.0): PASS, (3.0, 4.0, 4.1): HANDOVER, (3.0, 4.0, 1.9): HANDOVER,
    }  # fmt: skip
    for (spacing, edge, depth), verdict in cases.items():
        found = anchor_layout(
            WEDGE, 0.5 * inch, spacing * inch, edge * inch, depth * inch, 6 * inch
        )
        yield said(found), verdict


def _gaps() -> Pairs:
    for thousandths, verdict in ((20, PASS), (21, HANDOVER)):
        yield said(foot_gap((0.0, si(f"{thousandths / 1000} in", "m")))), verdict


def _soft_feet() -> Pairs:
    for thousandths, verdict in ((2.0, PASS), (2.1, HANDOVER)):
        yield said(soft_foot((0.0, si(f"{thousandths / 1000} in", "m")))), verdict


def _shims() -> Pairs:
    yield said(shim_stack(5)), PASS
    yield said(shim_stack(6)), HANDOVER
    yield said(shim_stack(1, False)), HANDOVER


def _labels() -> Iterator[tuple[float | str, float | str]]:
    visit = date(2026, 3, 2)
    for due in (date(2026, 3, 1), date(2026, 3, 2), date(2026, 3, 9), date(2027, 3, 1)):
        days = int((np.datetime64(due) - np.datetime64(visit)).astype(int))
        found = calibration_in_date(due, visit)
        yield found.results["days_left"], float(days)
        yield said(found), HANDOVER if days < 0 else NOTE if days < 7 else PASS


PROOFS = [
    Proof("wall_clearance", "pint, 12 in and 305 mm", _walls),
    Proof(
        "electrical_practice",
        "29 CFR 1910 Subpart S; HD 60364 and BS 7671 as national forms of IEC 60364",
        _practices,
    ),
    Proof("panel_working_space", "29 CFR 1910.303 Table S-1; IEC 60364-7-729 gangway", _table_s1),
    Proof("panel_width", "NEC 110.26(A)(2), 30 in; IEC 60364-7-729 gangway", _widths),
    Proof("panel_headroom", "NEC 110.26(A)(3), 6 1/2 ft; IEC 60364-7-729 gangway", _heights),
    Proof("supply_to_ground", "printed system voltages 208Y/120, 480Y/277", _to_ground),
    Proof("room_temperature", "pint, 104 °F and 115 °F", _rooms),
    Proof("room_warming", "subtraction in kelvin", _rises),
    Proof("ventilation_air", "pint, sensible heat of air", _air_needed, 1e-9),
    Proof("louver_area", "pint, 500 ft/min through the free area", _louvers),
    Proof("floor_load", "pint, 165 lbf/ft2", _floors),
    Proof("floor_bearing", "arithmetic in psi at 0.35 of the strength", _bearing),
    Proof("machine_level", "1/8 in and 1/4 in per foot by pint", _levels),
    Proof("anchor_torque", "pint, 10 lbf·ft", _torques),
    Proof("preload_stress", "ISO 898-1 printed proof load of M12 8.8", _proof_load),
    Proof("back_off", "pint, a quarter of 1/16 in", _quarter_turn, 1e-9),
    Proof("anchor_layout", "ACI 318-19 17.9, 1/2 in wedge anchor in 6 in", _layouts),
    Proof("foot_gap", "pint, 0.020 in", _gaps),
    Proof("soft_foot", "pint, 0.002 in", _soft_feet),
    Proof("shim_stack", "counting", _shims),
    Proof("calibration_in_date", "numpy calendar", _labels),
]
