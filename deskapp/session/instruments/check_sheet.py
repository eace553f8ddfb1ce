"""One field check while it is filled in: typed texts in, outcome and findings out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from deskapp.domain.finding import Finding, Level
from deskapp.domain.register import CheckEntries, FieldCheck
from deskapp.i18n import _, language
from deskapp.session.field_entries import FieldEntries
from deskapp.session.instruments.check_doubts import doubts, wanted
from deskapp.session.instruments.check_fields import CHECK_FIELD, CHECK_FIELDS, PREFIX
from deskapp.session.instruments.entries import findings_about
from deskapp.session.instruments.hole_check import HoleOutcome, work_out
from deskapp.session.instruments.names import instrument_words, ring_name
from deskapp.session.options import Option
from deskapp.units.display import writing

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.instrument import Gauge, Ring
    from deskapp.domain.register import RegisteredFan, RegisteredGauge
    from deskapp.session.settings import Preferences


class CheckSheet(FieldEntries):
    """The entries of one field check of one fan.

    Its paths are those of CHECK_FIELDS.
    """

    fields = CHECK_FIELDS

    def __init__(
        self,
        fan: RegisteredFan,
        gauges: Iterable[RegisteredGauge],
        preferences: Preferences,
        today: date | None = None,
        entries: CheckEntries | None = None,
    ) -> None:
        """Begin a check.

        Args:
            fan: the fan that is checked.
            gauges: the gauges to choose from; retired ones are not offered.
            preferences: units and styles to read and show texts in.
            today: the day, to ask about a check dated later.
            entries: what to begin with, such as the entries of the last check; empty without it.
        """
        super().__init__(preferences)
        self._fan = fan.fan
        self._gauges = tuple(item.gauge for item in gauges if not item.retired)
        self._today = today
        self._entries = entries or CheckEntries()
        self._found: tuple[tuple[object, ...], tuple[Finding, ...]] | None = None

    # What stands in the sheet

    @property
    def entries(self) -> CheckEntries:
        """What was typed and chosen so far."""
        return self._entries

    @property
    def ring(self) -> Ring | None:
        """The ring chosen; the only ring of the fan where none is."""
        rings = self._fan.rings
        if not self._entries.ring and len(rings) == 1:
            return rings[0]
        return next((ring for ring in rings if ring.key == self._entries.ring), None)

    @property
    def gauge(self) -> Gauge | None:
        """The gauge chosen; the only one of the register where none is."""
        if not self._entries.gauge and len(self._gauges) == 1:
            return self._gauges[0]
        return next((gauge for gauge in self._gauges if gauge.key == self._entries.gauge), None)

    def spec_at(self, path: str) -> FieldSpec:
        """Return the field of a check at `path`."""
        return CHECK_FIELD[path]

    def value_at(self, path: str) -> Any:
        """Return what stands at `path`."""
        return getattr(self._entries, self.spec_at(path).path.removeprefix(PREFIX))

    def options_at(self, path: str) -> tuple[Option, ...]:
        """Return the answers a choice or reference field offers."""
        from deskapp.domain.choices import CHOICE_LABELS

        spec = self.spec_at(path)
        if spec.choices is not None:
            return tuple(Option(v, _(words)) for v, words in CHOICE_LABELS[spec.choices].items())
        if spec.reference == "gauges":
            return tuple(Option(gauge.key, instrument_words(gauge)) for gauge in self._gauges)
        if spec.reference == "rings":
            formatter = self._preferences.formatter
            return tuple(
                Option(ring.key, ring_name(ring, position, formatter))
                for position, ring in enumerate(self._fan.rings)
            )
        raise ValueError(f"{path} is typed, not chosen")

    # Findings and outcome

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about what was entered, stops first; empty fields say nothing.

        Every field asks for it, so it is looked for once for what stands in the sheet.
        """
        stands = (self._entries, self._preferences, language())
        if self._found is None or self._found[0] != stands:
            with writing(self._preferences.number_style):
                found = sorted(self._all(), key=lambda finding: finding.level.rank)
            self._found = (stands, tuple(found))
        return self._found[1]

    @property
    def wanted(self) -> tuple[Finding, ...]:
        """What must still be filled in before the check can be recorded."""
        return tuple(wanted(self._entries, self.ring))

    @property
    def outcome(self) -> HoleOutcome | None:
        """The check worked out; None while something is missing or stands in the way."""
        if any(f.level is Level.STOP and f.path != "check.done_on" for f in self.findings):
            return None
        return self._worked()

    @property
    def can_record(self) -> bool:
        """Whether the check is complete and nothing stands in its way."""
        stopped = any(finding.level is Level.STOP for finding in self.findings)
        return not stopped and not self.wanted and self._worked() is not None

    def record(self) -> FieldCheck:
        """Return the check as a record for the history of the fan.

        Raises ValueError while `can_record` is false.
        """
        outcome = self._worked() if self.can_record else None
        if outcome is None:
            raise ValueError("the check is not complete")
        ring, gauge = self.ring, self.gauge
        position = self._fan.rings.index(ring) if ring is not None else 0
        formatter = self._preferences.formatter
        return FieldCheck(
            entries=self._entries,
            gauge="" if gauge is None else instrument_words(gauge),
            ring="" if ring is None else ring_name(ring, position, formatter),
            ring_used=ring,
            calibration_density=self._fan.calibration_density,
            density=outcome.density,
            expected=outcome.expected,
            indicated=outcome.indicated,
            share_off=outcome.share_off,
            tolerance=outcome.tolerance,
            within=outcome.within,
        )

    def _put(self, path: str, value: object) -> None:
        name = self.spec_at(path).path.removeprefix(PREFIX)
        self._entries = self._entries.model_copy(update={name: value})
        self._tell()

    def _all(self) -> Iterator[Finding]:
        unusable: dict[str, None] = {}
        for spec in self.fields:
            for finding in findings_about(
                spec, spec.path, self.value_at(spec.path), self._preferences
            ):
                if finding.level is Level.STOP:
                    unusable[spec.path.removeprefix(PREFIX)] = None
                yield finding
        usable = self._entries.model_copy(update=unusable)
        formatter = self._preferences.formatter
        yield from doubts(usable, self.ring, self.gauge, self._today, formatter)
        if not unusable:
            yield from self._no_air()

    def _no_air(self) -> Iterator[Finding]:
        """Yield the stop about air that holds more water than its pressure allows."""
        try:
            self._worked()
        except ValueError:
            yield Finding(
                level=Level.STOP,
                code="no-air",
                path="check.humidity",
                what=_("No flow can be worked out from these numbers together."),
                allowed=_("Air holds no more water than its temperature and pressure allow."),
                mend=_(
                    "Check temperature, barometric pressure and humidity, and the air density of "
                    "the calibration entered for this fan."
                ),
            )

    def _worked(self) -> HoleOutcome | None:
        with writing(self._preferences.number_style):
            return work_out(self._entries, self.ring, self._fan.calibration_density)
