"""Text for terminals and files that hold plain ASCII only.

Invariant: in `plain` one character becomes one character, so that nothing drawn to scale moves;
`spelled` is for text that is laid out after it, and what it writes can be typed as it stands.
"""

from __future__ import annotations

import re

_PAIRS = {
    "─━═╌┄┈‾¯–—−": "-",
    "│┃║╎┆┊¦": "|",
    "┌┐└┘├┤┬┴┼╭╮╰╯┏┓┗┛┣┫┳┻╋╔╗╚╝╠╣╦╩╬╞╡╪╫╨╥╧╤": "+",
    "╱": "/",
    "╲": "\\",
    "█▓■▪◆▮": "#",
    "●": "*",
    "▒░▄▀▌▐": ":",
    "○◌□▫◇◦": "o",
    "▲↑△": "^",
    "▼↓▽": "v",
    "►▶→›»▸": ">",
    "◄◀←‹«◂": "<",
    "·•∙‧⋅…": ".",
    "×✕✗": "x",
    "✓√": "v",
    "“”„″": '"',
    "‘’‚′`": "'",
    "±": "~",
    "≈≃": "~",
    "≤": "<",
    "≥": ">",
    "°": " ",
    "²": "2",
    "³": "3",
    "½¼¾": "/",
    "Ω": "R",
    "µμ": "u",
    "η": "n",
    "Δ": "d",
    "α": "a",
    "β": "b",
    "π": "p",
    "ρ": "r",
    "θ": "0",
    "Σ": "S",
    "\u00a0": " ",
}
SPELLED = {
    "°": "deg",
    "Ω": "ohm",
    "±": "+/-",
    "≤": "<=",
    "≥": ">=",
    "…": "...",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "π": "pi",
    "η": "eta",
    "α": "alpha",
    "β": "beta",
    "ρ": "rho",
    "θ": "theta",
}
"""What is typed where there is no such key; lengths are as they come."""

_SPELLED = {ord(char): word for char, word in SPELLED.items()}
_DOT_IN_UNIT = re.compile(r"(?<=\w)·(?=\w)")
_TABLE = {ord(char): plain for chars, plain in _PAIRS.items() for char in chars}


def plain(text: str) -> str:
    """`text` in ASCII, as long as before.

    >>> plain("207 V ├──●──┤ 253 V, 60 °F")
    '207 V +--*--+ 253 V, 60  F'
    >>> plain("Zoë")
    'Zo?'
    """
    if text.isascii():
        return text
    return "".join(c if c.isascii() else "?" for c in text.translate(_TABLE))


def spelled(text: str) -> str:
    """`text` with signs as they are typed on a keyboard that lacks them.

    >>> spelled("60 °F to 90°, 10 lbf·ft, 2 × π × r …")
    '60 degF to 90deg, 10 lbf-ft, 2 × pi × r ...'
    """
    return text if text.isascii() else _DOT_IN_UNIT.sub("-", text.translate(_SPELLED))
