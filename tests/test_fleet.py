"""Comparison of many jobs."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from wizard.fleet import Entry, alike, copied, spread, strip


def entry(n: int, value: float, who: str = "T", **readings: str) -> Entry:
    return Entry(f"J{n}.toml", f"J{n}", who, "Mill", "5 hp", {"leak rate": value}, readings)


JOBS = [entry(n, v) for n, v in enumerate((1.0, 1.1, 0.9, 1.05, 0.95, 4.0))]


def test_the_odd_one_out_is_named_and_a_small_group_names_nobody() -> None:
    got = spread(JOBS, "leak rate")
    assert got and [e.job for _, e in got.outliers()] == ["J5"]
    few = spread([*JOBS[:3], JOBS[5]], "leak rate")
    assert few and few.outliers() == ()
    assert spread(JOBS, "pump-up ratio") is None


@given(st.lists(st.floats(0.1, 10.0), min_size=5, max_size=20), st.floats(1.1, 50.0))
def test_the_rule_does_not_depend_on_the_unit(values: list[float], factor: float) -> None:
    one = spread([entry(n, v) for n, v in enumerate(values)], "leak rate")
    other = spread([entry(n, v * factor) for n, v in enumerate(values)], "leak rate")
    assert one and other
    for (value, _), (scaled, _) in zip(one.values, other.values, strict=True):
        if one.mad > 1e-9:
            assert abs(one.score(value) - other.score(scaled)) < 1e-4


def test_this_job_is_marked_in_the_strip() -> None:
    got = spread(JOBS, "leak rate")
    assert got
    line = strip(got, JOBS[5], 40, ascii_only=True)
    assert line[-1] == "X" and line.count("X") == 1 and len(line) == 40


def test_copied_readings_are_seen_only_within_one_technician() -> None:
    same = {f"k{n}": f"23{n}.4" for n in range(10)}
    differs = {**same, "k0": "1", "k1": "2", "k2": "3", "k3": "4", "k4": "5"}
    jobs = [
        entry(1, 1, "A", **same),
        entry(2, 1, "A", **same),
        entry(3, 1, "B", **same),
        entry(4, 1, "A", **differs),
    ]
    assert [(c.first, c.second, c.same) for c in copied(jobs)] == [("J1.toml", "J2.toml", 10)]


def test_jobs_are_grouped_by_model_or_site() -> None:
    other = Entry("K.toml", "K", "T", "Yard", "5 hp")
    assert len(alike([*JOBS, other], JOBS[0], "model")) == 7
    assert len(alike([*JOBS, other], JOBS[0], "site")) == 6
