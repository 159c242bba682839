"""Choosing from a list: a number never means another option than the one it stands before."""

from __future__ import annotations

import pytest

from wizard.answer import parse
from wizard.errors import InputError
from wizard.procedure import procedure
from wizard.procedure.item import Item

CHOICES = [i for i in procedure().items.values() if i.kind == "choose"]


@pytest.mark.parametrize("item", CHOICES, ids=lambda i: i.key)
def test_every_option_can_be_typed(item: Item) -> None:
    assert [parse(item, option, "us").value for option in item.options] == list(item.options)


@pytest.mark.parametrize("item", [i for i in CHOICES if i.numbered], ids=lambda i: i.key)
def test_a_number_is_the_option_it_stands_before(item: Item) -> None:
    numbers = range(1, len(item.options) + 1)
    assert [parse(item, str(n), "us").value for n in numbers] == list(item.options)


def test_poles_are_poles_and_not_places_in_the_list() -> None:
    poles = procedure().items["motor.poles"]
    assert not poles.numbered
    assert parse(poles, "2", "us").value == "2"
    with pytest.raises(InputError, match=r"3.*2; 4; 6"):
        parse(poles, "3", "us")
