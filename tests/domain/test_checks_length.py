"""Long texts are told and kept. How long is common practice, no source."""

from __future__ import annotations

import pytest

from deskapp.domain.checks import check
from deskapp.domain.checks_length import LONGEST_CODE, LONGEST_LINE, room_for, shortened
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, field_at
from deskapp.domain.finding import Level
from deskapp.domain.instrument import Gauge
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.paths import get, put
from deskapp.domain.system import DuctSystem

JOB = Job(systems=(DuctSystem(key="s1"),), gauges=(Gauge(key="g1"),), leaks=(Leak(key="l1"),))
PATHS = ["gauges.0.serial", "systems.0.visual_notes", "leaks.0.repair", "tester.statement", "title"]


@pytest.mark.parametrize("path", PATHS)
def test_that_a_text_is_told_from_the_first_character_too_many(path: str) -> None:
    most = room_for(field_at(path))
    assert most is not None
    fits, long = put(JOB, path, "x" * most), put(JOB, path, "x" * (most + 1))
    assert "text_long" not in [one.code for one in check(fits)]
    assert shortened(fits) == fits
    [finding] = [one for one in check(long) if one.code == "text_long"]
    assert (finding.path, finding.level) == (path, Level.CHECK)
    cut = get(shortened(long), path)
    assert len(cut) == most
    assert cut.endswith("…")
    assert get(long, path) == "x" * (most + 1)


def test_that_each_line_has_a_limit_and_comments_flow() -> None:
    lines = [spec for spec in FIELDS if spec.form is Form.TEXT]
    assert all((room_for(spec) or 0) >= LONGEST_CODE for spec in lines)
    assert room_for(field_at("site.postcode")) == LONGEST_CODE
    assert room_for(field_at("site.address")) == LONGEST_LINE
    assert room_for(field_at("comments")) is None
    long = put(JOB, "comments", "x" * 10_000)
    assert shortened(long) == long
