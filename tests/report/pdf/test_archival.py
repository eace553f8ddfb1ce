"""Reports keep to PDF/A-3 and PDF/UA-1 by veraPDF, and carry the job they were made from."""

from __future__ import annotations

from datetime import UTC, date, datetime
from io import BytesIO

import pikepdf
import pytest
from PIL import Image, ImageCms
from pypdf import PdfReader
from report_jobs import SI, long_names, report_input, retrofit, rough_in, signed, with_leaks
from report_text import pages_of
from report_validator import PDF_A, PDF_UA

from deskapp.archive.envelope import job_from_text, text_of
from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder
from deskapp.domain.issue import Issue
from deskapp.domain.job import Job
from deskapp.report.archival.attachment import Attachment, Relationship
from deskapp.report.blocks import Paper
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw
from deskapp.report.sealing.examine import examine
from deskapp.report.sealing.keys import make_key, open_key
from deskapp.report.sealing.seal import seal
from deskapp.session import sampling_desk
from deskapp.session.branding import BrandingFile
from deskapp.session.sampling_log_pdf import log_pdf
from deskapp.session.settings import Preferences

KINDS = ["homeowner", "compliance"]
DUBLIN_CORE = "{http://purl.org/dc/elements/1.1/}"


def archived(template, job, photos=None, **given) -> bytes:
    """A report of `job` with the job inside it."""
    document = build(template, report_input(job, photos=photos or {}, **given))
    carried = Attachment("job.json", text_of(job), "The job.", "application/json")
    buffer = BytesIO()
    draw(document, photos or {}, buffer, attachments=(carried,))
    return buffer.getvalue()


def cmyk_logo() -> bytes:
    buffer = BytesIO()
    Image.new("CMYK", (60, 20), (10, 200, 30, 0)).save(buffer, "JPEG")
    return buffer.getvalue()


def clear_logo() -> bytes:
    buffer = BytesIO()
    Image.new("RGBA", (60, 20), (200, 120, 20, 128)).save(buffer, "PNG")
    return buffer.getvalue()


CASES = {
    "rough-in": lambda: (rough_in(), {}, {}),
    "metric": lambda: (rough_in(retested=True), {}, {"formatter": SI, "paper": Paper.A4}),
    "signed": lambda: (*signed(), {}),
    "retrofit": lambda: (*retrofit(), {"logo": clear_logo()}),
    "empty": lambda: (Job(), {}, {"branding": Branding(), "logo": cmyk_logo()}),
    "many leaks": lambda: (with_leaks(40), {}, {"paper": Paper.A4}),
    "long names": lambda: (long_names(), {}, {}),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(CASES))
def test_that_reports_keep_to_the_archival_and_the_accessible_profile(
    kind, name, validator, request
):
    job, photos, given = CASES[name]()
    pdf = archived(request.getfixturevalue(kind), job, photos, **given)
    validator.accepts(pdf, PDF_A, PDF_UA)


def test_that_the_technical_record_keeps_to_both_profiles(technical, validator):
    job, photos = retrofit()
    validator.accepts(archived(technical, job, photos), PDF_A, PDF_UA)


def test_that_the_log_of_a_sampling_plan_keeps_to_both_profiles(validator):
    rules, _problems = sampling_desk.rules(resources_folder())
    rule = next(rule for rule in rules if rule.id == "resnet-2025")
    units = sampling_desk.read_units(
        "\n".join(f"Unit {n}; type {n % 3}; 김 Court" for n in range(60))
    )
    plan = sampling_desk.start(rule, units, "Court", "Ducts", "at most 40 cfm")
    drawn = sampling_desk.draw(plan, date(2026, 3, 2), seed=11)
    look = BrandingFile(Branding(company="Example Duct Works"))
    for state in (plan, drawn):
        validator.accepts(log_pdf(state, look, Preferences(), date(2026, 3, 2)), PDF_A, PDF_UA)


@pytest.mark.parametrize("kind", KINDS)
def test_that_an_issued_and_signed_report_still_keeps_to_both_profiles(kind, validator, request):
    now = datetime.now(UTC)
    key = open_key(make_key("Tester A", "a short sentence", now), "a short sentence")
    issue = Issue(kind=kind, revision=1, number="J-1", issued_on=date(2026, 3, 12), mark="ab" * 32)
    pdf = seal(archived(request.getfixturevalue(kind), rough_in(), issue=issue), key, now, "Issued")
    assert examine(pdf).holds
    validator.accepts(pdf, PDF_A, PDF_UA)


def damaged(pdf: bytes, damage) -> bytes:
    buffer = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        damage(opened)
        opened.save(buffer)
    return buffer.getvalue()


def without_font_file(pdf):
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and "/FontFile2" in thing:
            del thing.FontFile2


def with_script(pdf):
    pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.beep()")


def without_relationship(pdf):
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and "/AFRelationship" in thing:
            del thing.AFRelationship


def without(place: str):
    def damage(pdf):
        del pdf.Root[place]

    return damage


def without_alternative(pdf):
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and "/Alt" in thing:
            del thing.Alt


def with_headings_left_out(pdf):
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == "/H2":
            thing.S = pikepdf.Name.H4


def with_content_nobody_tagged(pdf):
    pdf.pages[0].contents_add(b"BT ET 0 0 10 10 re f")


