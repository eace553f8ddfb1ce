"""Turns a drawn report into one that lasts and that everyone can read.

It keeps to PDF/A-3, the archival form of PDF (ISO 19005-3, level A), and to PDF/UA-1, the
accessible one (ISO 14289-1).
"""

from __future__ import annotations

import hashlib
from functools import cache
from typing import TYPE_CHECKING
from uuid import NAMESPACE_OID, uuid5

from deskapp.domain.data_files import resources_folder
from deskapp.report.archival.metadata import add_metadata
from deskapp.report.archival.objects import name, stream, text_string
from deskapp.report.archival.tags import add_tags

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.archival.attachment import Attachment
    from deskapp.report.archival.metadata import Information
    from deskapp.report.archival.objects import DrawnFile, Objects
    from deskapp.report.archival.structure import Element

_COLORS = b"(sRGB IEC61966-2.1)"
_ID_LENGTH = 16


def finish(
    drawn: DrawnFile,
    structure: Element,
    information: Information,
    attachments: Iterable[Attachment] = (),
) -> bytes:
    """Return the file of the report `drawn`, with all that makes it last and be read.

    Args:
        drawn: the objects of its pages; more are added to them here.
        structure: what its parts are and where they stand.
        information: what it says of itself.
        attachments: the files it carries.

    The same input gives the same bytes.
    """
    objects = drawn.objects
    told = [
        b"/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>",
        b"/StructTreeRoot %d 0 R" % add_tags(drawn, structure),
        b"/OutputIntents[<</Type/OutputIntent/S/GTS_PDFA1/OutputConditionIdentifier%s/Info%s"
        b"/DestOutputProfile %d 0 R>>]" % (_COLORS, _COLORS, objects.add(_color_profile())),
    ]
    carried = sorted(
        (attachment.name, _add_attachment(objects, attachment, information.written_day))
        for attachment in attachments
    )
    if carried:
        names = b"".join(b"%s %d 0 R" % (text_string(one), number) for one, number in carried)
        told.append(b"/Names<</EmbeddedFiles<</Names[%s]>>>>" % names)
        told.append(b"/AF[%s]" % b" ".join(b"%d 0 R" % number for _one, number in carried))
    identity = objects.identity()
    about, metadata = add_metadata(objects, information, uuid5(NAMESPACE_OID, identity.hex()).urn)
    told.append(b"/Metadata %d 0 R" % metadata)
    objects.extend(drawn.catalog, b"".join(told))
    return objects.file(drawn.catalog, about, identity[:_ID_LENGTH])


def _add_attachment(objects: Objects, attachment: Attachment, day: bytes) -> int:
    """Add a carried file (ISO 32000-1, 7.11.4), and return the number of what tells of it."""
    checksum = hashlib.md5(attachment.data, usedforsecurity=False).hexdigest().encode()
    entries = (
        b"/Type/EmbeddedFile/Subtype%s/Params<</Size %d/CreationDate%s/ModDate%s/CheckSum<%s>>>"
        % (name(attachment.media_type), len(attachment.data), day, day, checksum)
    )
    file = objects.add(stream(entries, attachment.data))
    called = text_string(attachment.name)
    return objects.add(
        b"<</Type/Filespec/F%s/UF%s/Desc%s/AFRelationship%s/EF<</F %d 0 R/UF %d 0 R>>>>"
        % (
            called,
            called,
            text_string(attachment.description),
            name(attachment.relationship),
            file,
            file,
        )
    )


@cache
def _color_profile() -> bytes:
    profile = resources_folder() / "archival" / "sRGB.icc"
    return stream(b"/N 3", profile.read_bytes())
