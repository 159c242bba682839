"""Text from outside is shown so that nothing in it acts."""

from __future__ import annotations

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from wizard.text import MAX_SHOWN, show

BIDI = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI", "BN"}


@given(st.text(alphabet=st.characters(codec=None)))
def test_nothing_shown_can_act(text: str) -> None:
    shown = show(text)
    assert shown.isprintable()
    assert not {unicodedata.bidirectional(c) for c in shown} & BIDI
    assert len(shown) >= len(text)
    shown.encode("utf-8")


def test_every_control_and_format_character_is_visible() -> None:
    hidden = [chr(n) for n in range(0x110000) if unicodedata.category(chr(n)) in ("Cc", "Cf", "Cs")]
    assert len(hidden) > 2200
    for char in hidden:
        shown = show(char)
        assert shown != char and len(shown.strip()) >= 1, hex(ord(char))


def test_what_a_technician_writes_is_shown_as_it_is() -> None:
    for text in (
        "4.2 bar, 3/8″ — “as found” ±10 %",
        "Größe 中文 هوا 🔧",
        "[bold red]PASS[/]",
        "e\u0301",
        "",
    ):
        assert show(text) == text
    assert show("4\u00a0bar") == "4 bar"


def test_invisible_letters_are_given_their_number() -> None:
    assert show("PA\u3164SS\u200b") == "PA‹U+3164›SS‹U+200B›"


def test_long_text_is_cut_and_says_so() -> None:
    assert show("x" * (MAX_SHOWN + 1)) == "x" * (MAX_SHOWN - 1) + "…"
    assert show("x" * MAX_SHOWN) == "x" * MAX_SHOWN


def test_an_exception_and_a_path_are_text_too() -> None:
    assert show(ValueError("no\x1b[0m")) == "no␛[0m"
