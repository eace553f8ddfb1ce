"""A formula in words, read from its own docstring, so that help cannot differ from the program."""

from __future__ import annotations

import inspect
from dataclasses import replace
from functools import cache
from importlib import import_module

from deskapp.catalog.formula_words import Formula as Formula
from deskapp.catalog.formula_words import FormulaTerm as FormulaTerm
from deskapp.catalog.formula_words import formula_of
from deskapp.i18n import _


@cache
def formula(name: str) -> Formula:
    """Return the formula called `name`, such as ``flow_device.ring_flow``, in its own words.

    Raises LookupError where there is no such formula, ValueError where it is not documented.
    """
    module_name, _dot, function_name = name.partition(".")
    try:
        module = import_module(f"deskapp.physics.{module_name}")
        function = getattr(module, function_name)
    except (ImportError, AttributeError) as error:
        raise LookupError(f"there is no formula {name}") from error
    return formula_of(name, inspect.getdoc(function) or "")


def formula_in_words(one: Formula) -> Formula:
    """Return a formula in the language in use; names and units stay as they are."""
    return replace(
        one,
        summary=_(one.summary),
        arguments=tuple(replace(figure, text=_(figure.text)) for figure in one.arguments),
        result=replace(one.result, text=_(one.result.text)),
        holds=_(one.holds),
        source=_(one.source),
    )
