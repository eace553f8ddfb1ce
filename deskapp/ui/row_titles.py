"""What a row of a list is called on its tab."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.fields import label_of
from deskapp.i18n import N_, labeled

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge

ADD_WORDS = {
    "systems": N_("Add a system"),
    "gauges": N_("Add a gauge"),
    "fans": N_("Add a fan"),
    "tests": N_("Add a test"),
    "leaks": N_("Add a leak"),
    "registers": N_("Add a register"),
    "rereadings": N_("Add a quick reading"),
}
REMOVE_WORDS = {
    "systems": N_("Remove this system"),
    "gauges": N_("Remove this gauge"),
    "fans": N_("Remove this fan"),
    "tests": N_("Remove this test"),
    "leaks": N_("Remove this leak"),
    "registers": N_("Remove this register"),
    "rereadings": N_("Remove this quick reading"),
}
NONE_WORDS = {
    "systems": N_("No duct system yet. Each system is tested and judged by itself."),
    "gauges": N_("No gauge yet. Its serial number and calibration go into the report."),
    "fans": N_("No fan yet. Its rings turn a fan signal into a flow."),
    "tests": N_("No test yet. A retest is a test of its own; the first one stays."),
    "leaks": N_("No leak noted yet."),
    "registers": N_("No register noted yet. Only readings with a pressure pan need them."),
}
GROUP_TITLES = {
    "systems": N_("Duct systems"),
    "gauges": N_("Gauges"),
    "fans": N_("Fans"),
    "tests": N_("Tests"),
    "leaks": N_("Leaks"),
    "registers": N_("Registers"),
}
ADD_ROW = N_("Add a row")
REMOVE_ROW = N_("Remove this row")
NO_ROW = N_("None yet.")
# The fields whose texts name a row, the first filled one first.
_NAMING = {
    "systems": ("name", "serves"),
    "gauges": ("description", "serial"),
    "fans": ("description", "serial"),
    "leaks": ("place",),
    "registers": ("name",),
}


def row_title(bridge: Bridge, row_path: str) -> str:
    """Return the name of a row, such as ``Upstairs: Retest`` for a test."""
    list_name = row_path.partition(".")[0]
    if list_name == "tests":
        return _in_one_line(_test_title(bridge, row_path))
    if list_name == "leaks":
        return _in_one_line(_leak_title(bridge, row_path))
    naming = _NAMING.get(list_name, ())
    texts = (bridge.entry_text(f"{row_path}.{field}") for field in naming)
    return _in_one_line(next((text for text in texts if text.strip()), label_of(row_path)))


def _test_title(bridge: Bridge, row_path: str) -> str:
    label = bridge.entry_text(f"{row_path}.label") or label_of(row_path)
    if not bridge.value_at(f"{row_path}.system"):
        return label
    return labeled(bridge.shown_text(f"{row_path}.system"), label)


def _leak_title(bridge: Bridge, row_path: str) -> str:
    number = bridge.editor.job.leak_number(bridge.value_at(row_path).key)
    place = bridge.entry_text(f"{row_path}.place")
    if not place and bridge.value_at(f"{row_path}.location"):
        place = bridge.shown_text(f"{row_path}.location")
    return f"{number}. {place}" if place else label_of(row_path)


def _in_one_line(text: str) -> str:
    return " ".join(text.split())
