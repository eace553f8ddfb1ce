"""Photographs with what is drawn on them, and the sketch of the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.pan import MEND
from deskapp.domain.drawing import Shape
from deskapp.domain.drawing_edit import trimmed
from deskapp.domain.ink import inked
from deskapp.i18n import _
from deskapp.report.blocks import Picture, Pictures, Sketch
from deskapp.report.build.pans import band_of, read_registers, register_name
from deskapp.report.build.wording import fill
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.ink import Inked
    from deskapp.domain.job import Job
    from deskapp.domain.leak import Leak, Photo
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.build.report_input import ReportInput
    from deskapp.report.template_common import PhotosSpec, SketchSpec


def photos(context: Context, spec: PhotosSpec) -> list[Block]:
    """Build the photographs of the job that belong to no leak."""
    pictures = pictures_of(context, context.job.photos, spec.photo_missing)
    return [Pictures(pictures, spec.height, spec.pages, spec.least)] if pictures else []


def pictures_of(
    context: Context, photos: tuple[Photo, ...], missing: str, leak: Leak | None = None
) -> tuple[Picture, ...]:
    """Return photographs, those of a leak with its number on their marks."""
    return tuple(
        Picture(
            digest=photo.digest,
            caption=caption(context.source, photo),
            description=_description(context, photo, leak),
            missing=fill(missing, context.names),
            marks=marks_of(context.job, photo, leak),
            slate=slate(context.source, photo, leak) if context.source.photo_slate else "",
        )
        for photo in photos
    )


def marks_of(job: Job, photo: Photo, leak: Leak | None) -> tuple[Inked, ...]:
    """Return what is drawn on a photo; marks of a leak without a text show its number."""
    number = job.leak_number(leak.key) if leak is not None else None
    return inked(photo.marks, {}, "" if number is None else str(number))


def caption(source: ReportInput, photo: Photo) -> str:
    """Return the caption; where there is none, what the photo is said to show."""
    return printable(photo.caption) or subject(source, photo)


def subject(source: ReportInput, photo: Photo) -> str:
    """Return what a photo is said to show; empty where nothing is said."""
    known = source.photo_subjects
    return printable(next((_(one.label) for one in known if one.id == photo.shows), ""))


def _description(context: Context, photo: Photo, leak: Leak | None) -> str:
    """Return what a screen reader says of a photo."""
    told = caption(context.source, photo)
    if told or leak is None:
        return told or _("Photo of the job without a caption")
    place = next((p for p in context.source.leak_locations if p.id == leak.location), None)
    what = printable(leak.place or (_(place.label) if place is not None else "") or _("Leak"))
    number = context.job.leak_number(leak.key)
    return _("Photo of leak {number}: {place}").format(number=number, place=what)


def slate(source: ReportInput, photo: Photo, leak: Leak | None) -> str:
    """Return what ties a photo to its job: number, time, system."""
    job = source.job
    system = job.system(leak.system) if leak is not None else None
    number = _("Job {number}").format(number=job.number) if job.number else ""
    when = source.formatter.moment(photo.taken) if photo.taken else ""
    parts = (number or job.title, when, system.name if system is not None else "")
    return printable(" · ".join(part for part in parts if part))


def sketch(context: Context, spec: SketchSpec) -> list[Block]:
    """Build the sketch of the house, with a key in words; nothing where none was drawn."""
    job, drawn = context.job, context.job.sketch
    if drawn.is_blank:
        return []
    heavy = registers_to_mend(context)
    numbers = {leak.key: str(number) for number, leak in enumerate(job.leaks_found, 1)}
    numbers |= {row.key: str(number) for number, row in enumerate(job.registers, 1)}
    shown, sides = trimmed(drawn)
    items = inked(shown, numbers, heavy=heavy)
    leaks = [one for one in items if one.shape is Shape.LEAK]
    registers = [one for one in items if one.shape is Shape.REGISTER]
    names = {
        **context.names,
        "leaks": ", ".join(one.label for one in leaks),
        "registers": ", ".join(_registers_drawn(context)),
    }
    told = (
        spec.key,
        spec.leaks if leaks else "",
        spec.registers if registers else "",
        spec.heavy if any(one.heavy for one in items) else "",
    )
    return [
        Sketch(
            sides=sides,
            items=items,
            plan=drawn.plan.digest if drawn.plan is not None else "",
            share=spec.share,
            key=fill(" ".join(part for part in told if part), names),
            missing=fill(spec.plan_missing, names),
            description=fill(spec.description, {**names, "leaks": names["leaks"] or "–"}),
        )
    ]


def _registers_drawn(context: Context) -> Iterator[str]:
    """Yield number and name of the registers on the sketch, in the order of their numbers."""
    items = context.job.sketch.items
    drawn = {item.refers for item in items if item.shape is Shape.REGISTER}
    for number, register in enumerate(context.job.registers, 1):
        if register.key in drawn:
            yield f"{number} {register_name(context, register)}"


def registers_to_mend(context: Context) -> frozenset[str]:
    """Return the keys of registers whose last pan reading asks for mending."""
    found: set[str] = set()
    for register, reading in read_registers(context):
        band = band_of(context, reading.after_band or reading.before_band)
        if band is not None and band.urgency >= MEND:
            found.add(register.key)
    return frozenset(found)
