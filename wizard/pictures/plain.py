"""Text for terminals and files that hold plain ASCII only.

Invariant: one character becomes one character, so that nothing drawn to scale moves.
"""

from __future__ import annotations

_PAIRS = {
    "─━═╌┄┈‾¯–—−": "-",
    "│┃║╎┆┊¦": "|",
    "┌┐└┘├┤┬┴┼╭╮╰╯┏┓┗┛┣┫┳┻╋╔╗╚╝╠╣╦╩╬╞╡╪╫╨╥╧╤": "+",
    "╱": "/",
    "╲": "\\",
    "█▓■▪●◆▮": "#",
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
_TABLE = {ord(char): plain for chars, plain in _PAIRS.items() for char in chars}


def plain(text: str) -> str:
    """`text` in ASCII, as long as before.

    >>> plain("207 V ├──●──┤ 253 V, 60 °F")
    '207 V +--#--+ 253 V, 60  F'
    >>> plain("Zoë")
    'Zo?'
    """
    if text.isascii():
        return text
    return "".join(c if c.isascii() else "?" for c in text.translate(_TABLE))
