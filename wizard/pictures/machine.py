"""The machine where people would rather look than read: lifting, wall and air, oil, belt.

Invariant: what is said to be to scale is; a cell is taken as twice as high as it is wide.
"""

from __future__ import annotations

import math

LIFT_ROWS = 4
GLASS = ("full", "3/4", "1/2", "1/4", "empty")
STICK_TIP, STICK = 3, 24
"""Cells of a dipstick below its low mark, and from the low mark to the high one."""
NEEDED = 20
"""Cells of the least gap."""


def oil_glass(level: float | None) -> list[str]:
    """The oil in a sight glass or on a dipstick, `level` from 0 to 1, and where it must be.

    >>> for row in oil_glass(0.6): print(row)
    full  ┌─────┐
    3/4   │     │ ┐ here,
    1/2   │▒▒▒▒▒│ ┘ no lower
    1/4   │▒▒▒▒▒│
    empty └─────┘
    """
    words = ("", " ┐ here,", " ┘ no lower", "", "")
    rows = []
    for number, (name, word) in enumerate(zip(GLASS, words, strict=True)):
        at = 1 - number / 4
        left, right = {0: ("┌", "┐"), 4: ("└", "┘")}.get(number, ("│", "│"))
        empty = "─" if number in (0, 4) else " "
        filled = level is not None and level >= at - 0.125
        half = filled and level is not None and level < at
        fill = empty if not filled or number == 4 else "▄" if half else "▒"
        rows.append(f"{name:<5} {left}{fill * 5}{right}{word}")
    return rows


def dipstick(level: float | None) -> list[str]:
    """The oil on a dipstick, `level` from 0 at the low mark to 1 at the high one.

    >>> for row in dipstick(0.6): print(row)
          low         1/2   3/4   high
    tip ▒▒▒├▒▒▒▒▒▒▒▒▒▒▒┼▒▒───┼─────┤════╡ handle
                       └here─┘
    """
    stick = ["─"] * (STICK_TIP + STICK + 1)
    wet = -1 if level is None else STICK_TIP + round(max(0.0, level) * STICK)
    for cell in range(min(wet + 1, len(stick)) if wet >= STICK_TIP else 0):
        stick[cell] = "▒"
    for share, mark in ((0.0, "├"), (0.5, "┼"), (0.75, "┼"), (1.0, "┤")):
        stick[STICK_TIP + round(share * STICK)] = mark
    return [
        "      low         1/2   3/4   high",
        f"tip {''.join(stick)}════╡ handle",
        "                   └here─┘",
    ]


def lift(angle: float, angle_text: str, tension_text: str = "") -> list[str]:
    """Slings from the base plate to the hook, to scale for `angle` from the horizontal (rad).

    >>> for row in lift(1.0472, "60°"): print(row.rstrip())
                       hook
                        ╱ ╲                legs 60° from the horizontal
                       ╱   ╲
                     ╱       ╲             no hook or strap on the motor,
                    ╱         ╲            its eye bolt or the pump
                 ══╧═══════════╧══  base plate: slings here
    """
    reach = max(1, min(16, round(2 * LIFT_ROWS / math.tan(angle))))
    centre = 21
    words = {
        0: f"legs {angle_text} from the horizontal",
        1: tension_text,
        2: "no hook or strap on the motor,",
        3: "its eye bolt or the pump",
    }
    rows = [" " * (centre - 2) + "hook"]
    for number in range(LIFT_ROWS):
        out = round(reach * (number + 1) / LIFT_ROWS)
        row = " " * (centre - out) + "╱" + " " * (2 * out - 1) + "╲"
        word = words.get(number, "")
        rows.append(f"{row:<{centre + 16}}  {word}".rstrip())
    half = reach + 3
    plate = "".join("╧" if abs(x) == reach + 1 else "═" for x in range(-half, half + 1))
    rows.append(" " * (centre - half) + plate + "  base plate: slings here")
    return rows


def wall_gap(
    gap: float | None, gap_text: str, least: float, least_text: str, *, fan: bool = True
) -> list[str]:
    """Wall and machine seen from above, the gap to scale beside the least one; the way of the air.

    `fan`: the flywheel faces the wall, else the pump does.

    >>> for row in wall_gap(0.36, "14 in", 0.305, "12 in"): print(row.rstrip())
    wall ║   ▼ air in             ┌──────┬────────
         ║◄─────── 14 in ────────►│ fan ► pump ► air out
         ║   ▲ air in             └──────┴────────
         ║◄─ at least 12 in ─►│
    """
    per_cell = least / NEEDED
    free = 24 if gap is None else max(1, min(44, round(gap / per_cell)))
    known = gap_text if gap is not None else "?"
    way = "│ fan ► pump ► air out" if fan else "│ pump ◄ fan ◄ air in"
    words, above, below = ("air in", "▼", "▲") if fan else ("warm air out", "▲", "▼")
    return [
        f"wall ║{_air(above, words, free)}┌──────┬────────",
        f"     ║{_arrow(known, free)}{way}",
        f"     ║{_air(below, words, free)}└──────┴────────",
        f"     ║{_arrow(f'at least {least_text}', NEEDED)}│",
    ]


def _air(way: str, words: str, cells: int) -> str:
    text = f"   {way} {words}" if cells > len(words) + 6 else way
    return f"{text:<{cells}}"[:cells]


def _arrow(text: str, cells: int) -> str:
    room = cells - 2
    if room < len(text) + 2:
        return f"{text[:cells]:^{cells}}"
    return "◄" + f" {text} ".center(room, "─") + "►"


def belt(push_text: str, span_text: str) -> list[str]:
    """A belt pushed at mid-span; not to scale.

    >>> for row in belt("0.34 in", "22 in"): print(row.rstrip())
    motor ╭──╮      ◄─ span 22 in ─►      ╭────╮ pump
          │  ├────────╲       ╱───────────┤    │
          │  │         ╲▄▄▄▄▄╱ 0.34 in    │    │
          ╰──╯────────────────────────────╰────╯  not to scale
    """
    span = f"◄─ span {span_text} ─►" if span_text else ""
    push = f"{push_text:<10}"[:14]
    return [
        f"motor ╭──╮{span:^28}╭────╮ pump",
        "      │  ├────────╲       ╱───────────┤    │",
        f"      │  │         ╲▄▄▄▄▄╱ {push:<11}│    │",
        "      ╰──╯────────────────────────────╰────╯  not to scale",
    ]
