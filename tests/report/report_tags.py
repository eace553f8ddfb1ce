"""Reads the structure tree of a report back: what a screen reader would say, in its order."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from io import BytesIO

import pikepdf

_CHARACTER = re.compile(rb"<([0-9A-Fa-f]{2})> <((?:[0-9A-Fa-f]{4})+)>")


@dataclass
class Tag:
    """One element: its role, its text with that of all inside it, and what it says of itself."""

    role: str
    alternative: str = ""
    attributes: dict[str, str] = field(default_factory=dict)
    text: str = ""
    inside: list[Tag] = field(default_factory=list)

    def all(self, *roles: str) -> list[Tag]:
        """Every element of these roles in here, in reading order."""
        found = [tag for part in self.inside for tag in part.all(*roles)]
        return [self, *found] if self.role in roles else found


def tags_of(pdf: bytes) -> Tag:
    """The document element with all that is in it."""
    with pikepdf.open(BytesIO(pdf)) as opened:
        texts = [_texts_by_number(page) for page in opened.pages]
        pages = {page.obj.objgen: number for number, page in enumerate(opened.pages)}
        return _tag(opened.Root.StructTreeRoot.K, texts, pages)


def _tag(element, texts, pages) -> Tag:
    attributes = {key: str(value) for key, value in element.get("/A", {}).items()}
    tag = Tag(str(element.S)[1:], str(element.get("/Alt", "")), attributes)
    kids = element.get("/K", [])
    said = []
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, int):
            said.append(texts[pages[element.Pg.objgen]][kid])
        elif "/MCID" in kid:
            said.append(texts[pages[kid.Pg.objgen]][kid.MCID])
        else:
            tag.inside.append(_tag(kid, texts, pages))
            said.append(tag.inside[-1].text)
    tag.text = "".join(said)
    return tag


def _texts_by_number(page) -> dict[int, str]:
    """The text of each marked stretch of a page."""
    fonts = {name: _letters(font) for name, font in page.resources.get("/Font", {}).items()}
    texts: dict[int, str] = {}
    number, letters = None, {}
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "BDC":
                number = operands[1].get("/MCID")
                texts.setdefault(number, "")
            case "BMC" | "EMC":
                number = None
            case "Tf":
                letters = fonts[str(operands[0])]
            case "Tj":
                said = "".join(letters[code] for code in bytes(operands[0]))
                texts[number] = texts.get(number, "") + said
    return texts


def _letters(font) -> dict[int, str]:
    """The characters of a font by their codes."""
    if "/ToUnicode" not in font:
        return {}
    return {
        int(code, 16): bytes.fromhex(letter.decode()).decode("utf-16-be")
        for code, letter in _CHARACTER.findall(font.ToUnicode.read_bytes())
    }
