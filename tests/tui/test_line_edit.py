"""The line being edited: whatever is typed or pasted, it stays one visible line."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from wizard.text import show
from wizard.tui.line_edit import MAX_LENGTH, LineEdit

ANYTHING = st.text(max_size=40)


@given(st.lists(ANYTHING, max_size=6), st.integers(-9, 9))
def test_no_typed_or_pasted_text_hides_anything(pieces: list[str], step: int) -> None:
    edit = LineEdit()
    for piece in pieces:
        edit = edit.insert(piece).move(step)
    assert all(show(c) == c for c in edit.text)
    assert 0 <= edit.cursor <= len(edit.text)


@given(st.text("abc 12漢", max_size=30), st.integers(0, 30), st.integers(3, 20))
def test_the_window_fits_and_holds_the_cursor(text: str, back: int, width: int) -> None:
    edit = LineEdit.of(text).move(-back)
    before, under, after = edit.window(width)
    assert cell_len(before + under + after) <= width
    assert (before + under + after).strip() in edit.text or not edit.text
    assert under == (edit.text[edit.cursor : edit.cursor + 1] or " ")


@given(st.text("abc", max_size=9), st.integers(0, 9))
def test_backspace_takes_back_what_was_typed(text: str, back: int) -> None:
    edit = LineEdit.of(text).move(-back)
    assert edit.insert("x").backspace() == edit
    assert edit.insert("x").move(-1).delete() == edit


def test_a_line_has_an_end() -> None:
    assert len(LineEdit().insert("x" * 99_999).text) == MAX_LENGTH
