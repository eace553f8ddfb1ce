"""What stays together on a page: a heading with what follows it, a table with its caption."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.pdf.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import Flowable

    from deskapp.report.pdf.tagged import TaggedCanvas

_TOP_OF_PAGE = 2.0


class Headed(Piece):
    """Headings and what follows them: broken only where a piece of that stays with them.

    `page_height` is the height of a whole page of text, in points. A `whole` one is broken only
    where it is taller than a page. `again` stands above what a page break leaves over; `is_rest`
    says that this is such a piece, so that its heading is said already.
    """

    def __init__(
        self,
        heads: Sequence[Flowable],
        body: Flowable,
        page_height: float,
        *,
        whole: bool = False,
        again: Flowable | None = None,
        is_rest: bool = False,
    ) -> None:
        super().__init__()
        self._whole = whole
        self._again = again
        self._is_rest = is_rest
        self._heads = list(heads)
        self._body = body
        self._page_height = page_height
        self.spaceBefore = heads[0].getSpaceBefore()
        self.spaceAfter = body.getSpaceAfter()

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """Return the size of headings and body."""
        self.width = aW
        self._head_heights = [head.wrap(aW, aH)[1] + head.getSpaceAfter() for head in self._heads]
        body_room = aH - sum(self._head_heights)
        self.height = sum(self._head_heights) + self._body.wrap(aW, body_room)[1]
        return self.width, self.height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return headings with the first piece of the body, and the rest; or nothing."""
        self.wrap(availWidth, availHeight)
        room = availHeight - sum(self._head_heights)
        may_break = room > 0 and not self._whole
        pieces = self._body.split(availWidth, room) if may_break else []
        if len(pieces) > 1:
            here = Headed(self._heads, pieces[0], self._page_height, is_rest=self._is_rest)
            return [here, *self._under_again(pieces[1:])]
        if availHeight <= self._page_height - _TOP_OF_PAGE:
            return []
        first, rest = self._heads[0], [*self._heads[1:], self._body]
        if self._head_heights[0] <= availHeight:
            return [first, *rest]
        return [*first.split(availWidth, availHeight), *rest]

    def _under_again(self, rest: Sequence[Flowable]) -> list[Flowable]:
        """Return what is left over, its first piece under the heading told once more."""
        if self._again is None:
            return list(rest)
        page, again = self._page_height, self._again
        return [Headed([again], rest[0], page, again=again, is_rest=True), *rest[1:]]

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw the headings and, below them, the body."""
        top = y + self.height
        if self._is_rest:
            canvas.begin(None)
        for head, height in zip(self._heads, self._head_heights, strict=True):
            top -= height
            head.drawOn(canvas, x, top + head.getSpaceAfter())
        if self._is_rest:
            canvas.end()
        self._body.drawOn(canvas, x, y)


class Footed(Piece):
    """A table and what is said below it, which stays with its last rows where they can be parted.

    `page_height` is the height of a whole page of text, in points.
    """

    def __init__(self, body: Flowable, foot: Flowable, page_height: float) -> None:
        super().__init__()
        self._page_height = page_height
        self._body = body
        self._foot = foot
        self.spaceBefore = body.getSpaceBefore()
        self.spaceAfter = foot.getSpaceAfter()

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """Return the size of both."""
        self.width = aW
        self._foot_height = self._foot.wrap(aW, aH)[1]
        self._gap = self._body.getSpaceAfter() + self._foot.getSpaceBefore()
        self.height = self._body.wrap(aW, aH)[1] + self._gap + self._foot_height
        return self.width, self.height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the first rows, and the last ones with what is said below them; or nothing."""
        self.wrap(availWidth, availHeight)
        whole = self.height - self._gap - self._foot_height
        pieces = self._body.split(availWidth, min(availHeight, whole - _TOP_OF_PAGE))
        if len(pieces) > 1:
            return [*pieces[:-1], Footed(pieces[-1], self._foot, self._page_height)]
        if availHeight <= self._page_height - _TOP_OF_PAGE:
            return []
        return [self._body, self._foot]

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw the rows and, below them, the foot."""
        self._body.drawOn(canvas, x, y + self._foot_height + self._gap)
        self._foot.drawOn(canvas, x, y)


def kept_together(pieces: Sequence[Flowable], page_height: float) -> list[Flowable]:
    """Return `pieces` as one that is broken only where it is taller than a page."""
    if len(pieces) < 2:
        return list(pieces)
    return [Headed(pieces[:-1], pieces[-1], page_height, whole=True)]
