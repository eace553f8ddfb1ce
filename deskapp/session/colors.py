"""The colors of the window, light and dark, and how well two colors can be told apart.

Source of the ratio: W3C, Web Content Accessibility Guidelines 2.1, definitions "relative luminance"
and "contrast ratio" (from memory, not checked against the text).
"""

from __future__ import annotations

from typing import NamedTuple

READABLE = 4.5
"""The least contrast of text (the same guidelines, criterion 1.4.3; from memory)."""


class Colors(NamedTuple):
    """The colors of one appearance, written #rrggbb.

    Every text color reaches a contrast of 4.5:1 on `window`, `card`, `field` and its own tint.
    """

    dark: bool
    window: str
    card: str
    field: str
    text: str
    muted: str
    line: str
    edge: str
    accent: str
    on_accent: str
    passed: str
    failed: str
    check: str
    pass_tint: str
    fail_tint: str
    check_tint: str
    still_tint: str


LIGHT = Colors(
    dark=False,
    window="#f1f2ee",
    card="#fcfcfa",
    field="#ffffff",
    text="#1c2421",
    muted="#54605a",
    line="#d7dbd4",
    edge="#828c86",
    accent="#1f5f7a",
    on_accent="#ffffff",
    passed="#1a6a3b",
    failed="#a8261d",
    check="#7f4d00",
    pass_tint="#e2f0e6",
    fail_tint="#fae6e3",
    check_tint="#fbefd9",
    still_tint="#e9ece6",
)
DARK = Colors(
    dark=True,
    window="#191d1c",
    card="#222726",
    field="#1b201f",
    text="#e8ece9",
    muted="#aab5af",
    line="#363d3b",
    edge="#77837d",
    accent="#7fc3de",
    on_accent="#0f2029",
    passed="#7ccb9a",
    failed="#f49b91",
    check="#e8bd6a",
    pass_tint="#1d3327",
    fail_tint="#402522",
    check_tint="#3b2f1a",
    still_tint="#2c3230",
)


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colors written #rrggbb, 1 (the same) to 21."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(color: str) -> float:
    """Return the relative luminance of a color written #rrggbb, 0 (black) to 1 (white)."""
    red, green, blue = (_linear(int(color[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4
