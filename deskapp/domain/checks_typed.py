"""Whether the value kept for an entry is the one its text says."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from deskapp.domain.field_spec import FieldSpec, Form, Units
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import CertificateFigure, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import _
from deskapp.units.convert import to_unit
from deskapp.units.display import day_in_words, in_sentences
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import SI_UNIT, fits
from deskapp.units.when import other_day

AGREEMENT = 1e-6
"""How far the value may be off what was typed, as a share: far more than arithmetic takes away."""

_DIGITS = 9


def typed_otherwise(path: str, spec: FieldSpec, value: Measured) -> Iterator[Finding]:
    """Yield a stop where the text of `value` reads as another value than the one that is kept.

    The style of the number is not kept, so a text that means the value in either style agrees, and
    one that cannot be read tells nothing.
    """
    if spec.form is not Form.QUANTITY or spec.kind is None or value.si is None or not value.typed:
        return
    read = _other_meaning(value.typed, value.si, spec.kind, value.unit, spec.units)
    if read:
        yield _otherwise(path, label_of(path), value.typed, _shown(spec.kind, value.si, read))


def day_otherwise(path: str, day: Day) -> Iterator[Finding]:
    """Yield a stop where the text of `day` names another day than the one that is kept."""
    if day.value is not None and day.typed and other_day(day.typed, day.value):
        yield _otherwise(path, label_of(path), day.typed, day_in_words(day.value))


def pairs_otherwise(job: Job) -> Iterator[Finding]:
    """Yield a stop for each figure of a certificate whose text reads as another value.

    Nothing but the printed pairs follows from it, so no value is set aside.
    """
    for at, fan in enumerate(job.fans):
        for row, ring in enumerate(fan.rings):
            path = f"fans.{at}.rings.{row}.coefficient"
            for label, typed, kept in _odd_figures(ring):
                where = label_of(f"fans.{at}.rings.{row}")
                name = _("{ring}, certificate, {label}").format(ring=where, label=label)
                found = _otherwise(path, name, typed, kept)
                yield found.model_copy(
                    update={
                        "code": "pair-typed-otherwise",
                        "mend": _("Open the pairs of this ring and type them again."),
                    }
                )


def _odd_figures(ring: Ring) -> Iterator[tuple[str, str, str]]:
    """Yield label, text and value kept of each figure of the pairs that is not the one typed."""
    for number, pair in enumerate(ring.certificate_pairs, 1):
        figures: tuple[tuple[str, Kind, CertificateFigure], ...] = (
            (_("fan signal of pair {n}"), Kind.PRESSURE, pair.signal),
            (_("flow of pair {n}"), Kind.FLOW, pair.flow),
        )
        for label, kind, figure in figures:
            read = _other_meaning(figure.typed, figure.si, kind, figure.unit, None)
            if read:
                yield label.format(n=number), figure.typed, _shown(kind, figure.si, read)


def _otherwise(path: str, label: str, typed: str, kept: str) -> Finding:
    return Finding(
        level=Level.STOP,
        code="typed-otherwise",
        path=path,
        what=_("{label}: “{typed}” was typed, but the value kept for it is {kept}.").format(
            label=label, typed=typed, kept=kept
        ),
        allowed=_("Nothing is worked out from it until both agree."),
        mend=_("Type it again, or clear the field."),
    )


def _other_meaning(typed: str, si: float, kind: Kind, unit: str, usual: Units | None) -> str:
    """Return the unit that `typed` reads in where it cannot mean `si`; else nothing."""
    read = _meanings(typed, kind, unit, usual)
    if not read or any(math.isclose(si, one, rel_tol=AGREEMENT) for one, _unit in read):
        return ""
    return read[0][1]


@lru_cache(maxsize=8192)
def _meanings(
    typed: str, kind: Kind, unit: str, usual: Units | None
) -> tuple[tuple[float, str], ...]:
    """Return value and unit of each way to read `typed`, whose number may have been in `unit`.

    Where no unit is kept that fits, a number alone may be in any unit the field takes it in.
    """
    default = (unit,) if unit and fits(unit, kind) else (*(usual or ()), SI_UNIT[kind])
    fitting = [one for one in default if fits(one, kind)]
    found = (parse(typed, kind, one, style) for one in fitting for style in NumberStyle)
    return tuple(dict.fromkeys((it.si, it.unit) for it in found if isinstance(it, Quantity)))


def _shown(kind: Kind, si: float, unit: str) -> str:
    """Return a value with as many decimals as tell it from any that does not agree with it."""
    size = abs(to_unit(si, unit))
    most = 0 if size == 0.0 else min(max(_DIGITS - 1 - math.floor(math.log10(size)), 0), 15)
    fewest = next((n for n in range(most) if round(size, n) == round(size, most)), most)
    return in_sentences().show(kind, si, unit, fewest)
