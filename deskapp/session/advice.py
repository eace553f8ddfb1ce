"""Words that go with results: what pan readings tell, and what to try short of the target."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.assess.pan import screen, worst_first
from deskapp.domain.fields import label_of
from deskapp.domain.screening import still_to_try
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from deskapp.domain.screening import Guidance, PanBand
    from deskapp.session.editor import Editor


@dataclass(frozen=True, slots=True)
class PanWords:
    """One register with what its pan readings tell; `urgency` counts from 0, nothing to do."""

    register: str
    reading: str
    label: str
    text: str
    urgency: int
    is_after: bool


def pan_words(editor: Editor) -> tuple[PanWords, ...]:
    """Return each register that was read, by its latest reading. Screening only, never a flow."""
    shelf = editor.shelf
    bands = {band.id: band for band in shelf.pan_bands}
    readings = screen(editor.job, shelf.pan_bands)
    return tuple(
        words
        for position, reading in enumerate(readings)
        if (words := _register(editor, position, reading.before_band, reading.after_band, bands))
    )


@dataclass(frozen=True, slots=True)
class PanBandWords:
    """What readings of one size tell, and the registers that read so, by their latest reading."""

    label: str
    text: str
    urgency: int
    before: tuple[str, ...]
    after: tuple[str, ...]


def pan_bands(editor: Editor) -> tuple[PanBandWords, ...]:
    """Return what the pan readings tell, the most pressing first, each with its registers."""
    registers = pan_words(editor)
    told = dict.fromkeys((one.urgency, one.label, one.text) for one in registers)
    return tuple(
        PanBandWords(
            label, text, urgency, _named(registers, label, False), _named(registers, label, True)
        )
        for urgency, label, text in sorted(told, key=lambda one: -one[0])
    )


def _named(registers: Iterable[PanWords], label: str, is_after: bool) -> tuple[str, ...]:
    here = (one for one in registers if one.label == label and one.is_after is is_after)
    return tuple(f"{one.register} {one.reading}" for one in here)


@dataclass(frozen=True, slots=True)
class WalkRow:
    """A register for drawing: sizes of its readings [Pa], both as shown, its band and urgency."""

    register: str
    before: float | None
    after: float | None
    before_text: str
    after_text: str
    label: str
    urgency: int


def registers_read(editor: Editor) -> tuple[WalkRow, ...]:
    """Return the registers that were read, the worst first."""
    bands = {band.id: band for band in editor.shelf.pan_bands}
    readings = screen(editor.job, editor.shelf.pan_bands)
    rows: list[WalkRow] = []
    for at in worst_first(readings, editor.shelf.pan_bands):
        one, path = readings[at], f"registers.{at}"
        band = bands[one.latest_band]
        rows.append(
            WalkRow(
                register=editor.job.registers[at].name or label_of(path),
                before=one.before,
                after=one.after,
                before_text=editor.shown_text(f"{path}.pan_before"),
                after_text=editor.shown_text(f"{path}.pan_after"),
                label=_(band.label),
                urgency=band.urgency,
            )
        )
    return tuple(rows)


def _register(
    editor: Editor, position: int, before: str, after: str, bands: Mapping[str, PanBand]
) -> PanWords | None:
    band = bands.get(after or before)
    if band is None:
        return None
    path = f"registers.{position}"
    name = editor.job.registers[position].name or label_of(path)
    reading = editor.shown_text(f"{path}.pan_{'after' if after else 'before'}")
    return PanWords(name, reading, _(band.label), _(band.text), band.urgency, bool(after))


def what_to_try(editor: Editor) -> tuple[Guidance, ...]:
    """Return what to try, in order, where a test did not reach its target pressure."""
    shelf, job = editor.shelf, editor.job
    told = {code for step in shelf.guidance for code in step.codes}
    found = [one for one in editor.findings if one.code in told and one.path.startswith("tests.")]
    stuck = {int(finding.path.split(".")[1]) for finding in found}
    tests = [job.tests[at] for at in sorted(stuck)]
    return still_to_try(shelf.guidance, {one.code for one in found}, tests)
