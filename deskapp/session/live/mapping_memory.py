"""The column mapping of each instrument, kept by its serial number in a small file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, cast

from pydantic import ValidationError

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.live.columns import ColumnMapping

if TYPE_CHECKING:
    from pathlib import Path

FILE_NAME = "column_mappings.json"
MOST_KEPT = 200

_FORMAT = "ductfolio-column-mappings"
_VERSION = 1


def recall(folder: Path, serial: str) -> tuple[ColumnMapping | None, Finding | None]:
    """Return the mapping kept for the instrument with this serial number, if there is one.

    A file or an entry that cannot be read earns a finding and counts as none.
    """
    entries, about = _entries(folder)
    entry = entries.get(_key(serial))
    if entry is None:
        return None, about
    try:
        return ColumnMapping.model_validate_json(json.dumps(entry)), about
    except ValidationError:
        return None, _unread()


def remember(folder: Path, serial: str, mapping: ColumnMapping) -> Finding | None:
    """Keep a mapping for the instrument with this serial number; say why if that does not work.

    The folder is made if need be. Beyond 200 instruments the one kept longest ago goes.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole

    key = _key(serial)
    if not key:
        return Finding(
            level=Level.NOTE,
            code="mapping-without-serial",
            what=_("The columns are kept by serial number, and the gauge has none."),
            mend=_("Type the serial number of the gauge to have its columns remembered."),
        )
    entries, _about = _entries(folder)
    entries.pop(key, None)
    entries[key] = mapping.model_dump(mode="json")
    kept = dict(list(entries.items())[-MOST_KEPT:])
    content = {"format": _FORMAT, "version": _VERSION, "mappings": kept}
    text = json.dumps(content, indent=2, ensure_ascii=False) + "\n"
    path = folder / FILE_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, text.encode("utf-8", "replace"))
    except JobFileProblem as problem:
        return _not_kept(problem.text)
    except OSError as error:
        return _not_kept(write_problem(path, error).text)
    return None


def _entries(folder: Path) -> tuple[dict[str, object], Finding | None]:
    try:
        data: object = json.loads((folder / FILE_NAME).read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {}, None
    except (OSError, ValueError, RecursionError):
        return {}, _unread()
    content = cast("dict[str, object]", data) if isinstance(data, dict) else {}
    mappings = content.get("mappings")
    if content.get("format") != _FORMAT or not isinstance(mappings, dict):
        return {}, _unread()
    return dict(cast("dict[str, object]", mappings)), None


def _key(serial: str) -> str:
    return " ".join(serial.split()).casefold()


def _unread() -> Finding:
    return Finding(
        level=Level.NOTE,
        code="mapping-unread",
        what=_("The columns kept for this instrument ({file}) cannot be read.").format(
            file=FILE_NAME
        ),
        mend=_("Say what each column holds once more; that writes it anew."),
    )


def _not_kept(why: str) -> Finding:
    return Finding(
        level=Level.NOTE,
        code="mapping-not-kept",
        what=_("The columns hold for now, but could not be kept. {why}").format(why=why),
        mend=_("Give the program a folder it may write to."),
    )
