"""Instruments of a job: what they are, how far they can be trusted, until when.

The uncertainty of a reading follows from the instrument's stated accuracy; a limit is then judged
with a guard band as wide as that uncertainty (guarded acceptance, JCGM 106:2012 8.3.2, from
memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from wizard.sources import Source

DECISION_RULE = Source("guarded acceptance, JCGM 106:2012 8.3.2", "memory")


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument; accuracies are half widths.

    `of_reading` and `of_scale` are ratios, `full_scale` and `fixed` are SI of `quantity`.
    """

    name: str
    kind: str
    quantity: str = ""
    of_reading: float = 0.0
    of_scale: float = 0.0
    full_scale: float = 0.0
    fixed: float = 0.0
    calibration_due: date | None = None

    @property
    def accuracy_known(self) -> bool:
        """Whether an uncertainty can be given at all."""
        return bool(self.of_reading or (self.of_scale and self.full_scale) or self.fixed)

    def half_width(self, reading: float) -> float:
        """Half width of the band around `reading` (SI) in which the true value lies.

        >>> Instrument("gauge", "pressure gauge", "gauge pressure", of_scale=0.01,
        ...            full_scale=2e6).half_width(1e6)
        20000.0
        """
        return abs(reading) * self.of_reading + self.full_scale * self.of_scale + self.fixed

    def expired(self, day: date) -> bool:
        """Whether the calibration had run out on `day`."""
        return self.calibration_due is not None and day > self.calibration_due
