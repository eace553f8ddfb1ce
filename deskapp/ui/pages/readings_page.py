"""What stands beside a reading: the flow it comes to at the target pressure."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge


def flow_at_target_text(bridge: Bridge, reading_path: str) -> str:
    """Return the flow of one reading at the target pressure; a dash while there is none."""
    from deskapp.units.kinds import Kind

    _tests, test, _readings, position = reading_path.split(".")
    key = bridge.value_at(f"tests.{test}.key")
    result = bridge.assessment.test(key)
    found = None
    if result is not None:
        same = (reading for reading in result.readings if reading.index == int(position))
        found = next((reading.flow_at_target for reading in same), None)
    return bridge.formatter.show_optional(Kind.FLOW, found)
