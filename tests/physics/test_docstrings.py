"""Every formula says its units, its range, its errors and where it comes from."""

from __future__ import annotations

import inspect
import re
from typing import TYPE_CHECKING, Any

from deskapp.physics import constants

if TYPE_CHECKING:
    from collections.abc import Callable


def test_that_each_argument_is_documented_with_a_unit(formula: Callable[..., Any]) -> None:
    text = inspect.getdoc(formula) or ""
    documented = re.findall(r"^    (\w+): [^\[\]]+\[[^\]]+\]\.$", text, flags=re.MULTILINE)
    assert documented == list(inspect.signature(formula).parameters)


def test_that_the_result_is_documented_with_a_unit(formula: Callable[..., Any]) -> None:
    text = inspect.getdoc(formula) or ""
    assert re.search(r"^Returns:\n    [^\[\]]+\[[^\]]+\]\.$", text, flags=re.MULTILINE)


def test_that_range_errors_and_source_are_stated(formula: Callable[..., Any]) -> None:
    text = inspect.getdoc(formula) or ""
    for heading in (r"^Range: \S", r"^Raises:\n    ValueError: \S", r"^Source: \S"):
        assert re.search(heading, text, flags=re.MULTILINE), heading


def test_that_a_source_not_read_in_its_own_text_says_so(formula: Callable[..., Any]) -> None:
    source = (inspect.getdoc(formula) or "").partition("Source:")[2]
    names_a_paid_standard = re.search(r"\b(ISO|ASTM|ANSI|EN \d|SMACNA|CGSB|ASHRAE)\b", source)
    says_how_it_is_known = re.search(
        r"from memory|not checked|secondary|checked in\s+the tests", source, flags=re.IGNORECASE
    )
    assert not names_a_paid_standard or says_how_it_is_known


def test_that_each_constant_is_followed_by_its_unit_and_source() -> None:
    text = inspect.getsource(constants)
    names = re.findall(r"^([A-Z_]+) = ", text, flags=re.MULTILINE)
    documented = re.findall(
        r'^([A-Z_]+) = [\d_.]+\n"""[^"]+\[[^\]]+\]\.\n\nSource: [^"]+"""$', text, flags=re.MULTILINE
    )
    assert names
    assert documented == names
