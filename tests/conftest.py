"""All tests read English words, wherever they run; those of other languages say so themselves.

They run on a day after those of the sample jobs, whatever the clock says.
"""

from __future__ import annotations

import os

os.environ["DUCTFOLIO_LANGUAGE"] = "en"

from datetime import date

import pytest

from deskapp.session import messages

DAY_OF_TESTS = date(2027, 6, 1)


@pytest.fixture(autouse=True)
def day_of_tests(monkeypatch: pytest.MonkeyPatch) -> date:
    """The day it is in every test."""
    monkeypatch.setattr(messages, "today", lambda: DAY_OF_TESTS)
    return DAY_OF_TESTS
