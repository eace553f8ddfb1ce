"""Whether the value kept for an entry is the one its text says."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from deskapp.domain.field_spec import FieldSpec, Form, Units
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import Measured
from deskapp.i18n import _
from deskapp.units.convert import to_unit
from deskapp.units.display import in_sentences
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import SI_UNIT, fits

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
    read = _meanings(value.typed, spec.kind, value.unit, spec.units)
    if not read or any(math.isclose(value.si, si, rel_tol=AGREEMENT) for si, _unit in read):
        return
    yield Finding(
        level=Level.STOP,
        code="typed-otherwise",
        path=path,
        what=_("{label}: “{typed}” was typed, but the value kept for it is {kept}.").format(
            label=label_of(path), typed=value.typed, kept=_shown(spec.kind, value.si, read[0][1])
        ),
        allowed=_("Nothing is worked out from it until both agree."),
        mend=_("Type it again, or clear the field."),
    )


@lru_cache(maxsize=8192)
def _meanings(
    typed: str, kind: Kind, unit: str, usual: Units | None
) -> tuple[tuple[float, str], ...]:
    """Return value and unit of each way to read `typed`, whose number may have been in `unit`.

    Where no unit is kept that fits, a number alone may be in any unit the field takes it in.
    """
    default = (unit,) if unit and fits(unit, kind) else (*(usual or ()), SI_UNIT[kind])
    found = (parse(typed, kind, one, style) for one in default for style in NumberStyle)
    return tuple(dict.fromkeys((it.si, it.unit) for it in found if isinstance(it, Quantity)))


def _shown(kind: Kind, si: float, unit: str) -> str:
    """Return a value with as many decimals as tell it from any that does not agree with it."""
    size = abs(to_unit(si, unit))
    most = 0 if size == 0.0 else min(max(_DIGITS - 1 - math.floor(math.log10(size)), 0), 15)
    fewest = next((n for n in range(most) if round(size, n) == round(size, most)), most)
    return in_sentences().show(kind, si, unit, fewest)
