"""What can go wrong with keys and seals, said in plain words."""

from __future__ import annotations

from deskapp.domain.told_problem import ToldProblem


class SealProblem(ToldProblem):
    """A key cannot be used, or a report not sealed."""
