"""The open register: typed text for a named field, rows, undo, field checks, keeping it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from deskapp.domain import paths
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import field_at, label_of, pattern_of
from deskapp.domain.finding import Finding
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.register import InstrumentRegister, RegisteredFan, RegisteredGauge
from deskapp.i18n import N_, _, in_sentence, said
from deskapp.session.field_entries import FieldEntries
from deskapp.session.history import History
from deskapp.session.instruments.check_history import with_check
from deskapp.session.instruments.copies import same_instrument
from deskapp.session.instruments.names import instrument_words
from deskapp.session.instruments.register_findings import register_findings
from deskapp.session.instruments.ring_fit import fill_ring
from deskapp.session.rows import first_free

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.domain.register import FieldCheck
    from deskapp.i18n import Said
    from deskapp.session.instruments.ring_fit import RingFitting
    from deskapp.session.options import Option
    from deskapp.session.settings import Preferences

NOTES = {
    "gauges.*.notes": FieldSpec("gauges.*.notes", Form.PARAGRAPH, N_("Notes on the gauge")),
    "fans.*.notes": FieldSpec("fans.*.notes", Form.PARAGRAPH, N_("Notes on the fan")),
}
"""The fields that only the register has; all others are those of a job, under the same paths."""

_OWN = {"notes", "retired", "checks"}
_INSIDE = {"gauges": "gauge", "fans": "fan"}


class RegisterEditor(FieldEntries):
    """The open register.

    Paths are those of a job (``gauges.0.serial``, ``fans.1.rings.0.exponent``), so that its forms
    fit, and those of NOTES. Every change can be undone. Methods that take a path raise KeyError
    for a place the register does not have.
    """

    def __init__(self, register: InstrumentRegister, preferences: Preferences) -> None:
        super().__init__(preferences)
        self._history = History(register)
        self._found: tuple[InstrumentRegister, Preferences, tuple[Finding, ...]] | None = None

    # What stands in the register

    @property
    def register(self) -> InstrumentRegister:
        """The register as it stands."""
        return self._history.state

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the register, stops first. None keeps it from being kept."""
        register, preferences = self.register, self._preferences
        if self._found is None or self._found[:2] != (register, preferences):
            self._found = (register, preferences, register_findings(register, preferences))
        return self._found[2]

    def spec_at(self, path: str) -> FieldSpec:
        """Return the field of the register at `path`."""
        return spec_at(path)

    def options_at(self, path: str) -> tuple[Option, ...]:
        """Raise ValueError: all fields of the register are typed."""
        raise ValueError(f"{path} is typed, not chosen from a list")

    def value_at(self, path: str) -> Any:
        """Return what the register holds at `path`."""
        return paths.get(self.register, _inner(path))

    def row_count(self, list_path: str) -> int:
        """Return how many rows the list at `list_path` has."""
        return len(paths.rows_at(self.register, _inner(list_path)))

    def name_of(self, row_path: str) -> str:
        """Return what the gauge or fan at `row_path` is called."""
        return instrument_words(self._instrument_at(row_path))

    # Changes

    def add_row(self, list_path: str) -> str:
        """Add a row at the end of ``gauges``, ``fans`` or ``fans.0.rings``; return its path.

        A new fan has one empty ring. Raises KeyError for another list.
        """
        position = self.row_count(list_path)
        keys = self._keys(list_path)
        row: RegisteredGauge | RegisteredFan | Ring
        if list_path == "gauges":
            row = RegisteredGauge(gauge=Gauge(key=first_free("g", keys)))
        elif list_path == "fans":
            row = RegisteredFan(fan=Fan(key=first_free("f", keys), rings=(Ring(key="r1"),)))
        elif pattern_of(list_path) == "fans.*.rings":
            row = Ring(key=first_free("r", keys))
        else:
            raise KeyError(f"{list_path} takes no rows")
        row_path = f"{list_path}.{position}"
        register = paths.insert(self.register, _inner(list_path), position, row)
        self._record(register, lambda: _("add {row}").format(row=in_sentence(label_of(row_path))))
        return row_path

    def remove_row(self, row_path: str) -> None:
        """Take out an instrument or a ring; retiring a fan keeps its history, this does not."""
        register = paths.remove(self.register, _inner(row_path))
        self._record(
            register, lambda: _("remove {row}").format(row=in_sentence(label_of(row_path)))
        )

    def retire(self, row_path: str, *, retired: bool = True) -> None:
        """Retire the instrument at ``gauges.0`` or ``fans.0``, or put it back into use.

        A retired one is kept with its history, and no longer offered to jobs or listed as due.
        """
        name = self.name_of(row_path)
        register = paths.put(self.register, f"{row_path}.retired", retired)

        def words() -> str:
            told = _("retire {name}") if retired else _("put {name} back into use")
            return told.format(name=name)

        self._record(register, words)

    def fill_ring(self, ring_path: str, fitting: RingFitting) -> None:
        """Take a fit of certificate pairs over into the ring at `ring_path`.

        Raises ValueError for a fitting that cannot fill a ring.
        """
        place = _inner(ring_path)
        ring = fill_ring(paths.get(self.register, place), fitting, self._preferences)
        register = paths.put(self.register, place, ring)
        self._record(
            register, lambda: _("fit of {row}").format(row=in_sentence(label_of(ring_path)))
        )

    def add_check(self, fan_path: str, check: FieldCheck) -> None:
        """Add a field check to the history of the fan at `fan_path`."""
        fan = paths.get(self.register, fan_path)
        register = paths.put(self.register, fan_path, with_check(fan, check, self._preferences))
        name = self.name_of(fan_path)
        self._record(register, lambda: _("field check of {name}").format(name=name))

    def take_in(self, instrument: Gauge | Fan) -> str:
        """Register an instrument of a job; return the path of its row.

        One that is registered already (by its serial number) stays as it is there.
        """
        name = "gauges" if isinstance(instrument, Gauge) else "fans"
        for position in range(self.row_count(name)):
            if same_instrument(self._instrument_at(f"{name}.{position}"), instrument):
                return f"{name}.{position}"
        position = self.row_count(name)
        key = first_free(name[0], self._keys(name))
        named = instrument.model_copy(update={"key": key})
        row = RegisteredGauge(gauge=named) if isinstance(named, Gauge) else RegisteredFan(fan=named)
        register = paths.insert(self.register, name, position, row)
        self._record(register, lambda: _("add {row}").format(row=instrument_words(instrument)))
        return f"{name}.{position}"

    # History and file

    @property
    def is_dirty(self) -> bool:
        """Whether the register differs from the one last kept or opened."""
        return not self._history.is_saved

    @property
    def undo_label(self) -> str:
        """Words for the undo command; empty if there is nothing to take back."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str:
        """Words for the redo command; empty if there is nothing to bring back."""
        return self._history.redo_label

    def undo(self) -> None:
        """Take back the last step, if there is one."""
        if self._history.undo():
            self._tell()

    def redo(self) -> None:
        """Bring back the step undone last, if there is one."""
        if self._history.redo():
            self._tell()

    def keep(self, folder: Path) -> Finding | None:
        """Write the register into its file in `folder`; return why not if that does not work."""
        from deskapp.session.instruments.store import save

        found = save(folder, self.register)
        if found is None:
            self._history.mark_saved()
            self._tell()
        return found

    def _put(self, path: str, value: object) -> None:
        label = NOTES[pattern].label if (pattern := pattern_of(path)) in NOTES else ""
        self._record(
            paths.put(self.register, _inner(path), value),
            lambda: _(label) if label else label_of(path),
            path,
        )

    def _record(self, register: InstrumentRegister, words: Said, merge: str = "") -> None:
        if register != self.register:
            self._history.record(register, lambda: in_sentence(said(words)), merge)
            self._tell()

    def _instrument_at(self, row_path: str) -> Gauge | Fan:
        row = paths.get(self.register, row_path)
        if isinstance(row, RegisteredGauge):
            return row.gauge
        if isinstance(row, RegisteredFan):
            return row.fan
        raise KeyError(f"{row_path} is no instrument")

    def _keys(self, list_path: str) -> set[str]:
        rows = paths.rows_at(self.register, _inner(list_path))
        inside = _INSIDE.get(list_path)
        return {(row if inside is None else getattr(row, inside)).key for row in rows}


def spec_at(path: str) -> FieldSpec:
    """Return the field of the register at `path`. Raises KeyError for one it does not have."""
    pattern = pattern_of(path)
    own = NOTES.get(pattern)
    if own is not None:
        return own
    if pattern.partition(".")[0] not in _INSIDE:
        raise KeyError(f"the register has no field {path}")
    return field_at(path)


def _inner(path: str) -> str:
    """Return the place of a job's path in the register: ``fans.0.serial``, ``fans.0.fan.serial``.

    Lists, rows and what only the register has stand where they stand.
    """
    parts = path.split(".")
    inside = _INSIDE.get(parts[0])
    if inside is None or len(parts) < 3 or parts[2] in _OWN:
        return path
    return ".".join((*parts[:2], inside, *parts[2:]))
