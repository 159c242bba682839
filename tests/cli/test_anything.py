"""Whatever is typed is answered in order."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.cli.command import CALCULATIONS, FAILED, GOOD, UNFINISHED, UNREADABLE, one_sentence, run
from wizard.formula import PLAIN_KINDS, Parameter
from wizard.kinds import KINDS
from wizard.procedure import procedure
from wizard.store import read_job

NUMBERS = st.sampled_from(
    ["0", "1", "-1", "0,5", "1/2", "3 1/2", "1e5", "999999999999999", ".001", "7..2", "", "x"]
)
TEXTS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["yes", "no", "US", "IEC", "three", "A", "[/]", "\x1b[31m", "2026-02-30"]),
)


def typed(parameter: Parameter) -> st.SearchStrategy[str]:
    """Something that might be typed for a parameter."""
    if parameter.kind in KINDS:
        units = st.sampled_from([u.symbol for u in KINDS[parameter.kind].units])
        numbers = st.lists(NUMBERS, max_size=4) if parameter.many else NUMBERS.map(lambda n: [n])
        return st.one_of(st.tuples(numbers, units).map(lambda p: f"{' '.join(p[0])} {p[1]}"), TEXTS)
    if parameter.kind in PLAIN_KINDS:
        return st.one_of(TEXTS, NUMBERS, st.just("0 100; 30 112"), st.just("2026-03-01"))
    return TEXTS


@st.composite
def calculations(draw: st.DrawFn) -> list[str]:
    """A command line of calc."""
    spec = CALCULATIONS[draw(st.sampled_from(sorted(CALCULATIONS)))]
    words = [
        f"{p.name}={draw(typed(p))}"
        for p in spec.parameters
        if not p.optional or draw(st.booleans())
    ]
    return ["calc", spec.name, *words, *draw(st.sampled_from([[], ["--json"]]))]


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(calculations())
def test_calc_answers_anything_in_order(words: list[str]) -> None:
    status, out, err = run(*words)
    assert status in (GOOD, UNFINISHED, FAILED, UNREADABLE)
    assert "\x1b" not in out + err
    if status == UNREADABLE:
        assert out == ""
        one_sentence(err)
    elif words[-1] == "--json":
        json.loads(out, parse_constant=lambda word: pytest.fail(word))


FIRST = [i for i in procedure().items.values() if i.phase == 1]


@settings(
    deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.one_of(
        st.tuples(st.sampled_from([i.key for i in FIRST]), TEXTS | NUMBERS).map("=".join), TEXTS
    )
)
def test_enter_answers_anything_in_order(word: str) -> None:
    if word.startswith("-"):
        return
    for left in Path().glob("*F1.toml*"):
        left.unlink()
    run("new", "F1")
    status, out, err = run("enter", "F1.toml", word)
    assert status in (GOOD, UNFINISHED, FAILED, UNREADABLE)
    assert "\x1b" not in out + err
    if status == UNREADABLE:
        one_sentence(err)
    assert not read_job(Path("F1.toml"), procedure()).grave
