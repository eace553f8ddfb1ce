"""New rows with sensible beginnings, and taking rows out together with what points at them."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from deskapp.domain import paths
from deskapp.domain.arrival import ArrivalItem
from deskapp.domain.choices import Metric
from deskapp.domain.drawing import Shape
from deskapp.domain.fields import pattern_of
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.leak import Leak
from deskapp.domain.repair import Rereading
from deskapp.domain.safety import Appliance
from deskapp.domain.screening import Register
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest, Reading, SetUp
from deskapp.i18n import LANGUAGES, _, language, speaking

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.job import Job

# Fields that hold the key of a row, by the list the row stands in.
_POINTING_AT = {
    "systems": ("tests.*.system", "leaks.*.system", "registers.*.system"),
    "tests": ("tests.*.retest_of", "rereadings.*.test"),
    "rereadings": ("leaks.*.reread",),
    "gauges": ("tests.*.setup.gauge",),
    "fans": ("tests.*.setup.fan",),
    "fans.*.rings": ("tests.*.setup.ring", "rereadings.*.ring"),
}

_CHOSEN = ("tests.*.setup.gauge", "tests.*.setup.fan", "tests.*.setup.ring", "rereadings.*.ring")
"""Which of them a person chooses: a first row has nothing there."""
_NAMED_SYSTEMS = 99

DONE_AT_ONE_SYSTEM = (
    "fan_attachment",
    "tap_location",
    "supplies_sealed",
    "returns_sealed",
    "filter_removed",
    "fresh_air_sealed",
)
"""What of a set-up is done at the system tested, and says nothing about the next one."""

_UNDONE = {name: getattr(SetUp(), name) for name in DONE_AT_ONE_SYSTEM}

_SHAPES: dict[type, Shape] = {Leak: Shape.LEAK, Register: Shape.REGISTER}


def new_row(job: Job, list_path: str) -> Any:
    """Return a row to be added to the list at `list_path`.

    A system takes over whether the work is new and where the ducts run; a test takes over set-up
    and air of the last test, never its readings (and the check of air says that it did), and is of
    the next system without a test: then what is done at one system, such as its seals, stays empty;
    a leak takes over its system and how it was found; a register system and side of the one before;
    a quick reading follows the same test as the last.
    Raises KeyError for a list that takes no rows.
    """
    pattern = pattern_of(list_path)
    rows = paths.rows_at(job, list_path)
    last = rows[-1] if rows else None
    if pattern == "systems":
        return _new_system(job, last)
    if pattern == "gauges":
        return Gauge(key=_free_key("g", job, "gauges"))
    if pattern == "fans":
        return Fan(key=_free_key("f", job, "fans"))
    if pattern == "fans.*.rings":
        return Ring(key=_free_key("r", job, "fans.*.rings"))
    if pattern == "tests":
        return _new_test(job, last)
    if pattern == "tests.*.readings":
        return Reading()
    if pattern == "leaks":
        return _new_leak(job, last)
    if pattern == "rereadings":
        return _new_rereading(job, last)
    if pattern == "registers":
        return _new_register(job, last)
    if pattern == "appliances":
        return Appliance(key=_free_key("b", job, "appliances"))
    if pattern == "arrival":
        return ArrivalItem(key=_free_key("a", job, "arrival"))
    raise KeyError(f"{list_path} takes no rows")


def comes_by_itself(pattern: str, value: object) -> bool:
    """Say whether a new row has `value` in the field at `pattern` before anything is typed.

    Such are what a row belongs to, and the name of a system, in whatever language it was added.
    """
    if any(pattern in pointing for pointing in _POINTING_AT.values()):
        return pattern not in _CHOSEN
    return pattern == "systems.*.name" and value in _names_of_new_systems()


@cache
def _names_of_new_systems() -> frozenset[str]:
    """Return the names that the first systems of a job are given, in each language."""
    names: set[str] = set()
    for spoken in dict.fromkeys((language(), *LANGUAGES)):
        with speaking(spoken):
            names.update(_("System {n}").format(n=n) for n in range(1, _NAMED_SYSTEMS + 1))
    return frozenset(names)


def _new_system(job: Job, last: DuctSystem | None) -> DuctSystem:
    key = _free_key("s", job, "systems")
    name = _("System {n}").format(n=len(job.systems) + 1)
    if last is None:
        return DuctSystem(key=key, name=name)
    return DuctSystem(key=key, name=name, work=last.work, duct_location=last.duct_location)


def _new_test(job: Job, last: LeakageTest | None) -> LeakageTest:
    key = _free_key("t", job, "tests")
    if last is None:
        return LeakageTest(key=key, system=_only_key(job.systems))
    system = _next_untested(job, last) if last.setup.is_whole else last.system
    setup = last.setup if system == last.system else last.setup.model_copy(update=_UNDONE)
    return LeakageTest(key=key, system=system, setup=setup, ambient=last.ambient)


def _next_untested(job: Job, last: LeakageTest) -> str:
    """Return the first system after that of `last` without a test, else that system itself."""
    keys = [system.key for system in job.systems]
    if last.setup.metric is Metric.ENVELOPE or last.system not in keys:
        return last.system
    at = keys.index(last.system) + 1
    waiting = (key for key in (*keys[at:], *keys[:at]) if not job.tests_of(key))
    return next(waiting, last.system)


def without_carried(before: Job, job: Job) -> Job:
    """Return `job`, a test moved to another system rid of what it took over from a test of the old.

    Seals, filter, and where fan and tap sit belong to one system. They go only as long as nothing
    is read and another test of the former system says the very same.
    """
    for position, test in enumerate(job.tests):
        former = before.test(test.key)
        if former is None or test.system in ("", former.system) or test.was_read:
            continue
        mates = (one for one in before.tests if one.system == former.system and one is not former)
        done = _done_at(test.setup)
        if done != _done_at(SetUp()) and any(_done_at(mate.setup) == done for mate in mates):
            setup = test.setup.model_copy(update=_UNDONE)
            job = paths.put(job, f"tests.{position}.setup", setup)
    return job


def _done_at(setup: SetUp) -> tuple[object, ...]:
    return tuple(getattr(setup, name) for name in DONE_AT_ONE_SYSTEM)


def _new_leak(job: Job, last: Leak | None) -> Leak:
    key = _free_key("l", job, "leaks")
    if last is None:
        return Leak(key=key, system=_only_key(job.systems))
    return Leak(key=key, system=last.system, found_by=last.found_by)


def _new_rereading(job: Job, last: Rereading | None) -> Rereading:
    key = _free_key("q", job, "rereadings")
    if last is not None:
        return Rereading(key=key, test=last.test, read_on=last.read_on, ring=last.ring)
    ducts = [test for test in job.tests if test.setup.metric is not Metric.ENVELOPE]
    return Rereading(key=key, test=ducts[-1].key if ducts else "")


def _new_register(job: Job, last: Register | None) -> Register:
    key = _free_key("p", job, "registers")
    if last is None:
        return Register(key=key, system=_only_key(job.systems))
    return Register(key=key, system=last.system, side=last.side)


def _only_key(systems: tuple[DuctSystem, ...]) -> str:
    return systems[0].key if len(systems) == 1 else ""


def _free_key(letter: str, job: Job, list_pattern: str) -> str:
    """Return the first of s1, s2, ... that no row has and no field points at."""
    taken = {value for _path, value in paths.expand(job, f"{list_pattern}.*.key")}
    for pattern in _POINTING_AT.get(list_pattern, ()):
        taken.update(value for _path, value in paths.expand(job, pattern))
    return first_free(letter, taken)


def first_free(letter: str, taken: Iterable[object]) -> str:
    """Return the first of ``s1``, ``s2``, ... that is not `taken`."""
    used = set(taken)
    number = 1
    while f"{letter}{number}" in used:
        number += 1
    return f"{letter}{number}"


def without_row(job: Job, row_path: str) -> Job:
    """Return `job` without a row; fields that held its key are emptied, its marker is removed.

    Raises KeyError if there is no such row.
    """
    row = paths.get(job, row_path)
    list_path, _position = paths.split_row(row_path)
    shorter = _without_marker(paths.remove(job, row_path), row)
    gone = _keys_gone(row, pattern_of(list_path))
    for list_pattern, keys in gone.items():
        for pattern in _POINTING_AT.get(list_pattern, ()):
            for path, value in list(paths.expand(shorter, pattern)):
                if value in keys:
                    shorter = paths.put(shorter, path, "")
    return shorter


def _without_marker(job: Job, row: object) -> Job:
    """Return `job` without the marker that stood for a leak or register on the sketch."""
    shape = _SHAPES.get(type(row))
    if shape is None or not isinstance(row, Leak | Register):
        return job
    items = job.sketch.items
    kept = tuple(item for item in items if (item.shape, item.refers) != (shape, row.key))
    return job if len(kept) == len(items) else paths.put(job, "sketch.items", kept)


def _keys_gone(row: object, list_pattern: str) -> dict[str, set[str]]:
    """Return the keys that go with `row`, by the pattern of their list."""
    gone: dict[str, set[str]] = {}
    if isinstance(row, DuctSystem | Gauge | Fan | Ring | LeakageTest | Rereading):
        gone[list_pattern] = {row.key}
    if isinstance(row, Fan):
        gone["fans.*.rings"] = {ring.key for ring in row.rings}
    return gone
