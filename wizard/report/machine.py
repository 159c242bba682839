"""The machine: its plates, its settings as left, its pressures and its proof run.

Invariant: only what the record holds is said; what was not given is left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.pictures.choice import PRESSURES
from wizard.pictures.ladder import Rung
from wizard.pictures.scene import Scene
from wizard.report.blocks import Block, Bullets, Facts, Ladder, Para, Plot, Section, Table
from wizard.report.readings import Reader

PLATES = (
    ("Site and use", ("job.", "site.", "use.")),
    ("Machine", ("machine.",)),
    ("Motor", ("motor.",)),
    ("Pump", ("pump.",)),
    ("Receiver", ("receiver.",)),
    ("Relief valve", ("relief.",)),
    ("Pressure switch and hose", ("switch.", "hose.")),
)
LEAD_INS = ("Motor plate: ", "Pump: ", "Receiver plate: ", "Relief valve stamp: ", "Relief valve: ")
SETTINGS = (
    ("Cut-in", "handover.cut_in"),
    ("Cut-out", "handover.cut_out"),
    ("Relief valve opens at", "relief.set"),
    ("Overload", "overload.setting"),
    ("Line regulator", "handover.regulator"),
    ("Drain", "drain.kind"),
    ("Drained every", "drain.interval"),
    ("Drain open for", "drain.open_time"),
    ("Feet: torque", "foot.target"),
    ("Hour meter at handover", "visit.hour_meter"),
)
FITTED = (
    ("Oil filled", "oil.label"),
    ("Type of oil", "oil.type"),
    ("Grade of oil", "oil.grade"),
    ("Running hours between oil changes", "oil.change_interval"),
    ("Intake filter", "intake.filter"),
    ("Belt section", "belt.section"),
    ("Number of belts", "belt.count"),
    ("Belt length", "belt.length"),
)
LEFT = {"cut-in": "handover.cut_in", "cut-out": "handover.cut_out"}
PLATE = "switch.plate_"
KIT = "handover.kit_"
TRAINING = "handover.train_"


def plates(reader: Reader) -> Section:
    """All plates as they were read."""
    rows: list[tuple[str, ...]] = []
    for title, starts in PLATES:
        items = [
            i
            for i in reader.job.procedure.items.values()
            if i.phase == 1 and i.key.startswith(starts) and reader.has(i.key)
        ]
        if items:
            rows.append((title,))
            rows += [(_short(i.ask), reader.value(i)) for i in items]
    if not rows:
        return Section("The machine", ())
    return Section("The machine", (Table(("Plate", "As read"), tuple(rows), (50, 34), columns=2),))


def _short(ask: str) -> str:
    """A question as the name of a fact."""
    text = ask.partition(" (blank")[0]
    for lead_in in LEAD_INS:
        text = text.removeprefix(lead_in)
    return text[:1].upper() + text[1:]


def as_left(reader: Reader) -> Section:
    """Settings as left, and the pressures drawn to one scale."""
    blocks: list[Block] = _facts(reader, SETTINGS)
    rungs = tuple(_rungs(reader))
    if len(rungs) > 1:
        blocks.append(
            Para(
                "The pressures to one scale: cut-in below cut-out, cut-out below the relief valve, "
                "and the relief valve no higher than hose and receiver."
            )
        )
        blocks.append(Ladder(rungs))
    return Section("Settings as left", tuple(blocks))


def _facts(reader: Reader, names: tuple[tuple[str, str], ...]) -> list[Block]:
    """What is known of these, nothing where nothing is."""
    pairs = tuple(_pairs(reader, names))
    return [Facts(pairs)] if pairs else []


def _pairs(reader: Reader, names: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, str]]:
    for name, key in names:
        if text := reader.text(key):
            yield name, text


def _rungs(reader: Reader) -> Iterator[Rung]:
    items = reader.job.procedure.items
    for name, level, keys in PRESSURES:
        for key in filter(None, (LEFT.get(name), *keys)):
            if key in items and reader.has(key):
                scene = Scene(reader.job, items[key])
                value = scene.number(key)
                if value is not None:
                    text = scene.text(key)
                    if reader.system:
                        text = reader.quantity(value, items[key].quantity)
                    intended = " (intended)" if key.startswith(PLATE) else ""
                    yield Rung(f"{name}{intended}", value, text, level)
                    break


def runs(reader: Reader) -> Section:
    """Every run that was timed, drawn."""
    blocks: list[Block] = []
    for item in reader.job.procedure.items.values():
        if item.kind != "series" or not reader.has(item.key):
            continue
        answer = reader.job.answers[item.key]
        if not isinstance(answer.value, tuple):
            continue
        points = tuple((float(t), float(v)) for t, v in answer.value)  # type: ignore[misc]
        blocks.append(Plot(item.ask.partition(":")[0], points, answer.unit))
        found = reader.job.findings.get(item.key, ())
        blocks += [Para(finding.text) for finding in found if finding.check]
    return Section("Timed runs", tuple(blocks))


def fitted(reader: Reader) -> Section:
    """Consumables that are in the machine, and what was handed over for later."""
    kit = []
    for item in reader.job.procedure.items.values():
        if item.key.startswith(KIT) and reader.has(item.key):
            name = item.ask.removeprefix("Kit: ")
            kit.append(f"{name[:1].upper()}{name[1:]}: {reader.text(item.key)}")
    blocks: list[Block] = _facts(reader, FITTED)
    if kit:
        blocks += [Para("Start-up kit"), Bullets(tuple(kit))]
    return Section("Consumables", tuple(blocks))


def training(reader: Reader) -> Section:
    """Who was trained in what."""
    rows = []
    for item in reader.job.procedure.items.values():
        if item.key.startswith(TRAINING) and reader.has(item.key):
            name = item.ask.removeprefix("Training, signed: ")
            answer = reader.job.answers[item.key]
            given = "given" if answer.value is True else reader.text(item.key)
            rows.append((f"{name[:1].upper()}{name[1:]}", given, f"{answer.at:%Y-%m-%d}"))
    who = reader.text("handover.trainee")
    blocks: list[Block] = [Para(f"Trained: {who}.")] if who else []
    if rows:
        blocks.append(Table(("Subject", "", "Day"), tuple(rows), (56, 8, 10)))
    return Section("Training given", tuple(blocks))
