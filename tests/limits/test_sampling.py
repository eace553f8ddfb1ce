"""Sampling: how many units, and which ones.

Sources: RESNET Standards, chapter 6, sections 602, 605, 607, 608 and 610 (excerpts, text of 2025);
the older rule from a page of 2014 and a rater's page; California's groups from memory, not checked
against the text. Projects are invented.
"""

from __future__ import annotations

from collections import Counter
from itertools import permutations
from math import ceil
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.random import RandomState
from sampling_cases import (
    PROBLEMS,
    RULES,
    shipped,
)
from scipy.stats import chi2, chisquare

from deskapp.domain.limit import Verification
from deskapp.domain.sampling import ShareOfRest
from deskapp.limits.sampling import (
    load_sampling_rules,
    pick,
    share_size,
    shuffled,
)

CURRENT = shipped("resnet-2025")


def share(scheme: object) -> ShareOfRest:
    assert isinstance(scheme, ShareOfRest)
    return scheme


def test_that_the_shipped_rules_load_with_source_and_status() -> None:
    assert PROBLEMS == ()
    assert len(RULES) == 3
    words = {
        Verification.CODE_TEXT: "Excerpts",
        Verification.SECONDARY: "not read",
        Verification.MEMORY: "memory",
    }
    for rule in RULES:
        assert words[rule.status] in rule.source


# Source: the example of RESNET chapter 6: of 100 units, 10 of them checked before, 18 are drawn.
def test_that_a_fifth_of_the_rest_is_18_of_100_with_10_before() -> None:
    assert share_size(share(CURRENT.scheme), 100, 10) == 18


@pytest.mark.parametrize(
    ("units", "before", "size"),
    [(12, 5, 2), (15, 5, 2), (16, 5, 3), (100, 5, 19), (5, 5, 0), (0, 0, 0), (105, 5, 20)],
)
def test_that_a_part_of_a_unit_is_a_whole_one(units: int, before: int, size: int) -> None:
    assert share_size(share(CURRENT.scheme), units, before) == size


@given(units=st.integers(0, 5000), before=st.integers(0, 5000))
def test_that_the_share_is_never_short_and_never_a_unit_too_many(units: int, before: int) -> None:
    if before > units:
        with pytest.raises(ValueError, match="cannot have been checked"):
            share_size(share(CURRENT.scheme), units, before)
        return
    size = share_size(share(CURRENT.scheme), units, before)
    assert 5 * size >= units - before
    assert 5 * (size - 1) < units - before
    assert size == ceil((units - before) / 5)


KEYS = tuple("abcdefghij")


def test_that_a_seed_leads_to_the_same_order_for_ever() -> None:
    assert shuffled(KEYS, 20260302) == tuple("chbdegjifa")
    assert shuffled(KEYS, 0) == tuple("jeafchbdgi")
    assert shuffled((), 1) == ()


@pytest.mark.parametrize("seed", [0, 1, 42, 20260302, 2**32 - 1])
def test_that_the_order_follows_from_another_library_s_mersenne_twister(seed: int) -> None:
    # Reference: the generator of numpy, seeded the same way (an array of one number).
    twister = RandomState([seed])
    keys = list(KEYS)
    for last in range(len(keys) - 1, 0, -1):
        other = int(twister.random_sample() * (last + 1))
        keys[last], keys[other] = keys[other], keys[last]
    assert shuffled(KEYS, seed) == tuple(keys)


def test_that_another_seed_leads_to_another_order() -> None:
    assert len({shuffled(KEYS, seed) for seed in range(200)}) > 195


def test_that_every_order_is_equally_likely() -> None:
    # 24 orders of 4 keys, 12,000 seeds; chi-square test of scipy, a fixed set of seeds.
    found = Counter(shuffled("wxyz", seed) for seed in range(12_000))
    counts = [found[order] for order in permutations("wxyz")]
    assert chisquare(counts).pvalue > 0.01


def test_that_every_unit_is_drawn_equally_often() -> None:
    # 18 of 90, 4,000 seeds: 800 times each. Variance of a draw without putting back: the statistic
    # is scaled by (N - 1) / (N - n), source: sampling without replacement, any textbook.
    pool = [f"u{n}" for n in range(90)]
    found = Counter(key for seed in range(4_000) for key in pick(pool, 18, seed, {}))
    scale = 89 / 72
    statistic = scale * sum((found[key] - 800) ** 2 / 800 for key in pool)
    assert 0.005 < chi2.sf(statistic, 89) < 0.995


def test_that_a_kind_that_must_be_there_is_drawn_evenly_too() -> None:
    kinds = {"a": "big", "b": "big", "c": "big", **dict.fromkeys("defghij", "small")}
    found = Counter(key for seed in range(6_000) for key in pick(KEYS, 1, seed, kinds, ("big",)))
    assert set(found) == {"a", "b", "c"}
    assert chisquare(list(found.values())).pvalue > 0.01


@given(
    count=st.integers(0, 12),
    seed=st.integers(0, 2**40),
    kinds=st.lists(st.sampled_from(["one", "two", "three"]), min_size=10, max_size=10),
)
def test_that_a_draw_has_its_size_and_every_kind_asked_for(
    count: int, seed: int, kinds: list[str]
) -> None:
    kind_of = dict(zip(KEYS, kinds, strict=True))
    wanted = tuple(dict.fromkeys(kinds))
    drawn = pick(KEYS, count, seed, kind_of, wanted)
    assert len(drawn) == len(set(drawn)) == min(10, max(count, len(wanted)))
    assert {kind_of[key] for key in drawn} == set(wanted)
    assert drawn == pick(KEYS, count, seed, kind_of, wanted)


def test_that_a_pool_or_seed_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="only once"):
        shuffled("aa", 1)
    with pytest.raises(ValueError, match="zero or more"):
        shuffled("ab", -1)


BROKEN = {
    "not TOML": ("id = ", "document"),
    "no clause": ('clause = "1"\n', "clause"),
    "no source": ('source = "invented"\n', "source"),
    "no scheme": ('scheme = { kind = "one_per_set", set_size = 7 }\n', "scheme"),
}
GOOD = """id = "own"
body = "Invented"
title = "Rule"
clause = "1"
scheme = { kind = "one_per_set", set_size = 7 }
status = "user"
source = "invented"
"""


@pytest.mark.parametrize("fault", BROKEN)
def test_that_a_broken_rule_is_named_and_the_rest_still_loads(tmp_path: Path, fault: str) -> None:
    part, told = BROKEN[fault]
    text = part if fault == "not TOML" else GOOD.replace(part, "")
    (tmp_path / "a_bad.toml").write_text(text, encoding="utf-8")
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "twice.toml").write_text(GOOD, encoding="utf-8")
    rules, problems = load_sampling_rules(tmp_path)
    assert [rule.id for rule in rules] == ["own"]
    assert "a_bad.toml" in problems[0].what
    assert told in problems[0].what
    assert "twice.toml" in problems[1].what


def test_that_a_missing_folder_has_no_rules(tmp_path: Path) -> None:
    assert load_sampling_rules(tmp_path / "nothing") == ((), ())
