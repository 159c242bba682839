"""Things that are looked at: sight glass, dipstick, belt and rule, torque scale, overload dial."""

from __future__ import annotations

from wizard.quantities import format_number

GLASS_ROWS = 8
_GLASS_MARKS = {2: "-- 3/4", 4: "-- 1/2"}
"""Rows just below these heights; a surface at the mark fills the row."""


def sight_glass(level: float, ascii_only: bool = False) -> tuple[str, ...]:
    """A round window with the oil in it; the marks are the middle and three quarters.

    >>> print("\\n".join(sight_glass(0.6, True)[1:-1]))
       .---------.
      /           \\
     |             |
     |             |-- 3/4
     |=============|
     |#############|-- 1/2
     |#############|
     |#############|
      \\###########/
       '---------'
    """
    lines = ["Sight glass, machine level and standing still", "   .---------."]
    for row in range(GLASS_ROWS):
        inside = _glass_cell(level, row, ascii_only)
        if row == 0:
            shape = f"  /{inside * 11}\\"
        elif row == GLASS_ROWS - 1:
            shape = f"  \\{inside * 11}/"
        else:
            shape = f" |{inside * 13}|"
        lines.append(shape + _GLASS_MARKS.get(row, ""))
    return (*lines, "   '---------'", _level_words(level))


def _glass_cell(level: float, row: int, ascii_only: bool) -> str:
    """What one row of the glass shows: oil, its surface at a part of the row, or nothing."""
    filled = level * GLASS_ROWS - (GLASS_ROWS - 1 - row)
    if ascii_only:
        return "#" if filled > 0.8 else "=" if filled > 0.5 else "." if filled > 0.1 else " "
    return " ▁▂▃▄▅▆▇█"[min(8, max(0, round(filled * 8)))]


def _level_words(level: float) -> str:
    if level < 0.02:
        return "No oil is seen."
    return "The glass is full; no surface is seen." if level > 0.98 else ""


def dipstick(level: float, ascii_only: bool = False) -> tuple[str, ...]:
    """A stick wiped, dipped and drawn; the wet end is the oil, L and H are its marks.

    Twenty columns lie from the low to the high mark, 5 % each.

    >>> print("\\n".join(dipstick(0.6, True)[1:3]))
              L         M         H
      <####################------------=====O
    """
    wet = "#" if ascii_only else "█"
    low, high, length = 8, 28, 32
    end = round(low + level * (high - low))
    body = "".join(wet if i < end else "-" for i in range(length))
    marks = " " * low + "L" + " " * 9 + "M" + " " * 9 + "H"
    return (
        "Dipstick, wiped, dipped and drawn; the tip is at the left",
        "  " + marks,
        f"  <{body}=====O",
        "L low mark, M middle, H high mark",
    )


def belt_and_rule(
    deflection: float, unit: str, step: float, numbered: int, ascii_only: bool = False
) -> tuple[str, ...]:
    """The belt pushed in the middle, and the rule across it laid along the straightedge.

    The rule is drawn lying down, five columns to a division; the belt's back is the arrow.
    """
    per, width = 5, 71
    ticks, numbers = [" "] * width, [" "] * (width + 6)
    first = max(0, int((deflection / step - 8) // numbered) * numbered)
    for i in range(width // per + 1):
        column = i * per
        ticks[column] = "|" if i % numbered == 0 else "'"
        if i % numbered == 0:
            words = format_number((first + i) * step)
            numbers[column : column + len(words)] = list(words)
    column = round((deflection / step - first) * per)
    arrow = "^" if ascii_only else "▲"
    return (
        "straightedge ___________________________________________",
        "        (motor)  o---.                       .---o  (pump)",
        "                      `---.             .---'",
        "                           `---. V .---'      pushed in the middle",
        f"back of the belt on the rule, from the straightedge down, in {unit}:",
        "".join(numbers).rstrip(),
        "".join(ticks).rstrip(),
        " " * column + arrow,
    )


def torque_scale(
    set_to: float, unit: str, step: float, ascii_only: bool = False
) -> tuple[str, ...]:
    """The handle of a click wrench: main scale and turning sleeve, as it is set."""
    whole = int(set_to // (10 * step)) * 10 * step
    rest = round((set_to - whole) / step)
    low = max(0.0, whole - 10 * step)
    marks = [low + i * 10 * step for i in range(4)]
    rungs = [f"  {format_number(m):>5} |{'======' if m == whole else '---'}" for m in marks]
    return (
        f"Torque wrench, {unit}: main scale, and sleeve of {format_number(step)} a mark",
        *rungs,
        f"  sleeve  {' '.join(f'[{n}]' if n == rest else str(n) for n in range(10))}",
    )


def overload_dial(
    set_to: float, low: float, high: float, ascii_only: bool = False
) -> tuple[str, ...]:
    """The setting dial of an overload relay, in amperes of motor current."""
    width, steps = 60, 6
    numbers, ticks = [" "] * (width + 6), [" "] * (width + 1)
    for i in range(steps * 5 + 1):
        column = round(i * width / (steps * 5))
        ticks[column] = "|" if i % 5 == 0 else "'"
        if i % 5 == 0:
            words = format_number(low + (high - low) * i / (steps * 5), 4)
            numbers[column : column + len(words)] = list(words)
    column = round((min(max(set_to, low), high) - low) / (high - low) * width)
    return (
        "Overload relay, dial in amperes of motor current",
        "".join(numbers).rstrip(),
        "".join(ticks).rstrip(),
        " " * column + ("^" if ascii_only else "▲"),
    )
