"""What a calculation refuses is told in the units of both systems, whatever it is given."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from typing import Any

import pytest

from tests.proof.evidence import calculations
from wizard.both_units import both, both_range, units_of
from wizard.errors import InputError
from wizard.formula import Described, Parameter
from wizard.kinds import KINDS
from wizard.procedure import procedure

USUAL = {
    "voltage": 460.0,
    "current": 12.0,
    "power": 7457.0,
    "gauge pressure": 8e5,
    "absolute pressure": 101325.0,
    "pressure difference": 2500.0,
    "stress": 2e8,
    "temperature": 293.15,
    "temperature difference": 8.0,
    "length": 0.3,
    "area": 1e-4,
    "volume": 0.3,
    "mass": 400.0,
    "force": 60.0,
    "torque": 20.0,
    "angle": 1.0,
    "speed": 20.0,
    "rotational speed": 15.0,
    "time": 60.0,
    "flow": 0.02,
    "resistance": 5e6,
    "frequency": 60.0,
    "kinematic viscosity": 1e-4,
    "sound level": 85.0,
    "apparent power": 5e5,
    "ratio": 0.5,
}
FAR = (-1.0, 0.0, 1e-6, 1e6, float("nan"))
TWO = {k for k in KINDS if units_of(k)[0] != units_of(k)[1]}
PAIRS = {units_of(k, u.symbol) for k in TWO for u in KINDS[k].units}
US = {us for us, metric in PAIRS if us != metric}
METRIC = {metric for us, metric in PAIRS if us != metric}
BASE = {KINDS[k].base for k in TWO} - US - METRIC
QUANTITY = re.compile(
    r"-?\d[\d.e+]*(?: [\d/]+)? ("
    + "|".join(sorted(map(re.escape, US | METRIC | BASE), key=len, reverse=True))
    + r")(?![\w/²³·])"
)
NAMES = re.compile(
    r"“[^”]*”|\d+ °C insulation|60 °C; 75 °C; 90 °C|at (?:100|40) °C|in quarter turns"
)
"""What bears the name of a unit and is no quantity."""


def _value(parameter: Parameter, words: dict[str, str]) -> Any:
    plain = {"text": words.get(parameter.name, "?"), "flag": True, "count": 2}
    if parameter.kind in plain:
        return plain[parameter.kind]
    if parameter.kind == "date":
        return date(2026, 3, 1)
    if parameter.kind == "series":
        return ((0.0, 7e5), (60.0, 8e5))
    one = USUAL.get(parameter.kind, 1.0)
    return (one, one, one) if parameter.many else one


def _called(spec: Described, inputs: dict[str, Any]) -> str:
    """What the calculation refuses to do with these inputs; empty where it does it."""
    try:
        spec.function(**inputs)
    except InputError as problem:
        return str(problem)
    return ""


def _words(spec: Described) -> dict[str, str]:
    """A word for each input that wants one of a few, learnt from the refusals."""
    words: dict[str, str] = {}
    for _ in range(12):
        inputs = {p.name: _value(p, words) for p in spec.parameters}
        said = re.fullmatch(r"(.+): given “\?”, accepted ([^;]+).*", _called(spec, inputs))
        missing = [p.name for p in spec.parameters if p.kind == "text" and p.name not in words]
        if said is None or not missing:
            break
        named = said[1].replace(" ", "_")
        words[named if named in missing else missing[0]] = said[2].rstrip(".")
    return words


def _refusals(spec: Described) -> Iterator[str]:
    """What is said to inputs of which one is far off, or bears the wrong relation to another."""
    words = _words(spec)
    usual = {p.name: _value(p, words) for p in spec.parameters}
    given = {p.name: usual[p.name] for p in spec.parameters if not p.optional}
    for inputs in (usual, given):
        yield _called(spec, inputs)
        for parameter in spec.parameters:
            if parameter.kind not in KINDS:
                continue
            for factor in FAR:
                off = USUAL.get(parameter.kind, 1.0) * factor
                changed = inputs | {parameter.name: (off, off, off) if parameter.many else off}
                with suppress(ArithmeticError, ValueError):
                    yield _called(spec, changed)


@pytest.mark.parametrize("name", sorted(calculations()))
def test_a_refusal_shows_no_unit_of_one_system_alone(name: str) -> None:
    for said in set(_refusals(calculations()[name])):
        shown = set(QUANTITY.findall(NAMES.sub("", said)))
        assert bool(shown & US) == bool(shown & METRIC), said
        assert not shown & BASE, said
        assert not re.search(r"\b(hp|kw|mm|psi|viscosity_\d+): given", said), said


def test_most_calculations_were_made_to_refuse() -> None:
    refused = [n for n, spec in calculations().items() if any(_refusals(spec))]
    assert len(refused) > 0.8 * len(calculations())


def test_a_value_is_shown_in_the_units_in_which_its_item_is_asked() -> None:
    asked = {
        (i.quantity, i.unit_in("us"), i.unit_in("metric"))
        for i in procedure().items.values()
        if i.measured and i.quantity in ("length", "torque", "stress", "mass", "volume")
    }
    for kind, us, metric in asked - {("length", "mil", "mm"), ("torque", "lbf·in", "N·m")}:
        assert units_of(kind, us) == (us, metric)


def test_a_range_is_told_once_where_the_units_are_the_same() -> None:
    assert both(460.0, "voltage") == "460 V"
    assert both_range(0.0, 86400.0, "time", "h") == "0 h to 24 h"
    assert both(288.15, "temperature") == "59 °F (15 °C)"
