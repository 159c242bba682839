"""Items and calculations, told and made."""

from __future__ import annotations

import re

import pytest

from tests.cli.command import CALCULATIONS, FAILED, GOOD, UNREADABLE, data, one_sentence, run
from wizard.procedure import procedure


def test_items_are_the_procedure() -> None:
    found = data("items", "--json")["items"]
    assert [i["key"] for i in found] == list(procedure().items)
    named = {"phase", "key", "kind", "ask", "unit", "severity", "when", "checks", "why", "how"}
    for item in found:
        assert {*named, "mistake", "caution"} <= set(item)
        for rule in item["checks"]:
            assert set(rule["source"]) == {"text", "mark"}
            assert rule["name"] in CALCULATIONS
    status, out, _ = run("items")
    assert status == GOOD
    assert all(f" {key} " in out for key in procedure().items)


def test_every_calculation_is_listed_and_described() -> None:
    found = data("calc", "--list", "--json")["calculations"]
    assert {c["name"] for c in found} == set(CALCULATIONS)
    for one in found:
        assert {"name", "title", "parameters", "results", "source"} <= set(one)
        assert data("calc", one["name"], "--json") == one
        for parameter in one["parameters"]:
            assert {"name", "unit", "about"} <= set(parameter)
    status, out, _ = run("calc", "supply_voltage")
    assert status == GOOD
    assert "nameplate=" in out
    assert "source:" in out


def test_inputs_are_described_as_they_are_typed() -> None:
    for name in CALCULATIONS:
        _, out, _ = run("calc", name)
        inputs = [line for line in out.splitlines() if line.startswith("  ")]
        assert not [line for line in inputs if re.search(r"\[(Pa|m3/s|K|r/s|-)\]", line)]
        assert "text (text)" not in out and "()" not in out
    _, out, _ = run("calc", "relief_set_pressure")
    assert "psig, bar(g)" in out
    _, out, _ = run("calc", "grounding_conductor")
    assert "size=  Grounding conductor, AWG or mm² (needed: words)" in out
    _, out, _ = run("calc", "voltage_unbalance")
    assert "one or more numbers in V, mV or kV" in out


def test_a_check_and_a_formula_as_json() -> None:
    words = ("nameplate=230 V", "measured=241 V", "--json")
    found = data("calc", "supply_voltage", *words)
    assert found["verdict"] == "PASS"
    assert found["limit"]["unit"] == "V"
    assert found["limit"]["low"] == pytest.approx(207.0)
    assert found["inputs"]["nameplate"] == {"value": 230.0, "unit": "V"}
    assert set(found["source"]) == {"text", "mark"}
    band = data("calc", "voltage_band", "nameplate=230 V", "--json")
    assert band["verdict"] is None
    assert set(band["results"]) == {"low", "high"}
    assert band["result"] == band["results"]["low"]


@pytest.mark.parametrize(
    ("measured", "status"), [("241 V", GOOD), ("300 V", FAILED), ("x", UNREADABLE)]
)
def test_the_status_of_a_check_is_its_verdict(measured: str, status: int) -> None:
    assert run("calc", "supply_voltage", "nameplate=230", f"measured={measured}")[0] == status


@pytest.mark.parametrize(
    "words",
    [
        ("nothing_known",),
        ("supply_voltage", "nameplate=230"),
        ("supply_voltage", "volts=230"),
        ("supply_voltage", "nameplate"),
        ("supply_voltage", "nameplate=230", "measured="),
        ("supply_voltage", "nameplate=230 \x1b[31m", "measured=1"),
    ],
)
def test_a_calculation_that_cannot_be_made_is_one_sentence(words: tuple[str, ...]) -> None:
    status, out, err = run("calc", *words)
    assert (status, out) == (UNREADABLE, "")
    assert "accepted" in one_sentence(err)
