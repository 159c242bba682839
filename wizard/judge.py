"""From answers to findings: binds parameters, calls checks, weighs the instrument.

Invariant: pure; the same answers, settings and procedure always give the same findings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import product
from math import prod
from typing import Any, TypeGuard

from wizard import checks
from wizard.answer import Answer, Parsed, Value, si_value
from wizard.checks.rule import CheckSpec
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Severity, Verdict, worst
from wizard.instrument import DECISION_RULE, Instrument
from wizard.procedure.item import (
    Answered,
    Binding,
    Item,
    Literal,
    Procedure,
    Reference,
    Result,
    Setting,
)
from wizard.settings import Settings

Findings = Mapping[str, tuple[Finding, ...]]
MOST_TRIALS = 64


class Missing(Exception):
    """A mandatory parameter has no value yet; the argument is the key waited for."""


@dataclass(frozen=True)
class Evidence:
    """All that a judgement may look at."""

    procedure: Procedure
    settings: Settings
    answers: Mapping[str, Answer | Parsed]
    waived: Mapping[str, str]
    instruments: Mapping[str, Instrument]

    def applies(self, item: Item) -> bool:
        """Whether the item's conditions hold with the answers given so far."""
        if not item.when:
            return True
        for key, accepted in item.when.items():
            if not self._holds(key, accepted):
                return False
            if key in self.procedure.items and not self.applies(self.procedure.items[key]):
                return False
        return True

    def ruled_out(self, item: Item) -> bool:
        """Whether answers, settings or a waiver say that the item is not asked; a condition with
        no answer yet is open."""
        for key, accepted in item.when.items():
            if key in self.waived or self._holds(key, accepted) is False:
                return True
            if key in self.procedure.items and self.ruled_out(self.procedure.items[key]):
                return True
        return False

    def _holds(self, key: str, accepted: tuple[Any, ...]) -> bool | None:
        """Whether one condition is met; None while nothing is answered."""
        if key.startswith("settings."):
            return getattr(self.settings, key.removeprefix("settings.")) in accepted
        answer = self.answers.get(key)
        return None if answer is None else answer.value in accepted


def judge(evidence: Evidence, item: Item, findings: Findings) -> tuple[Finding, ...]:
    """The findings of one item; `findings` holds those of the items before it."""
    if not evidence.applies(item):
        return ()
    if reason := evidence.waived.get(item.key):
        return (Finding(Verdict.NOT_APPLICABLE, f"Not applicable: {reason}", item.severity),)
    answer = evidence.answers.get(item.key)
    if answer is None:
        return _open(item.severity)
    plain = _plain(item, answer)
    if plain.verdict is not Verdict.PASS or not item.checks or _is_word(item, answer):
        judged: tuple[Finding, ...] = (plain,)
    else:
        judged = tuple(_judge_check(evidence, item, b, findings) for b in item.checks)
    return _one_instrument(evidence, item, answer, judged) + _calibration(evidence, answer)


def _is_word(item: Item, answer: Answer | Parsed) -> bool:
    return item.measured and isinstance(answer.value, str)


def _plain(item: Item, answer: Answer | Parsed) -> Finding:
    """What the answer says by itself, before any check."""
    verdict, text = Verdict.PASS, "Recorded."
    if answer.value is None:
        text = "Not given."
    elif item.kind == "confirm" and answer.value is False:
        verdict, text = Verdict.FAIL, "Answered no."
    elif answer.value in item.bad:
        verdict, text = Verdict.FAIL, f"{_sentence(str(answer.value))} is not acceptable."
    elif answer.value in item.advise:
        verdict, text = Verdict.ADVISORY, f"{_sentence(str(answer.value))}: noted."
    elif _is_word(item, answer):
        meaning = item.words[str(answer.value)]
        verdict = {"pass": Verdict.PASS, "fail": Verdict.FAIL}.get(meaning, Verdict.ADVISORY)
        text = f"{_sentence(str(answer.value))} recorded instead of a number."
    elif item.kind == "confirm":
        text = "Confirmed."
    if verdict is Verdict.PASS:
        return _passed(text, item.severity, item.danger or item.why)
    severity = item.severity if verdict is not Verdict.ADVISORY else Severity.ADVISORY
    clears = item.clears or "Put it right, then answer again." if verdict is Verdict.FAIL else ""
    return Finding(verdict, text, severity, danger=item.danger or item.why, clears=clears)


@cache
def _open(severity: Severity) -> tuple[Finding, ...]:
    return (Finding(Verdict.OPEN, "Not answered yet.", severity),)


