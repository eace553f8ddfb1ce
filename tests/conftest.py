"""All tests read English words, wherever they run; those of other languages say so themselves."""

from __future__ import annotations

import os

os.environ["DUCTFOLIO_LANGUAGE"] = "en"
