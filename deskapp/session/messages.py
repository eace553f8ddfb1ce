"""The findings of an open job: texts that could not be read, then what checks and results say."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

from deskapp.domain.checks_clock import days_ahead
from deskapp.domain.checks_year import year_ahead
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.finding import Finding, Level, Nature
from deskapp.domain.leaving import leaving_findings
from deskapp.domain.raised_air import air_findings
from deskapp.domain.stops import lasting_findings, stop_findings
from deskapp.domain.zone_pressure import zone_findings
from deskapp.i18n import labeled
from deskapp.session.typed import problem_in
from deskapp.units.when import today

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.job import Job
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

_TYPED_FORMS = {Form.QUANTITY, Form.DAY, Form.CLOCK}

# The typed fields as a tree (part of the path -> the rest), so that a walk visits each row once.
_Tree: TypeAlias = "dict[str, FieldSpec | _Tree]"


def _tree() -> _Tree:
    tree: _Tree = {}
    for field in FIELDS:
        if field.form in _TYPED_FORMS:
            here = tree
            *parts, last = field.path.split(".")
            for part in parts:
                below = here.setdefault(part, {})
                assert isinstance(below, dict)
                here = below
            here[last] = field
    return tree


_TYPED_FIELDS = _tree()


def unread_findings(job: Job, preferences: Preferences) -> tuple[Finding, ...]:
    """Return a finding for each typed text of `job` that could not be read.

    Each is a stop, a time of day as well: it decides no result, but stands on the certificate.
    """
    return tuple(_walk(job, _TYPED_FIELDS, "", preferences))


def _walk(here: Any, tree: _Tree, so_far: str, preferences: Preferences) -> Iterator[Finding]:
    for part, below in tree.items():
        if part == "*" and isinstance(below, dict):
            for position, row in enumerate(here):
                yield from _walk(row, below, f"{so_far}{position}.", preferences)
            continue
        value = getattr(here, part)
        if isinstance(below, dict):
            yield from _walk(value, below, f"{so_far}{part}.", preferences)
        elif value is not None and value != "":
            finding = unread_finding(below, so_far + part, value, preferences)
            if finding is not None:
                yield finding


def unread_finding(
    spec: FieldSpec, path: str, value: object, preferences: Preferences, label: str = ""
) -> Finding | None:
    """Return the finding about the text kept in `value` at `path`, or None if it was read.

    `label` stands in for the words of the field table where the path is not in it.
    """
    problem = problem_in(spec, value, preferences)
    if problem is None:
        return None
    return Finding(
        level=Level.STOP,
        code=problem.code,
        path=path,
        what=labeled(label or label_of(path), problem.what),
        allowed=problem.allowed,
        mend=problem.mend,
    )


def together(unread: tuple[Finding, ...], others: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return all findings: dangers first, then what must be mended, then the rest.

    A field whose text could not be read has no value; what else would stop it, or says so too,
    says less and is left out.
    """
    places = {finding.path for finding in unread}
    rest = (
        f
        for f in others
        if not (f.path in places and (f.level is Level.STOP or f.code == "unread"))
    )
    return tuple(sorted((*unread, *rest), key=_weight))


def _weight(finding: Finding) -> tuple[int, bool]:
    return finding.level.rank, finding.nature not in (Nature.DANGER, Nature.PAST)


def picture_notices(job: Job, notices: Iterable[Finding]) -> dict[str, Finding]:
    """Return remarks about pictures by digest, since rows may move while a job is edited."""
    by_path = {notice.path: notice for notice in notices}
    return {photo.digest: by_path[path] for path, photo in job.pictures() if path in by_path}


def safety_findings(job: Job, shelf: Shelf) -> tuple[Finding, ...]:
    """Return stops, open or gone past, what is not left as it was found, and so on."""
    return (
        *stop_findings(job, shelf.stops),
        *lasting_findings(job, shelf.stops, shelf.cautions),
        *leaving_findings(job, shelf.arrival),
        *air_findings(job, shelf.cautions),
        *zone_findings(job, shelf.zone_guides),
        *days_ahead(job, today()),
        *year_ahead(job, today()),
    )


def missing_pictures(
    job: Job, photos: Mapping[str, bytes], notices: Mapping[str, Finding]
) -> Iterator[Finding]:
    """Yield the remark about each picture the job refers to and that is not there."""
    for path, photo in job.pictures():
        is_whole = all(digest in photos for digest in photo.digests)
        if photo.digest in notices and not is_whole:
            from deskapp.archive.job_file import told_anew

            yield told_anew(notices[photo.digest], path, photo).model_copy(update={"path": path})
