"""Where the two leads of a meter go, pair after pair.

Invariant: a lead is drawn on the terminal that the reading is named after, and the number of the
reading stands beside it.
"""

from __future__ import annotations

from collections.abc import Sequence

COLUMN = 9


def leads(pairs: Sequence[str], readings: Sequence[str], head: str, foot: str) -> list[str]:
    """The terminals side by side and a row for each pair, as "L1-L2".

    >>> for row in leads(["L1-L2", "L2-L3", "L3-L1"], ["241 V"], "Line side", "Red in V."):
    ...     print(row.rstrip())
    Line side
      L1       L2       L3
      ●────────●                 1  L1-L2  241 V
               ●────────●        2  L2-L3
      ●─────────────────●        3  L3-L1
    Red in V.
    """
    names = list(dict.fromkeys(name for pair in pairs for name in pair.split("-")))
    names.sort(key=lambda name: (name == "ground", name))
    width = COLUMN * len(names)
    rows = ["".join(f"{name:<{COLUMN}}" for name in names)]
    wide = max(len(pair) for pair in pairs)
    for number, pair in enumerate(pairs):
        first, last = sorted(names.index(name) * COLUMN for name in pair.split("-"))
        drawn = " " * first + "●" + "─" * (last - first - 1) + "●"
        read = readings[number] if number < len(readings) else ""
        rows.append(f"{drawn:<{width}}{number + 1}  {pair:<{wide}}  {read}")
    return [head, *(f"  {row}".rstrip() for row in rows), foot]
