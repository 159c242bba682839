"""The exception tree; every message is one sentence that can be shown as it is.

WizardError
├── InputError          something typed or bound cannot be used: what, given, accepted
│   ├── QuantityError   text that is not a number with an accepted unit
│   └── OutsideValidity inputs are sound, but the formula or table does not reach there
├── Refused             the gate holds: a failed safety item, or an order that must be kept
├── ProcedureError      a phase file is wrong; the tool does not start on it
├── RecordError         a job file cannot be used: which file, what is wrong, where
│   ├── RecordDamaged   seal, history or syntax is broken
│   │   └── Misnamed    sound, but under a name that is not that of its job
│   └── RecordNewer     written by a newer version; can be read, not written
└── StoreError          saving or locking failed
    ├── LockedElsewhere somebody else has the job open
    └── Conflict        the file on disk is not the one that was opened
"""

from __future__ import annotations


class WizardError(Exception):
    """Base of all errors that a person can cause or cure."""


class InputError(WizardError):
    """One input cannot be used.

    >>> str(InputError("motor voltage", "-3 V", "100 V to 690 V"))
    'motor voltage: given -3 V, accepted 100 V to 690 V.'
    """

    def __init__(self, what: str, given: str, accepted: str) -> None:
        super().__init__(f"{what}: given {given}, accepted {accepted}.")
        self.what, self.given, self.accepted = what, given, accepted


class QuantityError(InputError):
    """Typed text is not a number with an accepted unit."""


class OutsideValidity(InputError):
    """Sound inputs outside the range of a formula or table."""


class Refused(WizardError):
    """The job does not take this now; the message says why and what clears it."""


class ProcedureError(WizardError):
    """A phase file is inconsistent."""


class RecordError(WizardError):
    """A job file cannot be used.

    >>> str(RecordError("the seal is missing", "J1.toml", "line 40"))
    'J1.toml, line 40: the seal is missing.'
    """

    def __init__(self, what: str, file: str = "", where: str = "") -> None:
        place = ", ".join(filter(None, (file, where)))
        super().__init__(f"{place}: {what.rstrip('.')}." if place else what)
        self.what, self.file, self.where = what, file, where


class RecordDamaged(RecordError):
    """Syntax, seal or history of a job file is broken; `backup` names a sound earlier copy.

    >>> str(RecordDamaged("the seal is missing", "J1.toml", backup="J1.toml.bak"))
    'J1.toml: the seal is missing. J1.toml.bak, from the save before, is sound.'
    """

    def __init__(self, what: str, file: str = "", where: str = "", backup: str = "") -> None:
        super().__init__(what, file, where)
        self.backup = backup
        if backup:
            self.args = (f"{self.args[0]} {backup}, from the save before, is sound.",)


class Misnamed(RecordDamaged):
    """A sound record lies under a name that is not that of its job; `job` is the one it holds."""

    def __init__(self, what: str, file: str, job: str) -> None:
        super().__init__(what, file)
        self.job = job


class RecordNewer(RecordError):
    """A job file was written by a newer version of the tool."""


class StoreError(WizardError):
    """Saving or locking a job failed."""


class LockedElsewhere(StoreError):
    """Another session holds the job; `holder` is who, where and since when."""

    def __init__(self, holder: str) -> None:
        super().__init__(f"The job is open: {holder}.")
        self.holder = holder


class Conflict(StoreError):
    """The file on disk changed since it was opened."""
