"""The register as a record: what it finds, and what it refuses to hold. All of it is invented."""

from __future__ import annotations

from datetime import date

import pytest
from pydantic import ValidationError

from deskapp.domain.instrument import CertificateFigure, CertificatePair, Fan, Gauge, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.register import (
    CheckEntries,
    FieldCheck,
    InstrumentRegister,
    RegisteredFan,
    RegisteredGauge,
)


def check_of(day: date | None, share: float) -> FieldCheck:
    return FieldCheck(
        entries=CheckEntries(done_on=None if day is None else Day(value=day)),
        density=1.2,
        expected=0.03,
        indicated=0.03 * (1 + share),
        share_off=share,
        tolerance=0.05,
        within=abs(share) <= 0.05,
    )


def pair(signal: float, flow: float, unit: str = "Pa") -> CertificatePair:
    return CertificatePair(
        signal=CertificateFigure(si=signal, unit=unit, typed=f"{signal}"),
        flow=CertificateFigure(si=flow, unit="m3/s", typed=f"{flow}"),
    )


FULL = InstrumentRegister(
    gauges=(RegisteredGauge(gauge=Gauge(key="g1", serial="GA-01"), notes="spare", retired=True),),
    fans=(
        RegisteredFan(
            fan=Fan(key="f1", rings=(Ring(key="r1", certificate_pairs=(pair(25.0, 0.03),)),)),
            checks=(check_of(date(2026, 3, 2), 0.012),),
        ),
    ),
)


def test_that_a_register_comes_back_from_its_text():
    assert InstrumentRegister.model_validate_json(FULL.model_dump_json()) == FULL


def test_that_instruments_are_found_by_key():
    assert FULL.gauge("g1") is FULL.gauges[0]
    assert FULL.fan("f1") is FULL.fans[0]
    assert FULL.gauge("g2") is None
    assert FULL.fan("") is None


@pytest.mark.parametrize(
    "register",
    [
        {"gauges": [{"gauge": {"key": "g1"}}, {"gauge": {"key": "g1"}}]},
        {"fans": [{"fan": {"key": "f1"}}, {"fan": {"key": "f1"}}]},
        {"fans": [{"fan": {"key": "f1", "rings": [{"key": "r1"}, {"key": "r1"}]}}]},
    ],
)
def test_that_a_key_stands_for_one_row_only(register: dict[str, object]):
    with pytest.raises(ValidationError, match="stands there twice"):
        InstrumentRegister.model_validate(register)


def test_that_a_unit_must_measure_what_the_field_holds():
    wrong = Gauge(key="g1", accuracy_absolute=Measured(si=1.0, unit="cfm", typed="1 cfm"))
    with pytest.raises(ValidationError, match="is not a unit of pressure"):
        InstrumentRegister(gauges=(RegisteredGauge(gauge=wrong),))


@pytest.mark.parametrize(
    ("signal", "flow", "unit"),
    [(0.0, 0.03, "Pa"), (25.0, -0.03, "Pa"), (25.0, 0.03, "cfm"), (25.0, 0.03, "furlong")],
)
def test_that_a_pair_of_a_certificate_is_a_signal_and_a_flow(signal: float, flow: float, unit: str):
    with pytest.raises(ValidationError):
        pair(signal, flow, unit)


def test_that_a_register_lends_its_instruments_to_the_checks_of_a_job():
    job = FULL.as_job()
    assert job == Job(gauges=(FULL.gauges[0].gauge,), fans=(FULL.fans[0].fan,))


def test_that_a_job_file_without_the_newer_fields_still_reads():
    gauge = Gauge.model_validate({"key": "g1", "serial": "GA-01"})
    ring = Ring.model_validate({"key": "r1", "coefficient": {"si": 0.01, "unit": "m3/s"}})
    assert gauge.accuracy_percent is None
    assert gauge.accuracy_absolute is None
    assert ring.accuracy is None
    assert ring.certificate_pairs == ()
