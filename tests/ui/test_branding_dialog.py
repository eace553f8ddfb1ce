"""The company's look: edited, remarked upon, kept."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from deskapp.ui.desk import Desk
from deskapp.ui.dialogs.branding_dialog import BrandingDialog


@pytest.fixture
def dialog(qtbot: QtBot, desk: Desk) -> BrandingDialog:
    dialog = BrandingDialog(desk, None)
    qtbot.addWidget(dialog)
    return dialog


def test_that_what_is_typed_is_kept_beside_the_preferences(
    dialog: BrandingDialog, desk: Desk, tmp_path: Path
) -> None:
    logo = tmp_path / "sign.png"
    Image.new("RGB", (300, 100), "navy").save(logo)
    dialog.line("company").setText("Example Testing")
    dialog.line("license").setText("R-100")
    dialog.line("accent").setText("#334f1a")
    dialog.use_logo([logo])
    dialog.save_button.click()
    read = desk.branding()
    assert read.branding.company == "Example Testing"
    assert read.branding.accent == "#334f1a"
    assert read.logo is not None
    assert read.logo.is_file()
    assert read.findings == ()


@pytest.mark.parametrize(
    ("typed", "remark"),
    [
        ("#1f5f7a", ""),
        ("#ffd700", "hard to read on white paper"),
        ("bluish", "not a color yet"),
    ],
)
def test_that_a_color_hard_to_read_is_remarked_upon_while_it_is_typed(
    dialog: BrandingDialog, typed: str, remark: str
) -> None:
    dialog.line("accent").setText(typed)
    assert remark in dialog.remark
    assert bool(remark) == bool(dialog.remark)


def test_that_a_color_that_cannot_be_read_is_not_kept(dialog: BrandingDialog, desk: Desk) -> None:
    dialog.line("accent").setText("bluish")
    dialog.save_button.click()
    assert "bluish" in dialog.message_text
    assert dialog.result() != dialog.DialogCode.Accepted.value
    assert desk.branding().branding.accent == "#1f5f7a"


def test_that_the_swatch_shows_the_accent_color(dialog: BrandingDialog) -> None:
    dialog.line("accent").setText("#a02020")
    swatch = dialog.swatch
    swatch.resize(420, 92)
    foot = swatch.grab().toImage().pixelColor(200, 90)
    assert foot.name() == "#a02020"
