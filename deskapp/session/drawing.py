"""Drawing on photos and on the sketch of the house, each change as one step to undo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.drawing import Shape
from deskapp.domain.fields import label_of
from deskapp.domain.ink import Inked, inked
from deskapp.i18n import N_, _, in_sentence, labeled, said
from deskapp.session.options import Option

if TYPE_CHECKING:
    from deskapp.domain.drawing import Item
    from deskapp.domain.job import Job
    from deskapp.i18n import Said
    from deskapp.session.editor import Editor
    from deskapp.session.photo_intake import Taken

SHAPE_WORDS = {
    Shape.ARROW: N_("Arrow"),
    Shape.CIRCLE: N_("Circle"),
    Shape.LABEL: N_("Number"),
    Shape.WALL: N_("Wall"),
    Shape.ROOM: N_("Room"),
    Shape.TEXT: N_("Text"),
    Shape.REGISTER: N_("Register"),
    Shape.LEAK: N_("Leak"),
}


def row_numbers(job: Job) -> dict[str, str]:
    """Return the number that leaks and registers have in their lists, by key."""
    numbers = {leak.key: str(number) for number, leak in enumerate(job.leaks_found, 1)}
    registers = {row.key: str(number) for number, row in enumerate(job.registers, 1)}
    return {**numbers, **registers}


def leak_number_at(job: Job, photo_path: str) -> str:
    """Return the number of the leak a picture belongs to; empty for those of the job."""
    first, _dot, rest = photo_path.partition(".")
    if first != "leaks":
        return ""
    number = job.leak_number(job.leaks[int(rest.partition(".")[0])].key)
    return "" if number is None else str(number)


def inked_sketch(job: Job) -> tuple[Inked, ...]:
    """Return the sketch with its labels."""
    return inked(job.sketch.items, row_numbers(job))


def sketch_words(job: Job) -> str:
    """Return in words what the sketch shows; what it is good for while there is none."""
    if job.sketch.is_blank:
        return _(
            "Nothing is drawn yet. A sketch shows the owner where the leaks are, with the numbers "
            "of the list; it is not to scale."
        )
    drawn = {item.refers for item in job.sketch.items if item.shape is Shape.LEAK}
    shown = [str(n) for n, leak in enumerate(job.leaks_found, 1) if leak.key in drawn]
    open_ones = [str(n) for n, leak in enumerate(job.leaks_found, 1) if leak.key not in drawn]
    told = [_("Leaks drawn: {numbers}.").format(numbers=", ".join(shown) or _("none"))]
    if open_ones:
        told.append(_("Not drawn yet: {numbers}.").format(numbers=", ".join(open_ones)))
    return " ".join(told)


def draw_on_photo(
    editor: Editor, photo_path: str, marks: tuple[Item, ...], words: Said, merge: str = ""
) -> None:
    """Put other marks on a picture."""
    job = paths.put(editor.job, f"{photo_path}.marks", marks)

    def told() -> str:
        row = label_of(photo_path)
        photo = in_sentence(row)
        return _("{change} ({photo})").format(change=said(words), photo=photo)

    editor.take(job, told, f"{photo_path}.marks.{merge}" if merge else "")


def draw_sketch(editor: Editor, items: tuple[Item, ...], words: Said, merge: str = "") -> None:
    """Put other things on the sketch."""
    job = paths.put(editor.job, "sketch.items", items)
    editor.take(
        job,
        lambda: _("{change} (sketch)").format(change=said(words)),
        f"sketch.{merge}" if merge else "",
    )


def lay_plan(editor: Editor, taken: Taken) -> None:
    """Lay the first of the pictures taken in under the sketch."""
    if taken.photos:
        editor.keep_files(taken.files)
        job = paths.put(editor.job, "sketch.plan", taken.photos[0])
        editor.take(job, lambda: _("lay a floor plan under the sketch"))


def take_plan_away(editor: Editor) -> None:
    """Leave the sketch on a blank sheet."""
    job = paths.put(editor.job, "sketch.plan", None)
    editor.take(job, lambda: _("take the floor plan away"))


def wanted_markers(job: Job) -> tuple[Option, ...]:
    """Return what markers can stand for: leaks, then registers; values like ``leak:l1``."""
    leaks = (
        Option(f"{Shape.LEAK}:{leak.key}", _numbered(_("Leak"), number, leak.place))
        for number, leak in enumerate(job.leaks_found, 1)
    )
    registers = (
        Option(f"{Shape.REGISTER}:{row.key}", _numbered(_("Register"), number, row.name))
        for number, row in enumerate(job.registers, 1)
    )
    return (*leaks, *registers)


def _numbered(word: str, number: int, name: str) -> str:
    text = f"{word} {number}"
    return labeled(text, " ".join(name.split())) if name.strip() else text


def words_for(item: Item, job: Job, of_leak: str = "") -> str:
    """Return words for a thing drawn, such as ``Arrow, 3`` or ``Leak 2: Boot``."""
    marker = f"{item.shape}:{item.refers}"
    named = next((one.label for one in wanted_markers(job) if one.value == marker), "")
    label = item.text or (of_leak if item.shape in (Shape.ARROW, Shape.CIRCLE, Shape.LABEL) else "")
    word = _(SHAPE_WORDS[item.shape])
    return named or (f"{word}, {label}" if label else word)
