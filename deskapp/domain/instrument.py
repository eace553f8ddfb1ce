"""Gauges and calibrated fans, as their certificates describe them."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.measured import Day, Measured


class Gauge(Frozen):
    """A pressure gauge."""

    key: str
    description: str = ""
    serial: str = ""
    certificate: str = ""
    laboratory: str = ""
    calibrated_on: Day | None = None
    due_on: Day | None = None


class Ring(Frozen):
    """A flow-range ring of a fan, named by its flow range: Q = coefficient * signal ** exponent.

    `coefficient` is the flow at a fan signal of 1 Pa, taken from the calibration certificate.
    """

    key: str
    flow_low: Measured | None = None
    flow_high: Measured | None = None
    coefficient: Measured | None = None
    exponent: Measured | None = None
    signal_low: Measured | None = None
    signal_high: Measured | None = None


class Fan(Frozen):
    """A calibrated fan and its rings."""

    key: str
    description: str = ""
    serial: str = ""
    certificate: str = ""
    laboratory: str = ""
    calibrated_on: Day | None = None
    due_on: Day | None = None
    calibration_density: Measured | None = None
    field_check_on: Day | None = None
    field_check_error: Measured | None = None
    rings: tuple[Ring, ...] = ()
