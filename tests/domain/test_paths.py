from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.domain import paths
from deskapp.domain.base import Frozen


class Leaf(Frozen):
    value: int = 0


class Branch(Frozen):
    name: str = ""
    leaf: Leaf = Leaf()
    leaves: tuple[Leaf, ...] = ()


class Tree(Frozen):
    branch: Branch = Branch()
    branches: tuple[Branch, ...] = ()


def tree() -> Tree:
    rows = tuple(Branch(name=str(n), leaves=(Leaf(value=n), Leaf(value=-n))) for n in range(3))
    return Tree(branch=Branch(name="b"), branches=rows)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("branch.name", "b"),
        ("branch.leaf", Leaf()),
        ("branch.leaf.value", 0),
        ("branches.2.name", "2"),
        ("branches.1.leaves.1.value", -1),
        ("branches.0.leaves", (Leaf(value=0), Leaf(value=0))),
    ],
)
def test_that_any_place_can_be_read_and_changed_alone(path: str, value: object):
    before = tree()
    assert paths.get(before, path) == value
    after = paths.put(before, path, "new")
    assert paths.get(after, path) == "new"
    assert before == tree()
    assert paths.put(after, path, value) == before


def test_that_a_change_shares_everything_it_did_not_touch():
    before = tree()
    after = paths.put(before, "branches.1.leaves.0.value", 7)
    assert after.branch is before.branch
    assert after.branches[0] is before.branches[0]
    assert after.branches[2] is before.branches[2]
    assert after.branches[1].leaves[1] is before.branches[1].leaves[1]


def test_that_change_sees_the_old_value():
    after = paths.change(tree(), "branches.2.leaves.0.value", lambda old: old * 10)
    assert after.branches[2].leaves[0].value == 20


@pytest.mark.parametrize("position", [0, 1, 3])
def test_that_an_inserted_row_can_be_removed_again(position: int):
    before = tree()
    after = paths.insert(before, "branches", position, Branch(name="new"))
    assert after.branches[position].name == "new"
    assert len(after.branches) == 4
    assert paths.remove(after, f"branches.{position}") == before


@pytest.mark.parametrize(
    "path",
    [
        "",
        "nowhere",
        "branch.nowhere",
        "branches.3",
        "branches.-1",
        "branches.x",
        "branches.*",
        "branch.name.0",
        "branch..name",
        "branch.model_copy",
        "branches.0.leaves.9.value",
        "branches.²",
    ],
)
def test_that_a_place_that_is_not_there_is_named_in_the_error(path: str):
    with pytest.raises(KeyError):
        paths.get(tree(), path)
    with pytest.raises(KeyError):
        paths.put(tree(), path, 1)


@pytest.mark.parametrize("path", ["branch", "branch.name", "branches.0"])
def test_that_only_a_list_has_rows(path: str):
    with pytest.raises(KeyError):
        paths.rows_at(tree(), path)


@pytest.mark.parametrize("path", ["branches", "branches.9", "branch.leaf", "0"])
def test_that_only_a_row_can_be_removed(path: str):
    with pytest.raises(KeyError):
        paths.remove(tree(), path)


def test_that_a_row_path_parts_into_list_and_position():
    assert paths.split_row("tests.0.readings.12") == ("tests.0.readings", 12)


def test_that_a_star_stands_for_every_row_in_order():
    found = list(paths.expand(tree(), "branches.*.leaves.*.value"))
    assert found == [
        (f"branches.{row}.leaves.{leaf}.value", row if leaf == 0 else -row)
        for row in range(3)
        for leaf in range(2)
    ]
    assert list(paths.expand(Tree(), "branches.*.name")) == []
    assert list(paths.expand(tree(), "branch.name")) == [("branch.name", "b")]


@given(st.lists(st.integers(), max_size=6), st.integers(0, 6), st.integers())
def test_that_insert_and_remove_behave_like_those_of_a_list(
    values: list[int], position: int, new: int
):
    branch = Branch(leaves=tuple(Leaf(value=value) for value in values))
    where = min(position, len(values))
    longer = paths.insert(branch, "leaves", where, Leaf(value=new))
    expected = list(values)
    expected.insert(where, new)
    assert [leaf.value for leaf in longer.leaves] == expected
    assert paths.remove(longer, f"leaves.{where}") == branch