@lru_cache(4096)
def _passed(text: str, severity: Severity, danger: str) -> Finding:
    """One finding for all that pass alike, of which a record has hundreds."""
    return Finding(Verdict.PASS, text, severity, danger=danger)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _judge_check(evidence: Evidence, item: Item, binding: Binding, findings: Findings) -> Finding:
    spec = checks.named(binding.rule)
    try:
        inputs = _inputs(evidence, binding, spec, findings)
    except Missing as missing:
        if failing := _fails_anyhow(evidence, binding, spec, findings):
            return failing
        waited = evidence.procedure.items[str(missing)].ask
        return Finding(
            Verdict.OPEN,
            f"Waits for: {waited}.",
            spec.severity,
            check=spec.name,
            sources=spec.sources,
        )
    finding = _saying_where(evidence, binding, _call(spec, inputs, evidence, binding))
    if finding.holds and not finding.danger:
        finding = replace(finding, danger=item.danger or item.why)
    answer = evidence.answers.get(item.key)
    instrument = evidence.instruments.get(getattr(answer, "instrument", ""))
    if (
        instrument
        and instrument.accuracy_known
        and finding.verdict in (Verdict.PASS, Verdict.ADVISORY)
    ):
        return _guarded(spec, inputs, binding, item, instrument, finding, evidence)
    return finding


def _fails_anyhow(
    evidence: Evidence, binding: Binding, spec: CheckSpec, findings: Findings
) -> Finding | None:
    """The finding of a check that waits for others, where it holds whatever they will say.

    A reading that is dangerous by itself holds the job at once. Only a yes or no and a choice can
    be tried out; what is told is what stays wrong with the best of them.
    """
    tried = {r.key: _choices(evidence, r.key) for r in binding.inputs.values() if _is_asked(r)}
    waited = {key: choices for key, choices in tried.items() if choices}
    if spec.severity is not Severity.SAFETY or prod(map(len, waited.values())) > MOST_TRIALS:
        return None
    found: list[Finding] = []
    for values in product(*waited.values()):
        trial = {k: Parsed("", v) for k, v in zip(waited, values, strict=True)}
        supposed = replace(evidence, answers={**evidence.answers, **trial})
        try:
            found.append(_call(spec, _inputs(supposed, binding, spec, findings), evidence, binding))
        except Missing:
            return None
        if not (found[-1].holds and found[-1].verdict is Verdict.FAIL):
            return None
    return found[0]


def _is_asked(reference: Reference) -> TypeGuard[Answered]:
    return isinstance(reference, Answered)


def _choices(evidence: Evidence, key: str) -> tuple[Value, ...]:
    """What an item may still be answered, the good ones first; none where it is no choice."""
    item = evidence.procedure.items[key]
    if key in evidence.answers or key in evidence.waived or not evidence.applies(item):
        return ()
    if item.kind == "confirm":
        return (True, False)
    return tuple(sorted(item.options, key=(*item.advise, *item.bad).__contains__))


def _inputs(
    evidence: Evidence, binding: Binding, spec: CheckSpec, findings: Findings
) -> dict[str, Any]:
    given: dict[str, Any] = {}
    for parameter in spec.parameters:
        reference = binding.inputs.get(parameter.name)
        if reference is None:
            continue
        if isinstance(reference, Literal):
            value = reference.value
        elif isinstance(reference, Setting):
            value = getattr(evidence.settings, reference.name)
        elif isinstance(reference, Result):
            value = next(
                (
                    f.results[reference.name]
                    for f in findings.get(reference.key, ())
                    if reference.name in f.results
                ),
                None,
            )
        else:
            value = _answer_value(evidence, reference.key)
        if value is not None:
            given[parameter.name] = value
        elif not parameter.optional:
            raise Missing(reference.key)  # type: ignore[union-attr]
    return given


def _answer_value(evidence: Evidence, key: str) -> Any:
    item = evidence.procedure.items[key]
    answer = evidence.answers.get(key)
    if answer is None or key in evidence.waived or not evidence.applies(item):
        return None
    return si_value(item, answer)


def _call(spec: CheckSpec, inputs: dict[str, Any], evidence: Evidence, binding: Binding) -> Finding:
    try:
        finding: Finding = spec.function(**inputs)
    except OutsideValidity as problem:
        safety = spec.severity is Severity.SAFETY
        verdict = Verdict.INCONCLUSIVE if safety else Verdict.NOT_APPLICABLE
        return _unjudged(spec, verdict, problem, _asked(evidence, binding, problem.what))
    except InputError as problem:
        asked = _asked(evidence, binding, problem.what)
        return replace(_unjudged(spec, Verdict.INCONCLUSIVE, problem, asked), refused=True)
    return finding


