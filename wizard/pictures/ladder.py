"""The pressures of a machine drawn to one scale, in the order they must stand.

Invariant: the bars are to scale and the order is also said in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rung:
    """One pressure: its name, its value for the scale and its text in the reader's unit.

    A rung must stand above all of a lower `level`; those of one level do not mind each other.
    """

    name: str
    value: float
    text: str
    level: int


LONGEST = 24
"""Cells of a bar; a longer one says no more and costs three bytes a cell over a slow link."""


def ladder(rungs: Sequence[Rung], width: int) -> list[str]:
    """Bars of the pressures; `rungs` come lowest first, as they ought to stand.

    >>> lines = ladder([Rung("cut-out", 125, "125 psi", 1), Rung("relief valve", 150, "150 psi", 2),
    ...                 Rung("hose", 130, "130 psi", 3)], 60)
    >>> for line in lines: print(line)
    hose          130 psi ████████████████ below relief valve
    relief valve  150 psi ██████████████████
    cut-out       125 psi ███████████████
    """
    if not rungs:
        return []
    names = max(len(r.name) for r in rungs)
    texts = max(len(r.text) for r in rungs)
    most = max(r.value for r in rungs)
    words = [ladder_word(rungs, place) for place in range(len(rungs))]
    room = width - names - texts - 4 - (max(len(w) for w in words) + 1 if any(words) else 0)
    bars = min(LONGEST, max(8, room))
    lines = []
    for rung, word in zip(reversed(rungs), reversed(words), strict=True):
        bar = "█" * max(1, round(max(0.0, rung.value) / most * bars)) if most > 0 else ""
        lines.append(f"{rung.name:<{names}}  {rung.text:>{texts}} {bar} {word}".rstrip())
    return lines


def ladder_word(rungs: Sequence[Rung], place: int) -> str:
    """The nearest lower rung that stands above this one, in words."""
    own = rungs[place]
    above = [r for r in rungs[:place] if r.level < own.level and r.value > own.value]
    return f"below {max(above, key=lambda r: r.value).name}" if above else ""
