"""Translation of our own words, for the window, the reports and the command line alike."""

from __future__ import annotations

import gettext as _gettext
from pathlib import Path

_DOMAIN = "ductfolio"
_current: _gettext.NullTranslations = _gettext.NullTranslations()


def set_language(language: str, folder: Path) -> bool:
    """Use the catalog of `language` (such as ``"es"``) below `folder`; English if there is none.

    Returns whether a catalog was found.
    """
    global _current
    try:
        _current = _gettext.translation(_DOMAIN, folder, languages=[language])
    except FileNotFoundError:
        _current = _gettext.NullTranslations()
        return False
    return True


def catalog() -> object:
    """Return the catalog in use, as a key for anything that is kept with its words."""
    return _current


def _(text: str) -> str:
    """Return `text` in the chosen language."""
    return _current.gettext(text)


def N_(text: str) -> str:  # noqa: N802 - the customary name of the marker
    """Mark `text` for translation without translating it yet."""
    return text
