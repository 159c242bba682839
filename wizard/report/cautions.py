"""What the people who use the machine must know, in plain words.

Invariant: a caution stands whatever the machine measured; values of this machine make it plainer.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.report.blocks import Bullets, Para, Section
from wizard.report.readings import Reader


def cautions(reader: Reader) -> Section:
    """The cautions with the values of this machine in them."""
    who = reader.text("handover.contact")
    call = f" Whom to call: {who}." if who else ""
    return Section(
        "Before you use it",
        (
            Para("Read this to everybody who works at the machine." + call),
            Bullets(tuple(_sentences(reader))),
        ),
    )


def _sentences(reader: Reader) -> Iterator[str]:
    relief, cut_out = reader.text("relief.set"), reader.text("handover.cut_out")
    at = f" It opens at {relief}." if relief else ""
    left = f" It was left at {cut_out}." if cut_out else ""
    yield "The machine starts by itself whenever the pressure falls. Keep hands and clothes away."
    yield (
        "Before any work on it: switch off, lock the disconnect with your own lock, drain the tank "
        "until the gauge shows nothing and no air comes, and try to start it."
    )
    yield f"Never plug, cap, tie down or re-set the relief valve.{at} Lift it by its lever weekly."
    yield f"Never raise the pressure switch.{left} If the pressure is too low, call."
    yield "Drain the tank daily, while it is warm, until only air comes; catch the oily water."
    yield "Never run it with the belt guard off, and never reach into the belts."
    yield "The head, the line to the tank and the motor burn skin. Let them cool."
    yield (
        "The air is not for breathing. Never aim it at anybody, at skin or at clothes: air under "
        "the skin can kill. Wear eye protection at a blow gun."
    )
    yield (
        "Use only hose and tools rated at or above the relief setting. Shut off and let the air "
        "out of a hose before you uncouple it."
    )
    yield "Wear ear protection where it is loud: if you must raise your voice, it is."
    yield (
        "Never open a live panel: a licensed electrician does. Never weld, drill or heat the tank: "
        "a damaged tank is for a pressure-vessel inspector."
    )
    yield (
        "Stop it at once for a new knock, for smoke, for a leak at the tank, or when the gauge "
        "passes the cut-out, and call."
    )
    yield "Local codes and the papers of the builder come before this sheet."
