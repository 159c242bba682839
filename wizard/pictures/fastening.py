"""Feet on pads and joints between wrenches, where a hand learns by looking.

Invariant: the order of work is in words beside the drawing; nothing is said by a line alone.
"""

from __future__ import annotations


def foot(torque_text: str = "", turned_text: str = "") -> list[str]:
    """An anchored foot in section, and the quarter turn seen from above; not to scale.

    >>> for row in foot("10 lbf·ft"): print(row.rstrip())
               ┌─┐                            nut from above
             ┌─┴─┴─┐ lock nut                   ┊ mark
             ├─────┤ nut                       ╭┴╮
           ──┴─────┴── washer              ┄┄┄┄┤○│  back to here: 90°
      ═════════╡ ╞═════════╗ foot of           ╰─╯
          ▒▒▒▒▒│ │▒▒▒▒▒    ║ the tank      1 all feet snug, crosswise: 10 lbf·ft
      ─────────│ │───────────── floor      2 one nut back a quarter turn
               ╰─╯  pad ▒ stays round      3 lock nut against it
    """
    snug = f"1 all feet snug, crosswise: {torque_text}" if torque_text else "1 all feet snug"
    turned = f"back to here: {turned_text or '90°'}"
    rows = (
        ("           ┌─┐", "   nut from above"),
        ("         ┌─┴─┴─┐ lock nut", "     ┊ mark"),
        ("         ├─────┤ nut", "    ╭┴╮"),
        ("       ──┴─────┴── washer", f"┄┄┄┄┤○│  {turned}"),
        ("  ═════════╡ ╞═════════╗ foot of", "    ╰─╯"),
        ("      ▒▒▒▒▒│ │▒▒▒▒▒    ║ the tank", snug),
        ("  ─────────│ │───────────── floor", "2 one nut back a quarter turn"),
        ("           ╰─╯  pad ▒ stays round", "3 lock nut against it"),
    )
    return [f"{section:<39}{above}" for section, above in rows]


def two_wrenches() -> list[str]:
    """One wrench holds the valve while the other turns the fitting.

    >>> for row in two_wrenches(): print(row.rstrip())
             ║ wrench 1: holds             ║ wrench 2: turns
             ║ ◄── push                    ║ pull ──►
          ┌──╨───┐                     ┌───╨───┐
     ═════╡ valve╞═══════════════════▓▓╡fitting╞═════
     tank └──────┘                thread└───────┘  hose
     one wrench alone twists the tank boss, the manifold or the check valve
    """
    return [
        "         ║ wrench 1: holds             ║ wrench 2: turns",
        "         ║ ◄── push                    ║ pull ──►",
        "      ┌──╨───┐                     ┌───╨───┐",
        " ═════╡ valve╞═══════════════════▓▓╡fitting╞═════",
        " tank └──────┘                thread└───────┘  hose",
        " one wrench alone twists the tank boss, the manifold or the check valve",
    ]
