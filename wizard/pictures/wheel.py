"""The flywheel and its arrow, seen from the side that the arrow is on.

Invariant: which way is right and which is wrong is said in words.
"""

from __future__ import annotations

AGREES, DIFFERS = "as the arrow", "against the arrow"


def flywheel(turns: str = "") -> list[str]:
    """The arrow on the guard and the way the spokes go; `turns` is the answer where there is one.

    >>> for row in flywheel("against the arrow"): print(row.rstrip())
       arrow on the guard
            ───────►        guard on; switch on and off within a second
           ╭───────╮        watch the spokes while the wheel runs out
         ╭╯    │    ╰╮
         │  ───●───  │        ───────►  as the arrow: air over the cylinders
         ╰╮    │    ╭╯      ► ◄───────  against it: stop, lock off;
           ╰───────╯                    the electrician swaps two motor leads
    """
    good, bad = (">" if turns == known else " " for known in (AGREES, DIFFERS))
    words = (
        "",
        "guard on; switch on and off within a second",
        "watch the spokes while the wheel runs out",
        "",
        f"{good} ───────►  as the arrow: air over the cylinders",
        f"{bad} ◄───────  against it: stop, lock off;",
        "            the electrician swaps two motor leads",
    )
    wheel = (
        "   arrow on the guard",
        "        ───────►",
        "       ╭───────╮",
        "     ╭╯    │    ╰╮",
        "     │  ───●───  │",
        "     ╰╮    │    ╭╯",
        "       ╰───────╯",
    )
    return [
        f"{drawn:<24}{said.replace('>', '►')}".rstrip()
        for drawn, said in zip(wheel, words, strict=True)
    ]
