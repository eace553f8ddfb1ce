"""Colors that stay readable on white paper."""

from __future__ import annotations

import re

LEAST_CONTRAST = 4.5
_FORM = re.compile(r"#[0-9a-fA-F]{6}")
_WHITE = (255, 255, 255)
_STEP = 0.96


def contrast_on_white(color: str) -> float:
    """Return the contrast ratio of `color` (#rrggbb) against white, 1 to 21.

    Errors: ValueError for anything not written #rrggbb.
    Source: Web Content Accessibility Guidelines 2.2, definitions of relative luminance and contrast
    ratio; from memory, not checked against the text.
    """
    return 1.05 / (_luminance(_parts(color)) + 0.05)


def readable_on_white(color: str, otherwise: str) -> str:
    """Return `color`, darkened as far as needed to read as text on white.

    What is not written #rrggbb is replaced by `otherwise`. The ratio reached is at least
    `LEAST_CONTRAST`, which the guidelines ask for text (Web Content Accessibility Guidelines 2.2,
    criterion 1.4.3; from memory).
    """
    if not _FORM.fullmatch(color):
        color = otherwise
    parts = _parts(color)
    while contrast_on_white(_written(parts)) < LEAST_CONTRAST:
        red, green, blue = (int(part * _STEP) for part in parts)
        parts = (red, green, blue)
    return _written(parts)


def tint(color: str, share: float) -> str:
    """Return `color` mixed with white; `share` 0 gives white, 1 the color itself."""
    red, green, blue = (
        round(white + (part - white) * share)
        for part, white in zip(_parts(color), _WHITE, strict=True)
    )
    return _written((red, green, blue))


def _parts(color: str) -> tuple[int, int, int]:
    if not _FORM.fullmatch(color):
        raise ValueError(f"{color!r} is not a color written #rrggbb")
    return int(color[1:3], 16), int(color[3:5], 16), int(color[5:7], 16)


def _written(parts: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*parts)


def _luminance(parts: tuple[int, int, int]) -> float:
    red, green, blue = (_linear(part / 255) for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
