"""Every calculation is proved against something outside the project."""

from __future__ import annotations

import doctest
import inspect

import pytest

from tests.proof.evidence import calculations, proofs, worst
from tests.proof.model import Proof
from wizard.formula import FORMULAS
from wizard.sources import PLAIN


@pytest.mark.parametrize("proof", list(proofs()), ids=lambda p: f"{p.calculation}: {p.oracle}")
def test_agrees_with_its_oracle(proof: Proof) -> None:
    assert proof.calculation in calculations(), "no such calculation"
    assert len(list(proof.cases())) > 0
    assert worst(proof) <= proof.tolerance


@pytest.mark.parametrize("name", sorted(calculations()))
def test_has_proof_source_mark_and_explained_inputs(name: str) -> None:
    spec = calculations()[name]
    assert any(p.calculation == name for p in proofs()), "nothing outside the project agrees yet"
    assert spec.sources, "no source"
    assert all(s.text and s.mark in PLAIN for s in spec.sources)
    for parameter in spec.parameters:
        assert parameter.about, f"{parameter.name} is not explained"


@pytest.mark.parametrize("name", sorted(n for n in calculations() if n in FORMULAS))
def test_formula_carries_a_worked_example(name: str) -> None:
    doc = inspect.getdoc(FORMULAS[name].function) or ""
    assert doctest.DocTestParser().get_examples(doc), "no example in the docstring"
