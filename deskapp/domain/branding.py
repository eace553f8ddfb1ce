"""How a company's papers look; kept outside the job, edited in the program."""

from __future__ import annotations

from deskapp.domain.base import Frozen


class Branding(Frozen):
    """Company name, license, contact lines, logo and accent color of printed reports.

    `logo` is the file name of a picture in the same folder as the branding file, `accent` a color
    written #rrggbb.
    """

    company: str = ""
    license: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""
    logo: str = ""
    accent: str = "#1f5f7a"
