"""The job: everything a person told us about one visit, frozen, in SI, with what was typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from pydantic import model_validator

from deskapp.domain.arrival import ArrivalItem, Leaving
from deskapp.domain.base import Frozen
from deskapp.domain.choices import CompliancePath, Metric, YesNo
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.issue import Issue
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.limit import ChosenLimit
from deskapp.domain.measured import Measured
from deskapp.domain.people import Tester
from deskapp.domain.repair import Rereading
from deskapp.domain.safety import Acknowledgment, Appliance, Safety
from deskapp.domain.screening import PanScreening, Register
from deskapp.domain.site import Client, House, Site
from deskapp.domain.sketch import Sketch
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.domain.walk import entries
from deskapp.units.table import fits

if TYPE_CHECKING:
    from collections.abc import Iterator


class Compliance(Frozen):
    """What the job is judged by.

    `calibration_override` is the reason, printed, for reporting with an overdue calibration.
    """

    path: CompliancePath | None = None
    exemption_claimed: YesNo | None = None
    exemption_reason: str = ""
    calibration_override: str = ""
    limits: tuple[ChosenLimit, ...] = ()


class Job(Frozen):
    """One job. Rows of a list are told apart by their `key`, which never changes."""

    number: str = ""
    title: str = ""
    client: Client = Client()
    site: Site = Site()
    house: House = House()
    compliance: Compliance = Compliance()
    systems: tuple[DuctSystem, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    fans: tuple[Fan, ...] = ()
    tests: tuple[LeakageTest, ...] = ()
    leaks: tuple[Leak, ...] = ()
    rereadings: tuple[Rereading, ...] = ()
    registers: tuple[Register, ...] = ()
    screening: PanScreening = PanScreening()
    photos: tuple[Photo, ...] = ()
    sketch: Sketch = Sketch()
    safety: Safety = Safety()
    appliances: tuple[Appliance, ...] = ()
    acknowledgments: tuple[Acknowledgment, ...] = ()
    arrival: tuple[ArrivalItem, ...] = ()
    leaving: Leaving = Leaving()
    tester: Tester = Tester()
    comments: str = ""
    issued: tuple[Issue, ...] = ()

    @model_validator(mode="after")
    def _units_fit(self) -> Self:
        for path, value in entries(self):
            if not isinstance(value, Measured) or not value.unit or path.startswith("compliance."):
                continue
            kind = field_at(path).kind
            if kind is not None and not fits(value.unit, kind):
                raise ValueError(f"{label_of(path)}: {value.unit!r} is not a unit of {kind}")
        return self

    def system(self, key: str) -> DuctSystem | None:
        """Return the system with this key."""
        return next((system for system in self.systems if system.key == key), None)

    def fan(self, key: str) -> Fan | None:
        """Return the fan with this key; the only fan of the job if the key is empty."""
        if not key and len(self.fans) == 1:
            return self.fans[0]
        return next((fan for fan in self.fans if fan.key == key), None)

    def gauge(self, key: str) -> Gauge | None:
        """Return the gauge with this key; the only gauge of the job if the key is empty."""
        if not key and len(self.gauges) == 1:
            return self.gauges[0]
        return next((gauge for gauge in self.gauges if gauge.key == key), None)

    def test(self, key: str) -> LeakageTest | None:
        """Return the test with this key."""
        return next((test for test in self.tests if test.key == key), None)

    def fan_key_at(self, path: str) -> str:
        """Return the key of the fan that goes with a ring named at `path`.

        The ring stands in the set-up of a test, or in a quick reading that follows one.
        """
        list_name, position, *_rest = path.split(".")
        test = (
            self.test(self.rereadings[int(position)].test)
            if list_name == "rereadings"
            else self.tests[int(position)]
        )
        return test.setup.fan if test is not None else ""

    def tests_of(self, system_key: str) -> tuple[LeakageTest, ...]:
        """Return the tests of a system, in the order they were made.

        A test of the house itself is none of them, whatever system it names.
        """
        return tuple(
            test
            for test in self.tests
            if test.system == system_key and test.setup.metric is not Metric.ENVELOPE
        )

    def issues_of(self, kind: str) -> tuple[Issue, ...]:
        """Return the issues of one kind of report, oldest first, without further papers of them."""
        return tuple(one for one in self.papers_of(kind) if one.made_on is None)

    def papers_of(self, kind: str) -> tuple[Issue, ...]:
        """Return all that was handed out of one kind of report, oldest first."""
        return tuple(issue for issue in self.issued if issue.kind == kind)

    @property
    def leaks_found(self) -> tuple[Leak, ...]:
        """The leaks of which anything is recorded; an empty row is none."""
        return tuple(leak for leak in self.leaks if leak != Leak(key=leak.key, system=leak.system))

    def leak_number(self, key: str) -> int | None:
        """Return the number a leak goes by everywhere: in lists, on pictures, on sketches.

        Numbers count the leaks found from 1, in order; an empty row and an unknown key have none.
        """
        numbers = (n for n, leak in enumerate(self.leaks_found, 1) if leak.key == key)
        return next(numbers, None)

    def pictures(self) -> Iterator[tuple[str, Photo]]:
        """Yield path and record of every picture the job refers to."""
        for row, photo in enumerate(self.photos):
            yield f"photos.{row}", photo
        for leak_row, leak in enumerate(self.leaks):
            for row, photo in enumerate(leak.photos):
                yield f"leaks.{leak_row}.photos.{row}", photo
        if self.sketch.plan is not None:
            yield "sketch.plan", self.sketch.plan
        if self.tester.signature is not None:
            yield "tester.signature", self.tester.signature

    @property
    def photo_digests(self) -> frozenset[str]:
        """Digests of all files of pictures the job refers to."""
        return frozenset(digest for _path, photo in self.pictures() for digest in photo.digests)
