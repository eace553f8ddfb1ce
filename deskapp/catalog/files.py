"""Finding the catalog of a language, and compiling it where nobody has done that yet."""

from __future__ import annotations

import gettext
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel.messages.catalog import Message

DOMAIN = "ductfolio"
PSEUDO = "qps"
"""A made-up language: English with accents and longer, to find words that were forgotten."""

_PACKAGE = Path(__file__).resolve().parents[1]


def catalogs_folder() -> Path:
    """Return the folder of catalogs: inside the package once installed, beside it in a clone."""
    inside = _PACKAGE / "_data" / "resources" / "i18n"
    return inside if inside.is_dir() else _PACKAGE.parent / "resources" / "i18n"


def catalog_source(language: str) -> Path:
    """Return the file that translators edit for `language`; it need not be there."""
    return catalogs_folder() / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def words_of(language: str) -> gettext.NullTranslations | None:
    """Return the catalog of `language`, or None where there is none that can be used.

    A compiled catalog as new as its source is taken as it is. Otherwise the source is compiled
    into the user's cache, since the program's own folder may not be written to.
    """
    if language == PSEUDO:
        from deskapp.catalog.pseudo import PseudoWords

        return PseudoWords()
    source = catalog_source(language)
    compiled = source.with_suffix(".mo")
    try:
        if not is_current(compiled, source):
            compiled = _in_cache(language, source)
        with compiled.open("rb") as file:
            return gettext.GNUTranslations(file)
    except (OSError, ValueError):
        return None


def compile_catalog(source: Path, target: Path) -> None:
    """Write the compiled form of the catalog `source` to `target`, whole or not at all.

    Raises OSError where a file cannot be read or written, ValueError for a damaged catalog.
    """
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with source.open("rb") as file:
        catalog = read_po(file, abort_invalid=True)
    for message in [message for message in catalog if is_open(message)]:
        catalog.delete(message.id, message.context)
    target.parent.mkdir(parents=True, exist_ok=True)
    draft = target.with_suffix(".draft")
    with draft.open("wb") as file:
        write_mo(file, catalog)
    draft.replace(target)


def is_open(message: Message) -> bool:
    """Say whether a text still waits for its translation."""
    said = message.string
    is_whole = all(said) if isinstance(said, (tuple, list)) else bool(said)
    return bool(message.id) and not is_whole


def _in_cache(language: str, source: Path) -> Path:
    from platformdirs import user_cache_path

    folder = user_cache_path("Ductfolio", appauthor=False) / "i18n"
    compiled = folder / f"{language}-{source.stat().st_mtime_ns:x}.mo"
    if not compiled.is_file():
        compile_catalog(source, compiled)
    return compiled


def is_current(compiled: Path, source: Path) -> bool:
    """Say whether `compiled` can be used; a source that was left behind is no reason against it."""
    if not compiled.is_file():
        return False
    return not source.is_file() or compiled.stat().st_mtime_ns >= source.stat().st_mtime_ns
