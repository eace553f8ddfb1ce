"""Limits of the user's own: copied from an edition, changed, and written as a file to share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from enum import StrEnum
from pathlib import Path
from typing import Any, cast

from pydantic import BaseModel, ValidationError

from deskapp.domain import paths
from deskapp.domain.finding import Finding
from deskapp.domain.limit import Edition, LimitRow, Verification, Waiver
from deskapp.domain.told_problem import ToldProblem
from deskapp.i18n import _
from deskapp.limits.catalogue import read_edition
from deskapp.limits.faults import Fault, faults_of

SUFFIX = ".toml"
_HEADER = """\
# A limit for Ductfolio. Every row names its clause, its source and a status; verified_by and
# verified_on tell who compared it with the text of the code, and when. Numbers are in the unit the
# code itself writes. The README beside the published limits describes every entry.

"""


class OwnLimitProblem(ToldProblem):
    """A limit of the user's own cannot be read, kept or taken over.

    `faults` point at the entries it is about.
    """

    def __init__(self, code: str, text: str, faults: tuple[Fault, ...] = ()) -> None:
        super().__init__(code, text)
        self.faults = faults


def as_toml(edition: Edition) -> str:
    """Return an edition as the text of a file, which reads back to the very same edition."""
    import tomli_w

    return _HEADER + tomli_w.dumps(_plain(edition))


def read(path: Path) -> Edition:
    """Read one file. Raises OwnLimitProblem, naming file, row and entry."""
    found = read_edition(path)
    if isinstance(found, Finding):
        raise OwnLimitProblem("unreadable", found.text)
    return found


def edition_file_name(edition: Edition) -> str:
    """Return the name of the file an edition is kept in, made from its id."""
    return slug(edition.id).replace("-", "_") + SUFFIX


def slug(text: str) -> str:
    """Return `text` as an id: small letters, digits and hyphens; ``limit`` if nothing is left."""
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:60].strip("-") or "limit"


def free_id(wanted: str, taken: Iterable[str]) -> str:
    """Return `wanted` as an id, or with -2, -3, ... where that is taken."""
    used, base, number = set(taken), slug(wanted), 2
    found = base
    while found in used:
        found = f"{base}-{number}"
        number += 1
    return found


def copy_edition(
    edition: Edition, new_id: str, title: str = "", row_ids: Iterable[str] = ()
) -> Edition:
    """Return a copy to change: all rows, or the rows named, each entered by the user from now on.

    What it was copied from stays in the source of each row and waiver. Nobody counts as having
    verified the copy. Raises KeyError for a row the edition does not have, OwnLimitProblem for an
    id or a title that cannot be one.
    """
    wanted = set(row_ids) or {row.id for row in edition.rows}
    unknown = wanted - {row.id for row in edition.rows}
    if unknown:
        raise KeyError(f"there is no row {', '.join(sorted(unknown))} in {edition.id}")
    kept = tuple(_own(row, edition) for row in edition.rows if row.id in wanted)
    rows = tuple(
        row
        if row.alternative_to in wanted or not row.alternative_to
        else row.model_copy(update={"alternative_to": ""})
        for row in kept
    )
    waivers = tuple(
        waiver
        for one in edition.waivers
        if (waiver := _own_waiver(one, edition, wanted)) is not None
    )
    body = _("Own limit, after {body}").format(body=edition.body)
    changes: dict[str, Any] = {"id": new_id, "body": body, "rows": rows, "waivers": waivers}
    if title:
        changes["title"] = title
    return checked(edition.model_copy(update=changes))


def copy_row(edition: Edition, row_id: str, other: Edition | None = None) -> Edition:
    """Return `edition` with one more row: a copy of its own row, or of a row of `other`.

    Raises KeyError for a row that is not there, OwnLimitProblem if the row cannot stand there.
    """
    source = other or edition
    row = source.row(row_id)
    if row is None:
        raise KeyError(f"there is no row {row_id} in {source.id}")
    new = _own(row, source).model_copy(
        update={"id": free_id(row.id, (one.id for one in edition.rows))}
    )
    if new.alternative_to and edition.row(new.alternative_to) is None:
        new = new.model_copy(update={"alternative_to": ""})
    return checked(edition.model_copy(update={"rows": (*edition.rows, new)}))


def remove_row(edition: Edition, row_id: str) -> Edition:
    """Return `edition` without a row. Raises OwnLimitProblem where that row is still needed."""
    rows = tuple(row for row in edition.rows if row.id != row_id)
    return checked(edition.model_copy(update={"rows": rows}))


def changed(edition: Edition, path: str, value: object) -> Edition:
    """Return `edition` with `value` at `path` (``title``, ``rows.0.rule.rate``), checked anew.

    Raises OwnLimitProblem, naming row and entry, if the whole is then no edition; KeyError for a
    place the edition does not have.
    """
    return checked(paths.put(edition, path, value))


def checked(edition: Edition) -> Edition:
    """Return `edition` if it is one. Raises OwnLimitProblem, naming row and entry."""
    return edition_from(_plain(edition))


def edition_from(data: Mapping[str, Any]) -> Edition:
    """Make an edition of plain data. Raises OwnLimitProblem, naming row and entry."""
    try:
        return Edition.model_validate(data)
    except ValidationError as error:
        faults = faults_of(error, data)
        text = " ".join(f"{fault.text[:1].upper()}{fault.text[1:]}." for fault in faults)
        raise OwnLimitProblem("not-an-edition", text, faults) from error


def taken_over(edition: Edition, taken: Iterable[str], *, rename: bool = False) -> Edition:
    """Return an edition of somebody else to be kept among one's own.

    Its rows and waivers count as entered by the user, whatever the file says; who verified them
    stays. Where its id is taken, it gets another one with `rename`. Raises OwnLimitProblem for an
    id that is taken, without `rename`.
    """
    used = set(taken)
    own_id = edition.id
    if own_id in used:
        if not rename:
            text = _(
                'There is already an edition with the id "{id}". Give this one another id, or '
                "remove the other one first."
            )
            raise OwnLimitProblem("id-taken", text.format(id=own_id))
        own_id = free_id(own_id, used)
    status = {"status": Verification.USER}
    return edition.model_copy(
        update={
            "id": own_id,
            "rows": tuple(row.model_copy(update=status) for row in edition.rows),
            "waivers": tuple(waiver.model_copy(update=status) for waiver in edition.waivers),
        }
    )


def _own(row: LimitRow, edition: Edition) -> LimitRow:
    return row.model_copy(update=_own_source(edition, row.clause, row.source))


def _own_waiver(waiver: Waiver, edition: Edition, wanted: set[str]) -> Waiver | None:
    rows = tuple(row_id for row_id in waiver.rows if row_id in wanted)
    if waiver.rows and not rows:
        return None
    update = _own_source(edition, waiver.clause, waiver.source)
    return waiver.model_copy(update={"rows": rows, **update})


def _own_source(edition: Edition, clause: str, source: str) -> dict[str, Any]:
    text = _("Copied from {edition}, {clause}. {source}")
    return {
        "status": Verification.USER,
        "source": text.format(edition=edition.name, clause=clause, source=source),
        "verified_by": "",
        "verified_on": None,
    }


def _plain(value: object) -> Any:
    """Return records, answers and tuples as what a file can hold; empty and usual entries go."""
    if isinstance(value, BaseModel):
        names = type(value).model_fields
        return {
            name: _plain(entry)
            for name, spec in names.items()
            if (entry := getattr(value, name)) != spec.default and entry is not None
        }
    if isinstance(value, tuple | list):
        return [_plain(entry) for entry in cast("Iterable[object]", value)]
    return str(value) if isinstance(value, StrEnum) else value
