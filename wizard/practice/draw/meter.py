"""Meters with a figure display: a multimeter with its switch and jacks, and a clamp."""

from __future__ import annotations

from collections.abc import Sequence


def multimeter(
    shown: str, unit: str, function: str, scale: str, red: str, lead: Sequence[str]
) -> tuple[str, ...]:
    """The meter's face: what it shows, where its switch stands, where its leads are."""
    switch = f"switch  {function}, range {scale}"
    jacks = "  ".join(
        f"({'*' if name == red or name == 'COM' else ' '}) {name}" for name in ("10A", "COM", "VΩ")
    )
    return (
        "+--------------------------------+",
        "|  +--------------------------+  |",
        f"|  | {shown:>16}   {unit:<4}  |  |",
        "|  +--------------------------+  |",
        f"|  {switch:<29} |",
        f"|  {jacks:<29} |",
        "+--------------------------------+",
        f"   red lead on {lead[0]}, black lead on {lead[1]}",
    )


def clamp(shown: str, scale: str, around: str, jaw: str) -> tuple[str, ...]:
    """The clamp around its wires, with its display."""
    open_jaw = jaw != "closed"
    wires = {"one wire": "  o  ", "all wires": " ooo "}[around]
    return (
        "      ____",
        f"    /{'    ' if open_jaw else ' __ '}\\",
        f"   | {'(' if not open_jaw else ' '}{wires}{')' if not open_jaw else ' '} |     "
        f"jaws {jaw}, around {around}",
        "    \\ ____ /",
        "   +--------+",
        f"   |{shown:>6} A|     range {scale}",
        "   +--------+",
    )


def display(value: float, decimals: int, full: float) -> str:
    """Figures as a meter shows them: fixed decimals, OL above its range."""
    return "OL" if abs(value) > full else f"{value:.{decimals}f}"


def small_display(title: str, shown: str, unit: str) -> tuple[str, ...]:
    """A pocket instrument with a figure display."""
    face = f" {shown:>8} {unit:<6} "
    edge = "+" + "-" * len(face) + "+"
    return (title, edge, f"|{face}|", edge)


def card(title: str, text: str) -> tuple[str, ...]:
    """A slip of paper with one line written on it."""
    width = max(len(title), len(text), 20)
    edge = "." + "-" * (width + 2) + "."
    return (edge, f"| {title:<{width}} |", f"| {text:<{width}} |", "'" + "-" * (width + 2) + "'")
