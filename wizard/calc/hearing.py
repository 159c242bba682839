"""Hearing protectors: the level that is left at the ear."""

from __future__ import annotations

from wizard.calc.accepted import within
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Ratio, SoundLevel
from wizard.sources import Source

APPENDIX_B = Source("29 CFR 1910.95 Appendix B; halved in OSHA field practice", "confirmed")


@formula(
    "Level under a protector, from an A-weighted level",
    equation="level at the ear = level - share × (nrr - 7)",
    results="sound level",
    source=APPENDIX_B,
)
def protected_from_a(level: SoundLevel, nrr: SoundLevel, share: Ratio = 0.5) -> float:
    """Level at the ear under a protector, when the meter was set to A.

    L' = L - s (NRR - 7)

    Parameters
    ----------
    level : float
        A-weighted level, 40 to 140, [dBA]
    nrr : float
        Noise reduction rating on the package, 7 to 37, [dB]
    share : float, optional
        Share of the rating that is credited: 0.5 in the field, 1 with a fit test, [-]

    Returns
    -------
    float
        Level at the ear, [dBA]

    Notes
    -----
    The 7 dB stand for the difference between C and A weighting. A rating below 7 gives no
    protection by this formula and is refused.

    Examples
    --------
    100 dBA and a rating of 25: 82 dBA in full, 91 dBA halved (OSHA field practice):

    >>> protected_from_a(100.0, 25.0, 1.0), protected_from_a(100.0, 25.0, 0.5)
    (82.0, 91.0)
    """
    _protector(level, nrr, share)
    return level - share * (nrr - 7)


@formula(
    "Level under a protector, from a C-weighted level",
    equation="level at the ear = level - share × nrr",
    results="sound level",
    source=APPENDIX_B,
)
def protected_from_c(level: SoundLevel, nrr: SoundLevel, share: Ratio = 0.5) -> float:
    """Level at the ear under a protector, when the meter was set to C.

    L' = L_C - s NRR

    Parameters
    ----------
    level : float
        C-weighted level, 40 to 140, [dBC]
    nrr : float
        Noise reduction rating on the package, 7 to 37, [dB]
    share : float, optional
        Share of the rating that is credited: 0.5 in the field, 1 with a fit test, [-]

    Returns
    -------
    float
        Level at the ear, [dBA]

    Examples
    --------
    >>> protected_from_c(100.0, 25.0, 1.0), protected_from_c(100.0, 25.0, 0.5)
    (75.0, 87.5)
    """
    _protector(level, nrr, share)
    return level - share * nrr


@formula(
    "Level under a protector rated by SNR",
    equation="level at the ear = level - snr + allowance",
    results="sound level",
    source=Source("EN ISO 4869-2 with the field allowance of UK guidance on noise", "memory"),
)
def protected_from_snr(level: SoundLevel, snr: SoundLevel, allowance: SoundLevel = 4.0) -> float:
    """Level at the ear under a protector with a European rating, meter set to C.

    L' = L_C - SNR + allowance

    Parameters
    ----------
    level : float
        C-weighted level, 40 to 140, [dBC]
    snr : float
        Single number rating on the package, 10 to 40, [dB]
    allowance : float, optional
        Taken off the rating because of real wear, [dB]

    Returns
    -------
    float
        Level at the ear, [dBA]

    Examples
    --------
    >>> protected_from_snr(98.0, 27.0)
    75.0
    """
    within("level", level, "sound level", "dBA", 40, 140)
    within("snr", snr, "sound level", "dBA", 10, 40)
    within("allowance", allowance, "sound level", "dBA", 0, 10)
    return level - snr + allowance


def _protector(level: float, nrr: float, share: float) -> None:
    within("level", level, "sound level", "dBA", 40, 140)
    if nrr < 7:
        raise InputError("nrr", f"{nrr:g} dB", "7 dB to 37 dB; below 7 dB it is not usable")
    within("nrr", nrr, "sound level", "dBA", 7, 37)
    within("share", share, "ratio", "", 0, 1)
