"""A logger's CSV file becomes an answer, and what was odd in it is said."""

from __future__ import annotations

import pytest

from tests.small import small_procedure
from wizard.errors import InputError
from wizard.logger_file import KEPT_ROWS, read_log

ITEM = small_procedure().items["pump.series"]


def log(text: str, **units: str) -> tuple[tuple[tuple[float, float], ...], str, tuple[str, ...]]:
    got = read_log(ITEM, text, "log.csv", "us", units)
    assert isinstance(got.parsed.value, tuple)
    return got.parsed.value, got.parsed.unit, got.remarks  # type: ignore[return-value]


def test_reads_units_from_the_header() -> None:
    rows, unit, remarks = log("time (s),pressure (bar)\n0,1.0\n10,1.5\n20,2.0\n")
    assert rows == ((0.0, 1.0), (10.0, 1.5), (20.0, 2.0))
    assert unit == "bar(g)" and remarks == ()


def test_reads_semicolons_decimal_commas_and_clock_times() -> None:
    rows, unit, _ = log("Elapsed;Pressure [psi]\n0:05;100,5\n0:35;112,5\n1:05;124\n")
    assert rows == ((0.0, 100.5), (30.0, 112.5), (60.0, 124.0))
    assert unit == "psig"


def test_reads_time_stamps() -> None:
    rows, _, _ = log(
        "timestamp,pressure_psi\n2026-03-02T08:00:00+01:00,1\n2026-03-02T08:00:30+01:00,2\n"
        "2026-03-02T08:01:00+01:00,3\n"
    )
    assert [t for t, _ in rows] == [0.0, 30.0, 60.0]


def test_a_unit_can_be_given_where_the_header_has_none() -> None:
    text = "time,pressure\n0,1\n1,2\n2,3\n"
    with pytest.raises(InputError, match="without a unit"):
        log(text)
    assert log(text, pressure="bar")[1] == "bar(g)"


def test_repeated_times_gaps_and_noise_are_said() -> None:
    steady = "".join(f"{t},{100 + t}\n" for t in range(10))
    rows, _, remarks = log(f"time (s),pressure (psi)\n{steady}9,111\n60,160\n")
    assert dict(rows)[9.0] == 110.0
    assert remarks[0].startswith("1 repeated times") and "widest 51 s after 9 s" in remarks[1]
    noisy = "".join(f"{t},{100 + t + (8 if t % 2 else 0)}\n" for t in range(30))
    assert "scatter" in log(f"time (s),pressure (psi)\n{noisy}")[2][0]


def test_a_long_log_is_averaged_and_says_so() -> None:
    text = "time (s),pressure (psi)\n" + "".join(f"{t / 10},{t / 10}\n" for t in range(3000))
    rows, _, remarks = log(text)
    assert len(rows) == KEPT_ROWS and "every 5 in a row" in remarks[0]
    assert rows[-1][1] - rows[0][1] == pytest.approx(rows[-1][0] - rows[0][0])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "0 lines"),
        ("time (s),pressure (psi)\n0,1\n5,2\n4,3\n", "time 4 s after 5 s"),
        ("time (s),pressure (psi)\n0,1\n5,abc\n", "line 3"),
        ("time (s),pressure (psi)\n0,1\n5\n", "line 3"),
        ("time (s),pressure (volt)\n0,1\n5,2\n", "volt"),
        ("a,b\n0,1\n5,2\n", "one time and one gauge pressure column"),
    ],
)
def test_a_bad_file_is_one_sentence_with_its_line(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        log(text)
