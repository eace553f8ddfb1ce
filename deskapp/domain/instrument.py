"""Gauges and calibrated fans, as their certificates describe them."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.measured import Day, Measured
from deskapp.units.kinds import Kind
from deskapp.units.table import fits


class Calibrated(Frozen):
    """An instrument with a certificate."""

    key: str
    description: str = ""
    serial: str = ""
    certificate: str = ""
    laboratory: str = ""
    calibrated_on: Day | None = None
    due_on: Day | None = None


class Gauge(Calibrated):
    """A pressure gauge.

    It may be off by `accuracy_percent` of the reading (a share) or by `accuracy_absolute`,
    whichever is greater.
    """

    accuracy_percent: Measured | None = None
    accuracy_absolute: Measured | None = None


class CertificateFigure(Frozen):
    """A figure copied from a certificate: SI value, unit id it was typed in, the text itself."""

    si: float
    unit: str
    typed: str


class CertificatePair(Frozen):
    """A fan signal and the flow that goes with it, as a certificate lists them."""

    signal: CertificateFigure
    flow: CertificateFigure

    @model_validator(mode="after")
    def _is_a_pair(self) -> Self:
        for figure, kind in ((self.signal, Kind.PRESSURE), (self.flow, Kind.FLOW)):
            if not fits(figure.unit, kind) or figure.si <= 0.0:
                raise ValueError(f"{figure.typed!r} is not {kind} above zero")
        return self


class Ring(Frozen):
    """A flow-range ring of a fan, named by its flow range: Q = coefficient * signal ** exponent.

    `coefficient` is the flow at a fan signal of 1 Pa, taken from the calibration certificate or
    fitted from its pairs, which are then kept in `certificate_pairs`. `accuracy` is what the flow
    may be off by, as a share of it.
    """

    key: str
    flow_low: Measured | None = None
    flow_high: Measured | None = None
    coefficient: Measured | None = None
    exponent: Measured | None = None
    signal_low: Measured | None = None
    signal_high: Measured | None = None
    accuracy: Measured | None = None
    certificate_pairs: tuple[CertificatePair, ...] = ()


class Fan(Calibrated):
    """A calibrated fan and its rings."""

    calibration_density: Measured | None = None
    field_check_on: Day | None = None
    field_check_error: Measured | None = None
    rings: tuple[Ring, ...] = ()