def without_header_cells(pdf):
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == "/TH":
            thing.S = pikepdf.Name.LI


DAMAGES = {
    # What is broken, and the clause of ISO 19005-3 with the number of the check that tells.
    "no font file": (PDF_A, without_font_file, "6.2.11.4.1-1"),
    "no color space": (PDF_A, without("/OutputIntents"), "6.2.4.3-2"),
    "no metadata": (PDF_A, without("/Metadata"), "6.6.2.1-1"),
    "file not associated": (PDF_A, without("/AF"), "6.8-4"),
    "no relationship": (PDF_A, without_relationship, "6.8-3"),
    "script": (PDF_A, with_script, "6.5.1-1"),
    "no tags": (PDF_A, without("/StructTreeRoot"), "6.7.3.3-1"),
    # The same of ISO 14289-1.
    "not said to be tagged": (PDF_UA, without("/MarkInfo"), "6.2-1"),
    "no language": (PDF_UA, without("/Lang"), "7.2-34"),
    "no title shown": (PDF_UA, without("/ViewerPreferences"), "7.1-10"),
    "figure without words": (PDF_UA, without_alternative, "7.3-1"),
    "level left out": (PDF_UA, with_headings_left_out, "7.4.2-1"),
    "content without a tag": (PDF_UA, with_content_nobody_tagged, "7.1-3"),
    "list items in a table": (PDF_UA, without_header_cells, "7.2-10"),
}


@pytest.mark.parametrize("name", list(DAMAGES))
def test_that_a_damaged_copy_is_refused(name, validator, homeowner):
    profile, damage, rule = DAMAGES[name]
    validator.refuses(damaged(archived(homeowner, retrofit()[0]), damage), profile, rule)


@pytest.mark.parametrize("kind", KINDS)
def test_that_document_information_and_metadata_agree(kind, request):
    pdf = archived(request.getfixturevalue(kind), rough_in(), issued_on=date(2026, 7, 4))
    with pikepdf.open(BytesIO(pdf)) as opened:
        info, told = opened.docinfo, opened.open_metadata()
        assert told["dc:title"] == str(info["/Title"])
        assert told["dc:creator"] == [str(info["/Author"])]
        assert told["dc:description"] == str(info["/Subject"])
        assert told["xmp:CreatorTool"] == str(info["/Creator"]) == "Ductfolio"
        assert told["xmp:CreateDate"] == told["xmp:ModifyDate"] == "2026-07-04T00:00:00+00:00"
        assert told["xmpMM:DocumentID"].startswith("urn:uuid:")


def test_that_nothing_is_said_of_an_author_nobody_entered(homeowner):
    pdf = archived(homeowner, Job(), branding=Branding())
    info = PdfReader(BytesIO(pdf)).metadata
    assert "/Author" not in info
    assert not {"anonymous", "untitled", "unspecified"} & {str(text) for text in info.values()}


def test_that_the_job_inside_is_the_job_typed(compliance):
    job, photos = retrofit()
    pdf = archived(compliance, job, photos)
    [data] = PdfReader(BytesIO(pdf)).attachments["job.json"]
    assert job_from_text(data, "job.json") == job


def test_that_carried_files_say_what_they_are_to_the_report(homeowner):
    carried = (
        Attachment("a.json", b"{}", "Où – 図", "application/json"),
        Attachment("b.txt", b"b", "More.", "text/plain", Relationship.SUPPLEMENT),
    )
    buffer = BytesIO()
    draw(build(homeowner, report_input(rough_in())), {}, buffer, attachments=carried)
    with pikepdf.open(buffer) as opened:
        told = [(str(spec.UF), str(spec.Desc), spec.AFRelationship) for spec in opened.Root.AF]
    assert told == [("a.json", "Où – 図", "/Source"), ("b.txt", "More.", "/Supplement")]


def test_that_the_same_job_gives_the_same_bytes(homeowner):
    job, photos = retrofit()
    assert archived(homeowner, job, photos) == archived(homeowner, retrofit()[0], photos)


def test_that_another_job_gives_another_identity(homeowner):
    def identity(job):
        with pikepdf.open(BytesIO(archived(homeowner, job))) as opened:
            return opened.open_metadata()["xmpMM:DocumentID"]

    assert identity(rough_in()) != identity(rough_in(retested=True))


def test_that_a_logo_made_for_the_press_is_printed_in_screen_colors(homeowner):
    pdf = archived(homeowner, rough_in(), logo=cmyk_logo())
    [image] = PdfReader(BytesIO(pdf)).pages[0].images
    assert image.image.mode == "RGB"
    assert pages_of(pdf)


def test_that_the_color_space_is_the_one_of_screens():
    # Primaries of IEC 61966-2-1 (sRGB) seen in the white of ICC profiles, D50; from memory.
    profile = ImageCms.ImageCmsProfile(str(resources_folder() / "archival" / "sRGB.icc")).profile
    assert profile.red_colorant[0] == pytest.approx((0.4361, 0.2225, 0.0139), abs=2e-4)
    assert profile.green_colorant[0] == pytest.approx((0.3851, 0.7169, 0.0971), abs=2e-4)
    assert profile.blue_colorant[0] == pytest.approx((0.1431, 0.0606, 0.7141), abs=2e-4)
    assert profile.version == 4.2
