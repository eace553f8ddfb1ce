"""Gathers our words into the catalogs that translators edit, and compiles them.

Only for those who work on the program: `python3 -m deskapp.bootstrap words`. Gathered are the calls
in the code, the entries of data files that `deskapp.catalog.data_words` names, and the docstrings
of the formulas that help shows (`deskapp.catalog.formula_words`). A catalog holds no line numbers
and no dates, so that it changes only where words did.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from deskapp.catalog.files import compile_catalog, is_current, is_open

ROOT = Path(__file__).resolve().parents[2]
CATALOGS = ROOT / "resources" / "i18n"
DATA = "deskapp.catalog.data_words:extract"
FORMULAS = "deskapp.catalog.formula_words:extract"
KEYWORDS = {"_": None, "N_": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2)}
SOURCES = (
    ("deskapp", "**.py", "python"),
    ("report_templates", "**.toml", DATA),
    ("resources", "**.toml", DATA),
    ("resources/help", "topics.toml", FORMULAS),
)
CHANGING = re.compile(
    rb'^"(POT-Creation-Date|PO-Revision-Date|Last-Translator|Language-Team|Generated-By'
    rb"|Project-Id-Version|Report-Msgid-Bugs-To):.*\n",
    re.MULTILINE,
)


def gather() -> Catalog:
    """Return every text of ours, with the files it stands in."""
    catalog = Catalog(project="Ductfolio", fuzzy=False)
    for folder, pattern, method in SOURCES:
        found = extract_from_dir(
            ROOT / folder, [(pattern, method)], keywords=KEYWORDS, comment_tags=("words:",)
        )
        for file, _line, message, comments, context in found:
            told = [comment.removeprefix("words:").strip() for comment in comments]
            place = (f"{folder}/{file}", 0)
            catalog.add(message, None, [place], auto_comments=told, context=context)
    return catalog


def refresh(catalog: Catalog, source: Path) -> Catalog:
    """Bring one catalog up to date: new texts empty, gone ones dropped, none guessed."""
    language = source.parents[1].name
    with source.open("rb") as file:
        kept = read_po(file, locale=language)
    kept.update(catalog, no_fuzzy_matching=True)
    kept.obsolete.clear()
    for message in kept:
        message.flags -= {"python-format"}
        if message.id and message.fuzzy:  # a text that has become a singular and a plural
            message.flags -= {"fuzzy"}
            message.string = ("",) * kept.num_plurals if message.pluralizable else ""
    source.write_bytes(catalog_text(kept))
    return kept


def catalog_text(catalog: Catalog) -> bytes:
    """Return the catalog as its file, sorted, with nothing that changes by itself."""
    buffer = BytesIO()
    write_po(
        buffer,
        catalog,
        width=0,
        include_lineno=False,
        sort_output=True,
        ignore_obsolete=True,
    )
    return CHANGING.sub(b"", buffer.getvalue())


def compile_all() -> None:
    """Compile every catalog that is newer than its compiled form."""
    for source in sorted(CATALOGS.glob("*/LC_MESSAGES/*.po")):
        compiled = source.with_suffix(".mo")
        if not is_current(compiled, source):
            compile_catalog(source, compiled)


def main() -> int:
    """Refresh all catalogs and say what is left to translate; with ``compile`` only compile."""
    if sys.argv[1:] != ["compile"]:
        catalog = gather()
        origins = Counter(
            folder
            for one in catalog
            for folder in {file.partition("/")[0] for file, _line in one.locations}
        )
        shares = ", ".join(f"{count} in {place}" for place, count in origins.items())
        print(f"{len(catalog)} texts ({shares}; some in more than one).")
        for source in sorted(CATALOGS.glob("*/LC_MESSAGES/ductfolio.po")):
            kept = refresh(catalog, source)
            left = sum(is_open(message) for message in kept)
            print(f"{source.parents[1].name}: {left} of {len(kept)} still to translate.")
    compile_all()
    return 0


if __name__ == "__main__":
    sys.exit(main())
