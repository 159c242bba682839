"""A small procedure with every kind of item, for tests of the job and what is built on it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from wizard.actions import Hand
from wizard.job import Header, Job
from wizard.procedure.item import Procedure
from wizard.procedure.loader import build

TEXTS = 'why = "Because."\nhow = "So."\nmistake = "Not so."'

PLATES = f"""
[phase]
number = 1
title = "Plates"
place = "At the machine"
risk = "None."

[[item]]
key = "motor.phases"
ask = "Phases of the motor"
kind = "choose"
options = ["single", "three"]
severity = "handover"
{TEXTS}

[[item]]
key = "motor.voltage"
ask = "Nameplate voltage as connected"
kind = "measure"
quantity = "voltage"
unit = "V"
accept = ["100 V", "690 V"]
severity = "handover"
{TEXTS}

[[item]]
key = "machine.label"
ask = "What the machine is called on site"
kind = "write"
severity = "advisory"
{TEXTS}
"""

SUPPLY = f"""
[phase]
number = 2
title = "Supply"
place = "At the starter"
risk = "Live parts."

[[item]]
key = "lock.on"
ask = "Lock and tag on the disconnect"
kind = "confirm"
severity = "safety"
caution = "Licensed electrician."
{TEXTS}

[[item]]
key = "wire.colours"
ask = "Conductor colours match the diagram"
kind = "choose"
options = ["as the diagram", "different, recorded", "not checked"]
bad = ["not checked"]
advise = ["different, recorded"]
severity = "handover"
{TEXTS}

[[item]]
key = "pads.count"
ask = "Pads under the feet"
kind = "count"
accept = ["0", "8"]
severity = "handover"
when = {{ "motor.phases" = "three" }}
{TEXTS}
"""

START = f"""
[phase]
number = 3
title = "Start"
place = "At the machine"
risk = "Moving parts."
strict = true

[[item]]
key = "gauge.reading"
ask = "Gauge with the drain open"
kind = "measure"
quantity = "gauge pressure"
unit = "psi"
metric = "bar"
likely = ["0 psi", "200 psi"]
words = {{ "unreadable" = "fail" }}
severity = "handover"
{TEXTS}

[[item]]
key = "vent.time"
ask = "Time for the head to vent"
kind = "time"
quantity = "time"
unit = "s"
severity = "handover"
{TEXTS}

[[item]]
key = "pump.series"
ask = "Pressure while pumping up"
kind = "series"
quantity = "gauge pressure"
unit = "psi"
severity = "handover"
{TEXTS}

[[item]]
key = "start.date"
ask = "Day of first use"
kind = "date"
severity = "handover"
{TEXTS}
"""

START_TIME = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def small_procedure() -> Procedure:
    """Three phases, the last of them strict."""
    return build({"01_plates.toml": PLATES, "02_supply.toml": SUPPLY, "03_start.toml": START})


def new_job(units: str = "us") -> Job:
    """An empty job on the small procedure."""
    return Job.new(Header("T1", "0" * 32, START_TIME, units), small_procedure())


def hand(minutes: float = 0, by: str = "Tess Tester") -> Hand:
    """Somebody acting so many minutes after the start."""
    return Hand(by, START_TIME + timedelta(minutes=minutes))