def _saying_where(evidence: Evidence, binding: Binding, finding: Finding) -> Finding:
    """The finding with the question that was left blank and clears it, where one did."""
    reference = binding.inputs.get(finding.wants)
    if not isinstance(reference, Answered):
        return finding
    item = evidence.procedure.items[reference.key]
    ask = item.ask.partition(" (")[0]
    clears = f"{finding.clears} Then answer “{ask}” in phase {item.phase}."
    return replace(finding, clears=clears)


def _asked(evidence: Evidence, binding: Binding, what: str) -> str:
    """The question whose answer is an input of a check, where it has one; else its name."""
    reference = binding.inputs.get(what.replace(" ", "_"))
    if not isinstance(reference, Answered):
        return what
    return evidence.procedure.items[reference.key].ask.partition(" (")[0]


def _unjudged(spec: CheckSpec, verdict: Verdict, problem: InputError, asked: str) -> Finding:
    return Finding(
        verdict,
        _sentence(f"{asked}: given {problem.given}, accepted {problem.accepted}."),
        spec.severity,
        check=spec.name,
        sources=spec.sources,
        clears="Correct the value that is named.",
    )


def _guarded(
    spec: CheckSpec,
    inputs: dict[str, Any],
    binding: Binding,
    item: Item,
    instrument: Instrument,
    finding: Finding,
    evidence: Evidence,
) -> Finding:
    """Judge again at both ends of the reading's uncertainty; a fail there is doubt."""
    own = [n for n, r in binding.inputs.items() if isinstance(r, Answered) and r.key == item.key]
    for sign in (-1, 1):
        moved = dict(inputs)
        for name in own:
            moved[name] = _moved(inputs.get(name), sign, instrument)
        other = _call(spec, moved, evidence, binding)
        if other.verdict is Verdict.FAIL:
            safety = other.severity is Severity.SAFETY
            text = f"{finding.text} But it is within the error of {instrument.name} of the limit."
            return replace(
                finding,
                text=text,
                severity=other.severity if safety else Severity.ADVISORY,
                verdict=Verdict.INCONCLUSIVE if safety else Verdict.ADVISORY,
                danger=other.danger,
                clears="Take it again, or with a better instrument.",
                sources=(*finding.sources, DECISION_RULE),
            )
    return finding


def _moved(value: Any, sign: int, instrument: Instrument) -> Any:
    """The reading at one end of its uncertainty; of a series the readings, not the times."""
    if isinstance(value, tuple):
        if value and isinstance(value[0], tuple):
            return tuple((t, _moved(v, sign, instrument)) for t, v in value)
        return tuple(_moved(v, sign, instrument) for v in value)
    return value + sign * instrument.half_width(value) if isinstance(value, float) else value


def _one_instrument(
    evidence: Evidence, item: Item, answer: Answer | Parsed, judged: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """The findings, none of which passes where another instrument was proved than measured."""
    own = getattr(answer, "instrument", "")
    for key in item.same_instrument if own else ():
        other = getattr(evidence.answers.get(key), "instrument", "")
        if other and other != own and evidence.applies(evidence.procedure.items[key]):
            asked = evidence.procedure.items[key].ask
            doubt = Finding(
                Verdict.INCONCLUSIVE,
                f"Read with {own}, but “{asked}” was read with {other}.",
                item.severity,
                danger=item.danger or item.why,
                clears="Take all of these readings with one instrument.",
            )
            return (doubt, *(f for f in judged if f.verdict is not Verdict.PASS))
    return judged


def _calibration(evidence: Evidence, answer: Answer | Parsed) -> tuple[Finding, ...]:
    if not isinstance(answer, Answer):
        return ()
    instrument = evidence.instruments.get(answer.instrument)
    if instrument is None or not instrument.expired(answer.at.date()):
        return ()
    return (
        Finding(
            Verdict.ADVISORY,
            f"The calibration of {instrument.name} ran out on {instrument.calibration_due}.",
            clears="Take it again with an instrument in calibration.",
        ),
    )


def judge_all(
    evidence: Evidence, keys: tuple[str, ...], findings: dict[str, tuple[Finding, ...]]
) -> dict[str, tuple[Finding, ...]]:
    """`findings` with the items in `keys` (in procedure order) judged again."""
    out = dict(findings)
    for key in keys:
        out[key] = judge(evidence, evidence.procedure.items[key], out)
    return out


def decided(findings: tuple[Finding, ...]) -> Finding | None:
    """The finding that decides an item."""
    return worst(findings)
