"""Coefficient and exponent of a ring from the pairs of signal and flow on its certificate."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.field_spec import Span
from deskapp.domain.field_words import quantity
from deskapp.domain.fields import field_at
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import CertificateFigure, CertificatePair
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import N_, _
from deskapp.session.instruments.entries import as_typed, findings_about, left_empty
from deskapp.session.instruments.ring_doubts import doubt_findings, no_curve_finding
from deskapp.session.typed import read, text_to_edit
from deskapp.units.convert import from_unit
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.instrument import Ring
    from deskapp.session.settings import Preferences

SIGNAL = quantity(
    "pairs.*.signal",
    Kind.PRESSURE,
    N_("Fan signal"),
    N_("As the certificate lists it, without a sign."),
    allowed=Span(0.01, 10_000, "Pa"),
    example="25 Pa",
)
FLOW = quantity(
    "pairs.*.flow",
    Kind.FLOW,
    N_("Flow"),
    N_("The flow the certificate gives for that signal."),
    allowed=Span(0.01, 100_000, "cfm"),
    example="120 cfm",
)
_COEFFICIENT = field_at("fans.*.rings.*.coefficient")
_EXPONENT = field_at("fans.*.rings.*.exponent")
_DIGITS = 7
_MOST_APART = 0.001


class PairText(NamedTuple):
    """One row of the table of pairs, as typed."""

    signal: str
    flow: str


@dataclass(frozen=True, slots=True)
class FittedPair:
    """A pair beside the line: `number` is its row, `flow_on_line` in m3/s.

    `residual_percent` is how far its flow lies above the line, in percent of the line.
    """

    number: int
    signal: CertificateFigure
    flow: CertificateFigure
    flow_on_line: float
    residual_percent: float


@dataclass(frozen=True, slots=True)
class FittedRing:
    """The law of a ring: flow = coefficient x signal^exponent.

    `coefficient` is the flow at 1 Pa in m3/s; `pairs` in the order typed. The ring may be used
    from the signal of `lowest` to that of `highest`, the range its certificate covers.
    """

    coefficient: float
    exponent: float
    r_squared: float | None
    pairs: tuple[FittedPair, ...]

    @property
    def lowest(self) -> FittedPair:
        """The pair with the lowest signal."""
        return min(self.pairs, key=lambda pair: pair.signal.si)

    @property
    def highest(self) -> FittedPair:
        """The pair with the highest signal."""
        return max(self.pairs, key=lambda pair: pair.signal.si)


@dataclass(frozen=True, slots=True)
class RingFitting:
    """What came of a table of pairs: the fit, if there is one, and all there is to say.

    Paths of findings are ``pairs.2.flow`` for a cell (rows count from 0), ``pairs.2`` for a row,
    ``pairs`` for the table.
    """

    fit: FittedRing | None
    findings: tuple[Finding, ...]

    @property
    def can_fill(self) -> bool:
        """Whether a ring may take this fit over: there is one, and nothing stops it."""
        return self.fit is not None and all(f.level is not Level.STOP for f in self.findings)


def pairs_from_text(block: str) -> tuple[PairText, ...]:
    """Return the pairs of a pasted block: a line each, the two cells apart by tab, ; or spaces.

    Lines without a digit (headings) are left out. A line that does not part into two cells stays
    whole in the first one, so that it is asked about and never lost.
    """
    pairs: list[PairText] = []
    for line in block.splitlines():
        if not re.search("[0-9]", line):
            continue
        cells = [cell.strip() for cell in re.split(r"\t|;|\s{2,}", line.strip()) if cell.strip()]
        if len(cells) == 1 and len(line.split()) == 2:
            cells = line.split()
        pairs.append(PairText(*cells) if len(cells) == 2 else PairText(line.strip(), ""))
    return tuple(pairs)


def pairs_of(ring: Ring, preferences: Preferences) -> tuple[PairText, ...]:
    """Return the pairs kept on a ring as texts to edit."""
    return tuple(
        PairText(
            text_to_edit(SIGNAL, _measured(pair.signal), preferences),
            text_to_edit(FLOW, _measured(pair.flow), preferences),
        )
        for pair in ring.certificate_pairs
    )


def fit_ring(pairs: Iterable[PairText], preferences: Preferences) -> RingFitting:
    """Fit the law of a ring to typed pairs: a straight line through their logarithms.

    Empty rows are passed over. No pair is left out; one that lies off the line is named by its
    row. Never raises for what was typed.

    Source: form of the law as in ASTM E1554 and ISO 9972, from memory, not checked against the
    text; ordinary least squares of ln flow on ln signal.
    """
    found: list[tuple[int, CertificateFigure, CertificateFigure]] = []
    findings: list[Finding] = []
    for position, pair in enumerate(pairs):
        if not pair.signal.strip() and not pair.flow.strip():
            continue
        signal = _figure(SIGNAL, f"pairs.{position}.signal", pair.signal, preferences, findings)
        flow = _figure(FLOW, f"pairs.{position}.flow", pair.flow, preferences, findings)
        if signal is not None and flow is not None:
            found.append((position + 1, signal, flow))
    if any(finding.level is Level.STOP for finding in findings):
        return RingFitting(None, tuple(findings))
    fitting = _fitted(found, preferences)
    return RingFitting(fitting.fit, (*findings, *fitting.findings))


def fill_ring(ring: Ring, fitting: RingFitting, preferences: Preferences) -> Ring:
    """Return `ring` with coefficient, exponent, signal range and pairs of a fit.

    A flow range already typed stays, since it is the ring's name; an empty one is filled.
    Raises ValueError for a fitting that cannot fill a ring.
    """
    fit = fitting.fit
    if fit is None or not fitting.can_fill:
        raise ValueError("these pairs cannot fill a ring")
    low, high = fit.lowest, fit.highest
    pairs = tuple(CertificatePair(signal=pair.signal, flow=pair.flow) for pair in fit.pairs)
    return ring.model_copy(
        update={
            "coefficient": as_typed(_COEFFICIENT, fit.coefficient, preferences, _DIGITS),
            "exponent": as_typed(_EXPONENT, fit.exponent, preferences, _DIGITS),
            "signal_low": _measured(low.signal),
            "signal_high": _measured(high.signal),
            "flow_low": ring.flow_low or _measured(low.flow),
            "flow_high": ring.flow_high or _measured(high.flow),
            "certificate_pairs": pairs,
        }
    )


def parted_from_pairs(ring: Ring) -> float | None:
    """Return how far the law of a ring has parted from its pairs, as a share of the flow.

    None where there is nothing to compare, or where the difference is that of rounding.
    """
    from deskapp.physics.flow_device import ring_flow
    from deskapp.physics.leakage_curve import fit

    coefficient, exponent = si_of(ring.coefficient), si_of(ring.exponent)
    if coefficient is None or exponent is None or len(ring.certificate_pairs) < 2:
        return None
    signals = [pair.signal.si for pair in ring.certificate_pairs]
    try:
        curve = fit(signals, [pair.flow.si for pair in ring.certificate_pairs])
        shares = [
            ring_flow(coefficient, exponent, signal) / (curve.coefficient * signal**curve.exponent)
            - 1.0
            for signal in signals
        ]
    except ValueError:
        return None
    worst = max(shares, key=abs)
    return worst if abs(worst) > _MOST_APART else None


def _figure(
    spec: FieldSpec, path: str, text: str, preferences: Preferences, findings: list[Finding]
) -> CertificateFigure | None:
    """Return a cell of the table; say why not where it cannot be used."""
    number = int(path.split(".")[1]) + 1
    label = _("{label} (pair {n})").format(label=_(spec.label), n=number)
    value = read(spec, text, preferences)
    if not isinstance(value, Measured):
        mend = _("Type it, or clear the other cell of this row.")
        findings.append(left_empty(path, label, _("Each pair is a signal and a flow."), mend))
        return None
    about = tuple(findings_about(spec, path, value, preferences, label))
    findings.extend(about)
    if value.si is None or any(finding.level is Level.STOP for finding in about):
        return None
    return CertificateFigure(si=value.si, unit=value.unit, typed=value.typed)


def _fitted(
    found: list[tuple[int, CertificateFigure, CertificateFigure]], preferences: Preferences
) -> RingFitting:
    from deskapp.physics.curve_doubts import RING_RULES, doubts
    from deskapp.physics.leakage_curve import NoCurveError, fit

    try:
        curve = fit([signal.si for _n, signal, _q in found], [flow.si for _n, _s, flow in found])
    except NoCurveError as error:
        return RingFitting(None, (no_curve_finding(error, len(found)),))
    pairs = tuple(
        FittedPair(number, signal, flow, flow.si / (1.0 + residual / 100.0), residual)
        for (number, signal, flow), residual in zip(found, curve.residuals_percent, strict=True)
    )
    law = FittedRing(curve.coefficient, curve.exponent, curve.r_squared, pairs)
    found_doubts = doubts(curve, RING_RULES)
    about = doubt_findings(
        found_doubts,
        [(pair.number, pair.signal.typed, pair.flow.typed) for pair in pairs],
        [pair.residual_percent for pair in pairs],
        preferences.formatter,
    )
    return RingFitting(law, (*_out_of_all_range(law, preferences), *about))


def _out_of_all_range(law: FittedRing, preferences: Preferences) -> tuple[Finding, ...]:
    """Return the stop about an exponent that no ring can have."""
    span = _EXPONENT.allowed
    assert span is not None
    low, high = from_unit(span.low, span.unit), from_unit(span.high, span.unit)
    if low <= law.exponent <= high:
        return ()
    number = preferences.formatter.number
    return (
        Finding(
            level=Level.STOP,
            code="pairs-no-ring",
            path="pairs",
            what=_("These pairs give an exponent of {n}.").format(n=number(law.exponent, 3)),
            allowed=_("The exponent of a ring lies between {low} and {high}.").format(
                low=number(low, 1), high=number(high, 1)
            ),
            mend=_(
                "See whether signals and flows stand in their own columns, and whether all pairs "
                "belong to one ring."
            ),
        ),
    )


def _measured(figure: CertificateFigure) -> Measured:
    return Measured(si=figure.si, unit=figure.unit, typed=figure.typed)
