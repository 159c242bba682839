"""A sentence for everything that will not work, or not well."""

from __future__ import annotations

from typing import Any

from wizard.self_check.facts import Facts
from wizard.text import show

TOO_FAST = 0.02
"""Milliseconds under which a flush cannot have reached a disk; our judgement."""
TOO_SLOW = 500.0
"""Milliseconds from which accepting an answer is felt; our judgement."""
IN_MEMORY = ("tmpfs", "ramfs")
SMALLEST = (60, 20)
"""Cells that the screens need."""


def remarks(found: Facts) -> list[str]:
    """A sentence for everything that will not work, or not well."""
    compiled = found["tool"]["compiled"]
    return [
        *([] if compiled else ["The program is not compiled where it is: it starts slower."]),
        *_terminal_remarks(found["terminal"], found["locale"]),
        *_folder_remarks(found["folders"], found["disk"]),
        *_key_remarks(found["keys"]),
        *_clock_remarks(found["clock"]),
        *found["settings"]["warnings"],
    ]


def _terminal_remarks(terminal: dict[str, Any], spoken: dict[str, Any]) -> list[str]:
    said = []
    if terminal["TERM"] in (None, "", "dumb"):
        said.append("TERM names no terminal with a screen: the tool asks in plain lines.")
    elif not terminal["stdin is a terminal"] or not terminal["stdout is a terminal"]:
        said.append("Input or output is no terminal: the tool asks in plain lines.")
    width, height = terminal["columns"], terminal["rows"]
    if width and height and (width < SMALLEST[0] or height < SMALLEST[1]):
        said.append(
            f"{width} by {height} cells are less than the {SMALLEST[0]} by {SMALLEST[1]} that are "
            "needed: make the window larger or the letters smaller."
        )
    if terminal["over SSH"] and terminal["multiplexer"] is None:
        said.append(
            "Over SSH without tmux or screen: a lost connection ends the tool; the record is safe."
        )
    if "utf" not in str(spoken["encoding"]).lower() or spoken["shown in"] == "ASCII":
        said.append(
            "The locale has plain ASCII only: drawings and signs are shown in its characters."
        )
    return said


def _folder_remarks(folders: dict[str, Any], disk: dict[str, Any]) -> list[str]:
    lost = {
        "settings": "settings cannot be written",
        "state": "drafts and rescue copies cannot be kept",
        "cache": "every start takes longer",
        "current": "no job can be made or changed here",
    }
    said = [
        f"{show(folder['path'])} is not writable: {lost[name]}."
        for name, folder in folders.items()
        if not folder["writable"]
    ]
    kind, flush = folders["current"]["file system"], disk["flush ms"]
    if flush is not None and (flush < TOO_FAST or kind in IN_MEMORY):
        said.append(
            f"The folder answers a flush in {flush:g} ms, which is suspiciously fast for a disk "
            f"({kind or 'unknown file system'}): after a power cut the last answers may be missing."
        )
    if flush is not None and flush > TOO_SLOW:
        said.append(f"The folder needs {flush:.0f} ms for a flush: every answer waits that long.")
    if disk["locks"] is False:
        said.append("The folder knows no locks: two people may change one job without noticing.")
    return said


def _key_remarks(keys: dict[str, Any]) -> list[str]:
    if keys["signing"] != "works":
        return [f"Sign-offs with a key are not possible: ssh-keygen, {keys['signing']}."]
    return []


def _clock_remarks(clock: dict[str, Any]) -> list[str]:
    said = []
    if clock["behind the program"]:
        said.append("The clock is behind the date of the program: set it before you record.")
    if not clock["boot known"]:
        said.append("The system tells no boot: a stopwatch does not survive the end of the tool.")
    return said
