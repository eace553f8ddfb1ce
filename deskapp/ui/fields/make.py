"""The widget for each form of field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.choices import YesNo
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.ui.fields.chosen_fields import ChoiceField, YesNoField
from deskapp.ui.fields.moment_fields import ClockField, DayField
from deskapp.ui.fields.typed_fields import LineField, ParagraphField, QuantityField

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.fields.field import Field

_KINDS: dict[Form, type[Field]] = {
    Form.QUANTITY: QuantityField,
    Form.TEXT: LineField,
    Form.CLOCK: ClockField,
    Form.DAY: DayField,
    Form.PARAGRAPH: ParagraphField,
    Form.CHOICE: ChoiceField,
    Form.REFERENCE: ChoiceField,
}


def field_for(bridge: Bridge, spec: FieldSpec) -> Field:
    """Return a widget for `spec`, not yet bound to a place of the job."""
    kind = YesNoField if spec.choices is YesNo else _KINDS[spec.form]
    return kind(bridge, spec)
