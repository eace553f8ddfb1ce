"""Sampling: the rules as data, how many units to check, and a draw anyone can repeat."""

from __future__ import annotations

import math
import random
import tomllib
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import ValidationError

from deskapp.domain.finding import Finding, Level
from deskapp.domain.sampling import Draw, SamplingRule, ShareOfRest
from deskapp.domain.told_problem import ToldProblem
from deskapp.i18n import _
from deskapp.limits.faults import faults_of

if TYPE_CHECKING:
    from deskapp.domain.sampling import SamplingPlan


class SamplingProblem(ToldProblem):
    """Something that cannot be done in a sampling plan."""


def load_sampling_rules(folder: Path) -> tuple[tuple[SamplingRule, ...], tuple[Finding, ...]]:
    """Read every sampling rule in `folder`; a file that cannot be read is named and left out."""
    rules: dict[str, SamplingRule] = {}
    problems: list[Finding] = []
    for path in sorted(folder.glob("*.toml")) if folder.is_dir() else ():
        read = _read(path)
        if isinstance(read, Finding):
            problems.append(read)
        elif read.id in rules:
            problems.append(_left_out(path, _('the id "{id}" is taken').format(id=read.id)))
        else:
            rules[read.id] = read
    return tuple(rules.values()), tuple(problems)


def _read(path: Path) -> SamplingRule | Finding:
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        return _left_out(path, error.strerror or type(error).__name__)
    except ValueError as error:
        return _left_out(path, str(error))
    try:
        return SamplingRule.model_validate(data)
    except ValidationError as error:
        return _left_out(path, "; ".join(fault.text for fault in faults_of(error, data)))


def _left_out(path: Path, why: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="sampling-rule-unreadable",
        what=_("The sampling rule in {file} was left out: {why}.").format(
            file=path.name, why=why.rstrip(".")
        ),
        mend=_("Mend the file, or take it out of its folder."),
    )


def share_size(scheme: ShareOfRest, units: int, qualified: int) -> int:
    """Return how many units are drawn, rounded up: a share of those not used to qualify.

    Args:
        scheme: the share, as written (0.2 is exactly one fifth).
        units: number of units in all; zero or more.
        qualified: number of units checked while qualifying; at most `units`.

    Raises:
        ValueError: `qualified` is below zero or above `units`.

    Source: RESNET Standards, chapter 6 (text of 2025): at least 20% of the rest, rounded up; of
    100 units with 10 checked before, 18.
    """
    if not 0 <= qualified <= units:
        raise ValueError(f"{qualified} of {units} units cannot have been checked to qualify")
    return math.ceil(Fraction(str(scheme.share)) * (units - qualified))


def shuffled(pool: Iterable[str], seed: int) -> tuple[str, ...]:
    """Return the keys of `pool` in a random order that follows from `seed` alone.

    Each order is equally likely. The order is the same on every computer and version of Python:
    it rests on the one sequence of the Mersenne Twister that the language keeps unchanged.

    Args:
        pool: different keys; their order counts, so record it with the seed.
        seed: a whole number, zero or more.

    Raises:
        ValueError: a key stands twice in the pool, or the seed is below zero.

    Source: Fisher and Yates, Statistical Tables (1938), in the form of Durstenfeld (1964), from
    memory, not checked against the text.
    """
    keys = list(pool)
    if len(set(keys)) != len(keys):
        raise ValueError("a pool may hold each key only once")
    if seed < 0:
        raise ValueError(f"the seed is {seed}; it must be zero or more")
    source = random.Random(seed)
    for last in range(len(keys) - 1, 0, -1):
        other = int(source.random() * (last + 1))
        keys[last], keys[other] = keys[other], keys[last]
    return tuple(keys)


def pick(
    pool: Iterable[str],
    count: int,
    seed: int,
    kinds: Mapping[str, str],
    must_have: Iterable[str] = (),
) -> tuple[str, ...]:
    """Return `count` keys of `pool` drawn at random, in the order drawn.

    Args:
        pool: different keys, in the order of the unit list.
        count: how many; all of them if the pool has no more.
        seed: a whole number, zero or more.
        kinds: the kind of each key.
        must_have: kinds of which at least one is drawn first; more than `count` of them are all
            drawn, and the draw is then larger.
    """
    order = shuffled(pool, seed)
    first: list[str] = []
    for kind in must_have:
        found = next((key for key in order if kinds.get(key, "") == kind), None)
        if found is not None:
            first.append(found)
    wanted = max(count, len(first))
    rest = [key for key in order if key not in first]
    chosen = {*first, *rest[: wanted - len(first)]}
    return tuple(key for key in order if key in chosen)


def repeats(draw: Draw, plan: SamplingPlan) -> bool:
    """Say whether pool and seed lead to the units that were recorded."""
    kinds = {unit.key: unit.kind for unit in plan.unit_list.units}
    return pick(draw.pool, draw.count, draw.seed, kinds, draw.must_have) == draw.drawn
