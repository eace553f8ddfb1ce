"""The common base of all frozen records."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """A record that never changes; an edit makes a new one with ``model_copy(update=...)``."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        validate_by_name=True,
        serialize_by_alias=True,
    )
