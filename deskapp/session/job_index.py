"""The list of jobs: what each file holds in a few words, kept in a cache that can be rebuilt.

A file is read anew when its size or its time of change differs from what the cache remembers. The
cache is no archive: it may be deleted at any time.
"""

from __future__ import annotations

import os
import time
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import ValidationError

from deskapp.archive.container import EXTENSION
from deskapp.archive.problems import JobFileProblem
from deskapp.domain.base import Frozen
from deskapp.i18n import _, language
from deskapp.session.job_line import JobLine, described
from deskapp.session.patience import all_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

CACHE_NAME = "jobs.json"
VERSION = 5
"""Raised when what a line says is worked out in another way, so that old caches are rebuilt."""
MOST_JOBS = 20_000
_KEPT_TOGETHER = 200
_PATIENCE_WITH_FILES = 15.0
DEEPEST = 4
"""Folders below the folder for jobs that are looked into, such as year, builder, street and lot."""


class _Cache(Frozen):
    version: int
    lines: tuple[JobLine, ...]


class JobIndex:
    """Lists job files. Used from one thread at a time."""

    def __init__(self, cache_file: Path, preferences: Preferences, shelf: Shelf) -> None:
        """Remember lines in `cache_file`; `preferences` say how typed texts are read.

        `shelf` tells what stops a job.
        """
        self._cache_file = cache_file
        self._preferences = preferences
        self._shelf = shelf
        self._known: dict[str, JobLine] | None = None
        self._waiting: list[JobLine] = []
        self._to_read = 0
        self._unkept = 0
        self._lines: dict[str, JobLine] = {}
        self.away: tuple[str, ...] = ()

    def prefer(self, preferences: Preferences) -> None:
        """Read typed texts by other preferences from now on."""
        self._preferences = preferences

    def look(
        self, folders: Sequence[Path], others: Iterable[str] = (), usual: Path | None = None
    ) -> None:
        """See what job files there are in `folders` and below, and by the names in `others`.

        A folder that does not answer or is not there is named in `away`; what was known of its jobs
        stays in the list. Only the `usual` one need not be there before there is a job in it.
        """
        if self._known is None:
            self._known = self._load()
        self._waiting, self._lines, away = [], {}, list[str]()
        for folder in dict.fromkeys(folders):
            known = [
                line for path, line in self._known.items() if Path(path).is_relative_to(folder)
            ]
            found = all_of(partial(_stamps_in, folder))
            needed = bool(known) or folder != usual
            if found is None or (needed and not found and not _is_there(folder)):
                away.append(str(folder))
                self._lines |= {line.path: _gone(line) for line in known}
            else:
                self._take(found)
        for path in dict.fromkeys(others):
            if path not in self._lines and not any(Path(path).is_relative_to(one) for one in away):
                self._take(all_of(lambda path=path: [_stamped(path)]) or [_unanswered(path)])
        self.away = tuple(away)
        self._to_read = len(self._waiting)

    def _take(self, found: Iterable[JobLine]) -> None:
        """List files as they are now; those that changed are to be read."""
        for now in found:
            line, known = now, (self._known or {}).get(now.path)
            if known is not None and now.is_away:
                line = _gone(known)
            elif known is not None and _still_holds(known, now):
                line = known
            elif not now.problem:
                self._waiting.append(now)
            self._lines[now.path] = line

    def read_some(self, seconds: float) -> bool:
        """Read files that changed, for so many seconds; return whether there are more to read.

        Now and then what was read is kept, so that little of it is lost whenever the program ends.
        """
        end = time.monotonic() + seconds
        while self._waiting and time.monotonic() < end:
            line = self._waiting.pop()
            self._lines[line.path] = _read(line, self._preferences, self._shelf)
            self._unkept += 1
            if not self._waiting or self._unkept == _KEPT_TOGETHER:
                self.keep()
        return bool(self._waiting)

    @property
    def progress(self) -> tuple[int, int]:
        """How many of the files that had to be read are read, and how many they are."""
        return self._to_read - len(self._waiting), self._to_read

    @property
    def lines(self) -> tuple[JobLine, ...]:
        """The jobs, those changed last first; of a file not read yet only its name is known."""
        return tuple(sorted(self._lines.values(), key=lambda line: -line.changed))

    def _load(self) -> dict[str, JobLine]:
        try:
            cache = _Cache.model_validate_json(self._cache_file.read_bytes())
        except (OSError, ValidationError, ValueError):
            return {}
        return {line.path: line for line in cache.lines} if cache.version == VERSION else {}

    def keep(self) -> None:
        """Keep what is read; where that does not work, files are read again the next time."""
        from deskapp.archive.safe_write import write_whole

        self._unkept = 0
        unread = {line.path for line in self._waiting}
        self._known = {
            path: one.model_copy(update={"is_away": False})
            for path, one in self._lines.items()
            if path not in unread and not (one.is_away and one.problem)
        }
        cache = _Cache(version=VERSION, lines=tuple(self._known.values()))
        try:
            self._cache_file.parent.mkdir(parents=True, exist_ok=True)
            write_whole(self._cache_file, cache.model_dump_json().encode("utf-8"))
        except (OSError, JobFileProblem):
            return


def job_files(folder: Path) -> Iterator[str]:
    """Yield the paths of the job files in `folder` and below, in order; none if it is not there."""
    found = 0
    for place, below, names in os.walk(folder):
        depth = len(Path(place).relative_to(folder).parts)
        deeper = sorted(name for name in below if not name.startswith("."))
        below[:] = deeper if depth < DEEPEST else []
        for name in sorted(names):
            if name.lower().endswith(EXTENSION) and not name.startswith("."):
                yield str(Path(place) / name)
                found += 1
        if found >= MOST_JOBS:
            return


def _stamps_in(folder: Path) -> Iterator[JobLine]:
    return (_stamped(path) for path in job_files(folder))


def _is_there(folder: Path) -> bool:
    return bool(all_of(lambda: [True] if folder.is_dir() else []))


def _gone(line: JobLine) -> JobLine:
    return line.model_copy(update={"is_away": True})


def _unanswered(path: str) -> JobLine:
    return JobLine(path=path, problem=_("This file is not reachable now."), is_away=True)


def _stamped(path: str) -> JobLine:
    try:
        stat = Path(path).stat()
    except FileNotFoundError:
        return JobLine(path=path, problem=_("This file is no longer there."))
    except (OSError, ValueError) as error:
        return JobLine(path=path, problem=str(error))
    return JobLine(path=path, changed=stat.st_mtime_ns, size=stat.st_size)


def _still_holds(known: JobLine, now: JobLine) -> bool:
    """Say whether the file is as it was, and its words are of the language in use."""
    is_same = (known.changed, known.size) == (now.changed, now.size)
    return is_same and known.spoken in ("", language())


def _read(line: JobLine, preferences: Preferences, shelf: Shelf) -> JobLine:
    from deskapp.archive import job_file

    try:
        read = all_of(lambda: [job_file.read_job(Path(line.path))], _PATIENCE_WITH_FILES)
    except JobFileProblem as problem:
        return line.model_copy(update={"problem": problem.text, "spoken": language()})
    return described(line, read[0], preferences, shelf) if read else _unanswered(line.path)
