"""The lists of a job, in an order in which each row finds what it may point at."""

from __future__ import annotations

LISTS = (
    "systems",
    "gauges",
    "fans",
    "fans.*.rings",
    "tests",
    "tests.*.readings",
    "leaks",
    "rereadings",
    "registers",
    "appliances",
    "arrival",
)
