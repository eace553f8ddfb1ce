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
