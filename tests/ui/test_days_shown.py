"""The window writes days the way usual in the language, and in digits only where they are typed."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QLabel, QWidget

from deskapp.i18n import ENGLISH, LANGUAGES, use_language
from deskapp.session.editor import Editor
from deskapp.session.pages import PAGES
from deskapp.session.resources import Shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.ui.furnish import Furniture

ISO = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")
OUT_OF_ORDER = {
    "site.permit_date": "2027-01-02",
    "gauges.0.due_on": "2025-01-01",
    "tester.certification_expires": "2025-02-01",
    "tester.signed_on": "2025-03-01",
}


@pytest.fixture(autouse=True, params=LANGUAGES)
def _spoken(request: pytest.FixtureRequest) -> Iterator[None]:
    use_language(str(request.param))
    yield
    use_language(ENGLISH)


def said_by(root: QWidget) -> Iterator[str]:
    """What widgets below `root` show or say, but for the lines in which a person types."""
    yield root.windowTitle()
    for widget in root.findChildren(QWidget):
        yield from (widget.accessibleName(), widget.accessibleDescription(), widget.toolTip())
        if isinstance(widget, QLabel | QAbstractButton):
            yield widget.text()
        elif isinstance(widget, QAbstractItemView):
            model = widget.model()
            for row in range(model.rowCount()):
                yield from (str(model.index(row, at).data() or "") for at in range(12))


@pytest.mark.parametrize("sample", ["maple", "clinic"])
def test_that_no_day_is_shown_in_digits(furniture: Furniture, shelf: Shelf, sample: str) -> None:
    opened = open_sample(sample, shelf, Preferences())
    editor = Editor(opened.job, shelf, furniture.desk.preferences, opened.photos)
    for path, day in OUT_OF_ORDER.items():
        editor.enter(path, day)
    furniture.files.show(editor)
    bench = furniture.bench
    assert bench is not None
    for page in PAGES:
        bench.show_page(page.id)
    digits = {text for text in said_by(bench.window()) if ISO.search(text)}
    assert digits == set()
