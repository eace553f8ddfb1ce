"""The fonts of the reports: licensed, embeddable and complete."""

from __future__ import annotations

import pytest
from reportlab.pdfbase.ttfonts import TTFont

LETTERS = "éłőşñßĐđơưạệộữỳαβΔπΩАБжщЯё"
SIGNS = "≥≤²³₂°×±−–—→✓✗µ·…“”‘’%‰€≈≠"


def font_files(root):
    return sorted((root / "resources" / "fonts").glob("*.[to]tf"))


def test_that_every_font_has_its_license_beside_it(root):
    files = font_files(root)
    assert len(files) >= 5
    for file in files:
        family = file.stem.split("-")[0]
        terms = file.with_name(f"{family}.license.txt")
        assert terms.is_file(), f"{file.name} needs {terms.name} beside it"
        assert len(terms.read_text(encoding="utf-8")) > 1000


def test_that_the_list_of_fonts_names_every_file(root):
    listed = (root / "resources" / "fonts" / "README.md").read_text(encoding="utf-8")
    assert [file.name for file in font_files(root) if file.name not in listed] == []


@pytest.mark.parametrize(
    "name",
    [
        "SourceSans3-Regular",
        "SourceSans3-SemiBold",
        "SourceSans3-Italic",
        "DejaVuSans",
        "DejaVuSans-Bold",
    ],
)
def test_that_the_pdf_writer_takes_the_font_with_all_its_signs(root, name):
    font = TTFont(name, root / "resources" / "fonts" / f"{name}.ttf")
    glyphs = font.face.charToGlyph
    assert [sign for sign in LETTERS + SIGNS if ord(sign) not in glyphs] == []


@pytest.mark.parametrize("name", ["SourceSans3-Regular", "SourceSans3-SemiBold"])
def test_that_figures_have_one_width_so_that_columns_line_up(root, name):
    font = TTFont(name, root / "resources" / "fonts" / f"{name}.ttf")
    assert len({font.stringWidth(figure, 10) for figure in "0123456789"}) == 1


@pytest.mark.parametrize(
    ("name", "letters"),
    [
        # All syllables of ISO/IEC 10646 (U+AC00 to U+D7A3) and the letters they are made of.
        ("DuctfolioHangul-Regular", [*range(0x3131, 0x318F), *range(0xAC00, 0xD7A4)]),
        # A few of each: kana, common Chinese characters of both ways of writing.
        ("DroidSansFallback-Full", [ord(letter) for letter in "あアー々山田臺台灣湾、。「」"]),
    ],
)
def test_that_a_stand_in_has_its_letters_and_the_space_between_words(root, name, letters):
    font = TTFont(name, root / "resources" / "fonts" / f"{name}.ttf")
    drawn = {code for code in font.face.charToGlyph if font.face.charWidths.get(code)}
    assert [hex(code) for code in [0x20, *letters] if code not in drawn] == []


def test_that_a_changed_font_does_not_bear_the_name_kept_for_the_original(root):
    font = TTFont("changed", root / "resources" / "fonts" / "DuctfolioHangul-Regular.ttf")
    for name in (font.face.name, font.face.familyName, font.face.fullName):
        assert "nanum" not in str(name).casefold()
    license_text = root / "resources" / "fonts" / "DuctfolioHangul.license.txt"
    assert "Reserved Font Name" in license_text.read_text(encoding="utf-8")
