"""Small jobs and drawn pictures for the tests of the archive."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable

import pytest
from PIL import Image

from deskapp.domain.job import Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.measured import Day, Measured
from deskapp.domain.site import House, Site
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest, Reading


def drawn(form: str = "JPEG", size: tuple[int, int] = (64, 48), **options: object) -> bytes:
    """Return a small picture: red left half, blue right half."""
    image = Image.new("RGB", size, "blue")
    image.paste("red", (0, 0, size[0] // 2, size[1]))
    buffer = io.BytesIO()
    image.save(buffer, form, **options)
    return buffer.getvalue()


@pytest.fixture
def draw() -> Callable[..., bytes]:
    return drawn


@pytest.fixture
def picture() -> bytes:
    return drawn()


@pytest.fixture
def job(picture: bytes) -> Job:
    """Return a half-finished job with one unread value, one retest and one picture."""
    digest = hashlib.sha256(picture).hexdigest()
    return Job(
        number="J-1",
        title="Ünïted “Example” home ²",
        site=Site(permit_date=Day(value=None, typed="sometime in March")),
        house=House(floor_area=Measured(si=None, unit="", typed="about 12 hundred")),
        systems=(
            DuctSystem(key="s1", area_served=Measured(si=141.2126208, unit="ft2", typed="1,520")),
        ),
        tests=(
            LeakageTest(
                key="t1",
                system="s1",
                readings=(Reading(duct_pressure=Measured(si=-25.1, unit="Pa", typed="-25.1")),),
            ),
            LeakageTest(key="t2", system="s1", label="Retest"),
        ),
        leaks=(Leak(key="l1", photos=(Photo(digest=digest, name="boot.jpg"),)),),
    )


@pytest.fixture
def photos(picture: bytes) -> dict[str, bytes]:
    return {hashlib.sha256(picture).hexdigest(): picture}
