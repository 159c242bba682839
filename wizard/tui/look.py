"""The looks: what each role looks like, in full colour, high contrast or the terminal's own.

Invariant: no meaning hangs on colour alone, so the look without colours loses nothing. All
colours are of the 256 that every terminal has, because naming one takes half the bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from rich.style import Style
from textual.theme import Theme


@dataclass(frozen=True)
class Look:
    """Colours of the ground and a style for every role."""

    name: str
    ink: str
    ground: str
    roles: dict[str, str]

    @cached_property
    def styles(self) -> dict[str, Style]:
        """The style of each role, on the ground where it names no other."""
        base = Style() if self.own else Style(color=self.ink, bgcolor=self.ground)
        return {role: base + Style.parse(text) for role, text in self.roles.items()}

    @property
    def own(self) -> bool:
        """Whether the terminal's own colours are used."""
        return self.ground == "ansi_default"

    @property
    def theme(self) -> Theme:
        """The ground as the stylesheet needs it."""
        return Theme(
            name=self.name,
            primary=self.ink,
            foreground=self.ink,
            background=self.ground,
            surface=self.ground,
            panel=self.ground,
            ansi=self.own,
            variables={"ansi-background": "ansi_black", "ansi-foreground": "ansi_white"},
        )


_DEFAULT = {
    "text": "",
    "dim": "#a8a8a8",
    "strong": "bold #ffffff",
    "ask": "bold #ffffff",
    "key": "#d7af5f",
    "pass": "bold #87d787",
    "advise": "bold #ffd75f",
    "fail": "bold #ff8787",
    "hold": "bold #ffffff on #af0000",
    "caution": "#ffaf5f",
    "field": "#ffffff on #005f5f",
    "cursor": "#000000 on #ffd787",
    "mark": "bold #ffd787",
    "band": "#5fd7d7",
    "rule": "#87afaf",
    "select": "#000000 on #afd7d7",
    "error": "bold #ff8787",
}
_CONTRAST = {
    "text": "",
    "dim": "#dadada",
    "strong": "bold",
    "ask": "bold",
    "key": "bold #ffff00",
    "pass": "bold #5fff5f",
    "advise": "bold #ffff00",
    "fail": "bold #ff8787",
    "hold": "bold #000000 on #ffff00",
    "caution": "bold #ffff00",
    "field": "bold #000000 on #ffffff",
    "cursor": "#ffffff on #0000af",
    "mark": "bold #ffff00",
    "band": "bold #5fffff",
    "rule": "#ffffff",
    "select": "bold #000000 on #ffffff",
    "error": "bold #ff8787",
}
_TERMINAL = {
    "text": "",
    "dim": "",
    "strong": "bold",
    "ask": "bold",
    "key": "bold",
    "pass": "bold",
    "advise": "bold",
    "fail": "bold red",
    "hold": "bold reverse red",
    "caution": "bold",
    "field": "underline",
    "cursor": "reverse",
    "mark": "bold",
    "band": "",
    "rule": "",
    "select": "reverse",
    "error": "bold red",
}
_PLAIN = {role: text.replace(" red", "") for role, text in _TERMINAL.items()}

LOOKS = {
    look.name: look
    for look in (
        Look("default", "#dadada", "#1c1c1c", _DEFAULT),
        Look("contrast", "#ffffff", "#000000", _CONTRAST),
        Look("terminal", "ansi_default", "ansi_default", _TERMINAL),
        Look("plain", "ansi_default", "ansi_default", _PLAIN),
    )
}
"""The three looks by name, and the one without any colour."""


def look_for(name: str, no_color: bool) -> Look:
    """The look asked for; without colours where NO_COLOR is set."""
    return LOOKS["plain" if no_color else name]
