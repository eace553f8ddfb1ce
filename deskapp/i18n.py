"""Our own words in the language in use: for the window, the reports and the command line alike.

The program speaks one language (`use_language`). Inside `speaking` the words come in another, for
this thread of work only, so that a report can be made in Spanish while the window stays English.
"""

from __future__ import annotations

import gettext as _gettext
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

    Said = str | Callable[[], str]
    """Words, or what says them in the language in use, for words that are kept for later."""

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "es": "Español", "fr_CA": "Français (Canada)"}
"""The languages a person may choose, each by its own name."""


class _Tongue(NamedTuple):
    language: str
    words: _gettext.NullTranslations


_known = {ENGLISH: _Tongue(ENGLISH, _gettext.NullTranslations())}
_program = _known[ENGLISH]
_spoken: ContextVar[_Tongue | None] = ContextVar("spoken", default=None)


def use_language(language: str) -> None:
    """Let the program speak `language` (such as ``es``); English where it has no catalog."""
    global _program
    _program = _tongue(language)


@contextmanager
def speaking(language: str) -> Generator[None]:
    """Take words from the catalog of `language` inside the block; English if there is none.

    An empty `language` changes nothing. Other threads go on in their own language; work handed to
    one takes this language along in a copy of the context.
    """
    if not language:
        yield
        return
    token = _spoken.set(_tongue(language))
    try:
        yield
    finally:
        _spoken.reset(token)


def language() -> str:
    """Return the language in use here, also the key for anything that is kept with its words."""
    return _now().language


def language_tag() -> str:
    """Return the language in use here as files name it, such as ``fr-CA``."""
    return language().replace("_", "-")


def closest(locale_name: str) -> str:
    """Return the language of ours that fits a locale such as ``es_MX`` or ``fr-CA`` best."""
    name = locale_name.partition(".")[0].replace("-", "_")
    if name in LANGUAGES:
        return name
    own = name.partition("_")[0].lower()
    return next((one for one in LANGUAGES if one.partition("_")[0] == own), ENGLISH)


def _(text: str) -> str:
    """Return `text` in the language in use."""
    return _now().words.gettext(text) if text else ""


def pgettext(context: str, text: str) -> str:
    """Return `text` in the language in use, as it is said in this context: ``("door", "Open")``."""
    return _now().words.pgettext(context, text)


def ngettext(one: str, many: str, count: int) -> str:
    """Return the words that fit `count`; both hold the place ``{n}`` where the count is said."""
    return _now().words.ngettext(one, many, count)


def labeled(label: str, text: str) -> str:
    """Return `text` behind what it belongs to, as in ``Limit: 60 cfm``."""
    return _("{label}: {text}").format(label=label, text=text)


def in_sentence(words: str) -> str:
    """Return `words` to go on after other words: without the capital that begins a sentence.

    A word of capitals, such as CO, keeps its first one.
    """
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def said(words: Said) -> str:
    """Return words that were kept, in the language in use now."""
    return words if isinstance(words, str) else words()


def N_(text: str) -> str:  # noqa: N802 - the customary name of the marker
    """Mark `text` for translation without translating it yet."""
    return text


def _now() -> _Tongue:
    return _spoken.get() or _program


def _tongue(language: str) -> _Tongue:
    if language not in _known:
        from deskapp.catalog.files import words_of

        words = words_of(language)
        _known[language] = _known[ENGLISH] if words is None else _Tongue(language, words)
    return _known[language]
