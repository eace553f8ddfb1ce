"""Instruments of the register copied into a job, and what has become different since.

The copy is the job's own. It is told to be one of the register's only by its serial number, and
nothing but an update that somebody asks for brings a change of the register into the job.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.register import InstrumentKind
from deskapp.i18n import _
from deskapp.session import rows
from deskapp.session.instruments.differences import Difference, fan_differences, gauge_differences
from deskapp.session.instruments.names import instrument_words
from deskapp.session.instruments.ring_pairs import matched_rings

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.instrument import Ring
    from deskapp.domain.job import Job
    from deskapp.domain.register import InstrumentRegister
    from deskapp.session.editor import Editor
    from deskapp.session.settings import Preferences

_LISTS = {InstrumentKind.GAUGE: "gauges", InstrumentKind.FAN: "fans"}


@dataclass(frozen=True, slots=True)
class RegisterOffer:
    """An instrument of the job whose record in the register has other values.

    `key` is that of the register, `row_path` the place in the job.
    """

    kind: InstrumentKind
    key: str
    row_path: str
    name: str
    differences: tuple[Difference, ...]


def copy_into_job(
    editor: Editor, register: InstrumentRegister, kind: InstrumentKind, key: str
) -> str:
    """Copy an instrument into the open job, as one step to undo; return the path of its row.

    It takes the place of a row that nobody has filled in, otherwise a new row at the end. One
    that is in the job already (by its serial number) stays as it is there; see `offers`.
    Raises KeyError if the register has no such instrument.
    """
    instrument = _registered(register, kind, key)
    job, row_path = with_instrument(editor.job, instrument)
    editor.take(job, lambda: _("copy of {name}").format(name=instrument_words(instrument)))
    return row_path


def with_instrument(job: Job, instrument: Gauge | Fan) -> tuple[Job, str]:
    """Return `job` with a copy of `instrument`, and the path of its row; see `copy_into_job`."""
    name = "gauges" if isinstance(instrument, Gauge) else "fans"
    there = _position_of(instrument, paths.rows_at(job, name))
    if there is not None:
        return job, f"{name}.{there}"
    blank = _blank_row(paths.rows_at(job, name))
    position = len(paths.rows_at(job, name)) if blank is None else blank
    if blank is None:
        job = paths.insert(job, name, position, rows.new_row(job, name))
    row_path = f"{name}.{position}"
    return paths.put(job, row_path, _for_row(job, row_path, instrument)), row_path


def offers(
    job: Job, register: InstrumentRegister, preferences: Preferences
) -> tuple[RegisterOffer, ...]:
    """Return each instrument of the job that differs from its record, field by field.

    Retired instruments and those without a serial number are passed over.
    """
    found: list[RegisterOffer] = []
    for kind, key, instrument in _in_use(register):
        if not _serial(instrument):
            continue
        name = _LISTS[kind]
        position = _position_of(instrument, paths.rows_at(job, name))
        if position is None:
            continue
        row_path = f"{name}.{position}"
        differences = _differences(job, row_path, instrument, preferences)
        if differences:
            words = instrument_words(instrument)
            found.append(RegisterOffer(kind, key, row_path, words, differences))
    return tuple(found)


def update_in_job(
    editor: Editor, register: InstrumentRegister, kind: InstrumentKind, key: str
) -> str:
    """Bring the job's copy of an instrument to what the register holds, as one step to undo.

    Tests keep the gauge, fan and ring they point at. A ring that only the job knows stays if a
    test uses it, and goes otherwise. Returns the path of the row.
    Raises KeyError if the register has no such instrument, or the job no copy of it.
    """
    instrument = _registered(register, kind, key)
    job, name = editor.job, _LISTS[kind]
    position = _position_of(instrument, paths.rows_at(job, name))
    if position is None:
        raise KeyError(f"the job has no copy of {kind} {key}")
    row_path = f"{name}.{position}"
    job = paths.put(job, row_path, _for_row(job, row_path, instrument))
    editor.take(job, lambda: _("update of {name}").format(name=instrument_words(instrument)))
    return row_path


def same_instrument(one: Gauge | Fan, other: Gauge | Fan) -> bool:
    """Say whether two records are of one instrument: by serial number, or all alike without one."""
    if type(one) is not type(other):
        return False
    if _serial(one) or _serial(other):
        return _serial(one) == _serial(other)
    return _without_keys(one) == _without_keys(other)


def _registered(register: InstrumentRegister, kind: InstrumentKind, key: str) -> Gauge | Fan:
    if kind is InstrumentKind.GAUGE:
        gauge = register.gauge(key)
        instrument = None if gauge is None else gauge.gauge
    else:
        fan = register.fan(key)
        instrument = None if fan is None else fan.fan
    if instrument is None:
        raise KeyError(f"the register has no {kind} {key}")
    return instrument


def _in_use(register: InstrumentRegister) -> list[tuple[InstrumentKind, str, Gauge | Fan]]:
    gauges = [item.gauge for item in register.gauges if not item.retired]
    fans = [item.fan for item in register.fans if not item.retired]
    return [
        *((InstrumentKind.GAUGE, gauge.key, gauge) for gauge in gauges),
        *((InstrumentKind.FAN, fan.key, fan) for fan in fans),
    ]


def _serial(instrument: Gauge | Fan) -> str:
    return "".join(instrument.serial.split()).casefold()


def _position_of(instrument: Gauge | Fan, rows_there: Iterable[Gauge | Fan]) -> int | None:
    places = (n for n, row in enumerate(rows_there) if same_instrument(instrument, row))
    return next(places, None)


def _without_keys(instrument: Gauge | Fan) -> Gauge | Fan:
    bare: dict[str, object] = {"key": ""}
    if isinstance(instrument, Fan):
        bare["rings"] = tuple(ring.model_copy(update={"key": ""}) for ring in instrument.rings)
    return instrument.model_copy(update=bare)


def _blank_row(rows_there: Iterable[Gauge | Fan]) -> int | None:
    return next((n for n, row in enumerate(rows_there) if _is_blank(row)), None)


def _is_blank(row: Gauge | Fan) -> bool:
    if isinstance(row, Gauge):
        return row == Gauge(key=row.key)
    rings = tuple(type(ring)(key=ring.key) for ring in row.rings)
    return row == Fan(key=row.key, rings=rings)


def _for_row(job: Job, row_path: str, instrument: Gauge | Fan) -> Gauge | Fan:
    """Return `instrument` with the keys that make it the row at `row_path`."""
    row: Gauge | Fan = paths.get(job, row_path)
    if isinstance(instrument, Gauge) or isinstance(row, Gauge):
        return instrument.model_copy(update={"key": row.key})
    rings = _rings_for(job, row, instrument)
    return instrument.model_copy(update={"key": row.key, "rings": rings})


def _rings_for(job: Job, row: Fan, fan: Fan) -> tuple[Ring, ...]:
    """Return the rings of `fan` under the keys of the rings of `row` they stand for."""
    used = {value for _path, value in paths.expand(job, "tests.*.setup.ring")}
    taken = used | {value for _path, value in paths.expand(job, "fans.*.rings.*.key")}
    filled: list[Ring] = []
    kept: list[Ring] = []
    for theirs, ours in matched_rings(row.rings, fan.rings):
        if ours is None:
            if theirs is not None and theirs.key in used:
                kept.append(theirs)
            continue
        key = rows.first_free("r", taken) if theirs is None else theirs.key
        taken.add(key)
        filled.append(ours.model_copy(update={"key": key}))
    return (*filled, *kept)


def _differences(
    job: Job, row_path: str, instrument: Gauge | Fan, preferences: Preferences
) -> tuple[Difference, ...]:
    row: Gauge | Fan = paths.get(job, row_path)
    if isinstance(row, Gauge) and isinstance(instrument, Gauge):
        return gauge_differences(row_path, row, instrument, preferences)
    if isinstance(row, Fan) and isinstance(instrument, Fan):
        used = frozenset(value for _path, value in paths.expand(job, "tests.*.setup.ring"))
        return fan_differences(row_path, row, instrument, used, preferences)
    return ()
