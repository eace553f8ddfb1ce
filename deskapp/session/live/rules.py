"""The figures by which a pressure counts as steady: data, each a house rule with its note."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import cast

from pydantic import Field, ValidationError

from deskapp.domain.base import Frozen
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _

FILE = Path("live") / "steadiness.toml"


class LiveRules(Frozen):
    """The house rules; what each is for stands in `notes`, which come from the same file.

    Times in s, pressures in Pa, shares and counts as plain numbers.
    """

    look_back: float = Field(gt=0.0)
    fewest_samples: int = Field(ge=3)
    longest_gap: float = Field(gt=0.0)
    deviation_share: float = Field(gt=0.0, lt=1.0)
    deviation_floor: float = Field(ge=0.0)
    drift_share: float = Field(gt=0.0, lt=1.0)
    drift_floor: float = Field(ge=0.0)
    drift_doubt: float = Field(ge=0.0)
    step_share: float = Field(gt=0.0, lt=1.0)
    step_floor: float = Field(ge=0.0)
    step_deviations: float = Field(ge=0.0)
    step_samples: int = Field(ge=1)
    target_share: float = Field(gt=0.0, lt=1.0)
    target_floor: float = Field(ge=0.0)
    fan_on: float = Field(gt=0.0)
    notes: dict[str, str] = Field(default_factory=dict)


def load_house_rules(resources: Path) -> LiveRules | Finding:
    """Read the house rules below the folder `resources`; say why if they cannot be read."""
    path = resources / FILE
    try:
        tables: dict[str, object] = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        return _unread(path, error.strerror or type(error).__name__)
    except ValueError as error:
        return _unread(path, str(error))
    values: dict[str, object] = {}
    notes: dict[str, object] = {}
    for name, table in tables.items():
        row = cast("dict[str, object]", table) if isinstance(table, dict) else {}
        values[name], notes[name] = row.get("value"), row.get("note")
    try:
        return LiveRules.model_validate(values | {"notes": notes})
    except ValidationError as error:
        fault = error.errors(include_url=False)[0]
        place = ".".join(str(part) for part in fault["loc"])
        return _unread(path, f"{place}: {fault['msg']}")


def _unread(path: Path, why: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="live-rules",
        what=_("The rules for steady readings ({file}) cannot be read: {why}.").format(
            file=path.name, why=why.rstrip(".")
        ),
        allowed=_("Readings can still be typed."),
        mend=_("Install the program again, or mend the file."),
    )
