"""Undo and redo: a list of the states of a record, each with the words of the step that made it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Generic, TypeVar

from deskapp.i18n import _, said

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.i18n import Said

LONGEST = 500

State = TypeVar("State")


@dataclass(frozen=True, slots=True)
class HistoryStep(Generic[State]):
    """A state; `words` name the change that led to it, `merge` the field it changed."""

    state: State
    words: Said = ""
    merge: str = ""


class History(Generic[State]):
    """The states of a frozen record, such as a job, oldest first; one is in use, one last saved.

    Consecutive changes of one field become one step, unless it was saved between them.
    """

    def __init__(self, state: State, longest: int = LONGEST) -> None:
        """Start with `state` as the only one, taken as saved; keep at most `longest` changes."""
        self._steps = [HistoryStep(state)]
        self._here = 0
        self._longest = longest
        self._saved = state
        self._may_merge = False

    @property
    def state(self) -> State:
        """The state in use."""
        return self._steps[self._here].state

    @property
    def is_saved(self) -> bool:
        """Whether the state in use equals the one last saved."""
        return self.state is self._saved or self.state == self._saved

    @property
    def undo_words(self) -> str:
        """What undo would take back; empty if there is nothing."""
        return said(self._steps[self._here].words)

    @property
    def redo_words(self) -> str:
        """What redo would bring back; empty if there is nothing."""
        ahead = self._here + 1
        return said(self._steps[ahead].words) if ahead < len(self._steps) else ""

    @property
    def undo_label(self) -> str:
        """Words for the undo command, such as "Undo floor area served (system 1)"; or empty."""
        words = self.undo_words
        return _("Undo {what}").format(what=words) if words else ""

    @property
    def redo_label(self) -> str:
        """Words for the redo command; empty if there is nothing to bring back."""
        words = self.redo_words
        return _("Redo {what}").format(what=words) if words else ""

    def record(self, state: State, words: Said, merge: str = "") -> None:
        """Make `state` the one in use. States that were undone are dropped.

        Args:
            state: the new one.
            words: what was done, such as "floor area served (system 1)", or what says so.
            merge: the field that changed; a change of the same field right before is taken over.
        """
        del self._steps[self._here + 1 :]
        last = self._steps[self._here]
        if self._may_merge and merge and merge == last.merge:
            before = self._steps[self._here - 1].state
            if state == before:
                self._steps.pop()
                self._here -= 1
                self._may_merge = False
                return
            self._steps[self._here] = HistoryStep(state, words, merge)
            return
        self._steps.append(HistoryStep(state, words, merge))
        if len(self._steps) > self._longest + 1:
            del self._steps[0]
            first = self._steps[0]
            self._steps[0] = HistoryStep(first.state)
        self._here = len(self._steps) - 1
        self._may_merge = True

    def undo(self) -> bool:
        """Go back one state; say whether there was one."""
        if self._here == 0:
            return False
        self._here -= 1
        self._may_merge = False
        return True

    def redo(self) -> bool:
        """Go forward one state; say whether there was one."""
        if self._here + 1 >= len(self._steps):
            return False
        self._here += 1
        self._may_merge = False
        return True

    def change_all(self, change: Callable[[State], State]) -> None:
        """Have every state changed alike, by something that no undo may take back."""
        self._steps = [replace(step, state=change(step.state)) for step in self._steps]
        self._may_merge = False

    def end_step(self) -> None:
        """Make the next change a step of its own, whatever it changes."""
        self._may_merge = False

    def mark_saved(self, state: State | None = None) -> None:
        """Take `state` as the saved one; the one in use if none is given."""
        self._saved = self.state if state is None else state
        self._may_merge = False
