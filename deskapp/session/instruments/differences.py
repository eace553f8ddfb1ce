"""Two records of one instrument held against each other, field by field, in words."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose
from typing import TYPE_CHECKING

from deskapp.domain.fields import field_at, label_of
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import _, labeled
from deskapp.session.instruments.names import ring_name
from deskapp.session.instruments.ring_pairs import matched_rings
from deskapp.session.typed import text_to_edit, text_to_show
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.base import Frozen
    from deskapp.session.settings import Preferences

_BESIDE = {"key", "rings", "certificate_pairs"}
_EQUAL = 1e-12


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that differs: its path in the job, its words, and both values as texts."""

    path: str
    label: str
    in_job: str
    in_register: str


def gauge_differences(
    path: str, in_job: Gauge, in_register: Gauge, preferences: Preferences
) -> tuple[Difference, ...]:
    """Return the fields in which the gauge at `path` of a job differs from the register."""
    return tuple(_of_fields(path, in_job, in_register, preferences))


def fan_differences(
    path: str, in_job: Fan, in_register: Fan, used: frozenset[str], preferences: Preferences
) -> tuple[Difference, ...]:
    """Return the fields in which the fan at `path` of a job differs, with those of its rings.

    `used` holds the keys of rings that tests of the job use. Such a ring that the register does
    not know is none of its business, as an update would leave it.
    """
    found = list(_of_fields(path, in_job, in_register, preferences))
    for theirs, ours in matched_rings(in_job.rings, in_register.rings):
        if theirs is None and ours is not None:
            place = f"{path}.rings"
            name = ring_name(ours, in_register.rings.index(ours), preferences.formatter)
            found.append(Difference(place, _("Ring"), NO_VALUE, name))
        elif theirs is not None and ours is None and theirs.key not in used:
            place = f"{path}.rings.{in_job.rings.index(theirs)}"
            name = ring_name(theirs, in_job.rings.index(theirs), preferences.formatter)
            found.append(Difference(place, label_of(place), name, NO_VALUE))
        elif theirs is not None and ours is not None:
            place = f"{path}.rings.{in_job.rings.index(theirs)}"
            found.extend(_of_fields(place, theirs, ours, preferences))
            found.extend(_of_pairs(place, theirs, ours))
    return tuple(found)


def _of_fields(
    path: str, theirs: Frozen, ours: Frozen, preferences: Preferences
) -> Iterator[Difference]:
    for name in type(theirs).model_fields:
        if name in _BESIDE:
            continue
        one: object = getattr(theirs, name)
        other: object = getattr(ours, name)
        if _same(one, other):
            continue
        place = f"{path}.{name}"
        spec = field_at(place)
        texts = [text_to_show(spec, value, preferences) for value in (one, other)]
        if texts[0] == texts[1]:
            texts = [text_to_edit(spec, value, preferences) for value in (one, other)]
        yield Difference(place, label_of(place), texts[0] or NO_VALUE, texts[1] or NO_VALUE)


def _of_pairs(path: str, theirs: Ring, ours: Ring) -> Iterator[Difference]:
    one, other = _pair_values(theirs), _pair_values(ours)
    if one == other:
        return
    label = _("Pairs of the certificate ({row})").format(row=label_of(path))
    yield Difference(f"{path}.certificate_pairs", label, _pair_words(theirs), _pair_words(ours))


def _pair_values(ring: Ring) -> list[tuple[float, float]]:
    return [(pair.signal.si, pair.flow.si) for pair in ring.certificate_pairs]


def _pair_words(ring: Ring) -> str:
    pairs = [labeled(pair.signal.typed, pair.flow.typed) for pair in ring.certificate_pairs]
    return "; ".join(pairs) or NO_VALUE


def _same(one: object, other: object) -> bool:
    """Compare what is meant: values of what could be read, otherwise the texts."""
    if isinstance(one, Measured) and isinstance(other, Measured):
        if one.si is not None and other.si is not None:
            return isclose(one.si, other.si, rel_tol=_EQUAL)
        return one.si is other.si and one.typed == other.typed
    if isinstance(one, Day) and isinstance(other, Day):
        return one.value == other.value and (one.value is not None or one.typed == other.typed)
    if isinstance(one, str) and isinstance(other, str):
        return one.strip() == other.strip()
    return one == other
