"""Accuracies as data sheets print them."""

from __future__ import annotations

import pytest

from wizard.accuracy import with_accuracy
from wizard.errors import InputError
from wizard.instrument import Instrument

METER = Instrument("meter A", "voltmeter", "voltage")


@pytest.mark.parametrize(
    ("text", "resolution", "half_width"),
    [
        ("1 %", "", 4.0),
        ("1 % + 2 V", "", 6.0),
        ("±(0.5 % + 3 digits)", "0.1 V", 2.3),
        ("0.5 % rdg + 3 dgt", "0.1", 2.3),
        ("0.5% + 3 digits of 100 mV", "", 2.3),
        ("2 counts + 1 V", "1 V", 3.0),
        ("0.5 % of 600 V", "", 3.0),
    ],
)
def test_an_accuracy_is_taken_as_printed(text: str, resolution: str, half_width: float) -> None:
    meter = with_accuracy(METER, text, "V", resolution)
    assert meter.half_width(400.0) == pytest.approx(half_width)


def test_digits_without_their_size_are_refused_and_the_sentence_says_what_is_missing() -> None:
    with pytest.raises(InputError) as problem:
        with_accuracy(METER, "0.5 % + 3 digits", "V")
    assert str(problem.value) == (
        "accuracy: given 3 digits, accepted the size of a digit too, as 3 digits of 0.1 V."
    )
