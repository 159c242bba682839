"""What a line means: an answer or a command."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.dialogue.person import SMALL
from wizard.commands.dialogue.typed import COMMANDS, Typed, is_letter, understand
from wizard.errors import InputError
from wizard.procedure import procedure


@pytest.mark.parametrize(
    ("key", "line", "meant"),
    [
        ("lock.on", "n", Typed("", "n")),
        ("lock.on", "n later", Typed("n", "later")),
        ("lock.on", "x", Typed("", "x")),
        ("lock.on", "no", Typed("", "no")),
        ("motor.voltage", "s", Typed("s", "")),
        ("motor.voltage", "460 V", Typed("", "460 V")),
        ("motor.voltage", "g label", Typed("g", "label")),
        ("motor.phases", "s", Typed("s", "")),
        ("motor.phases", "n", None),
        ("motor.phases", "n later", Typed("n", "later")),
        ("motor.phases", "sin", Typed("", "sin")),
        ("motor.phases", "t", Typed("", "t")),
        ("motor.phases", "/s", Typed("s", "")),
        ("machine.label", "s", Typed("s", "")),
        ("machine.label", "n of the hall", Typed("", "n of the hall")),
        ("machine.label", "/note of the hall", Typed("n", "of the hall")),
        ("machine.label", "/n  x", Typed("n", "x")),
        ("machine.label", "/", None),
        ("machine.label", "/fly away", None),
        ("machine.label", "/n", None),
        ("machine.label", "/go", None),
    ],
)
def test_a_line_is_an_answer_or_a_command(key: str, line: str, meant: Typed | None) -> None:
    item = SMALL.items[key]
    if meant is None:
        with pytest.raises(InputError, match="accepted"):
            understand(item, line, "us")
    else:
        assert understand(item, line, "us") == meant


def test_no_letter_of_a_command_is_taken_for_a_choice_of_the_shipped_procedure() -> None:
    choices = [item for item in procedure().items.values() if item.kind == "choose"]
    assert len(choices) > 50
    for item in choices:
        for command in COMMANDS:
            if command.letter.upper() in item.options:
                assert understand(item, command.letter, "us") == Typed("", command.letter)
            elif command.needs_rest:
                with pytest.raises(InputError, match="the number or more of the words"):
                    understand(item, command.letter, "us")
            else:
                assert understand(item, command.letter, "us").command == command.letter


@given(st.sampled_from(sorted(SMALL.items)), st.text(max_size=40))
def test_every_line_means_something(key: str, line: str) -> None:
    try:
        typed = understand(SMALL.items[key], line.strip(), "us")
    except InputError as problem:
        assert line.strip().startswith("/") or is_letter(line.strip())
        assert str(problem)
    else:
        assert typed.command in {"", *(c.letter for c in COMMANDS)}
