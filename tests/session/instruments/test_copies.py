"""Instruments copied into jobs, and how far apart copy and register stay. All of it is invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.domain import paths
from deskapp.domain.instrument import CertificateFigure, CertificatePair, Fan, Gauge, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.register import InstrumentKind, InstrumentRegister, RegisteredFan
from deskapp.session.editor import Editor
from deskapp.session.instruments import store
from deskapp.session.instruments.copies import copy_into_job, offers, same_instrument, update_in_job
from deskapp.session.instruments.ring_pairs import matched_rings
from deskapp.session.opening import new_job, open_job
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences

IP = Preferences()
GAUGE, FAN = InstrumentKind.GAUGE, InstrumentKind.FAN
CFM = 0.3048**3 / 60


def flow(cfm: float) -> Measured:
    return Measured(si=cfm * CFM, unit="cfm", typed=f"{cfm:g} cfm")


@pytest.fixture
def editor() -> Editor:
    return Editor(Job(), Shelf(), IP)


@pytest.fixture
def tested(register: InstrumentRegister) -> Editor:
    """A job with both instruments and a test that uses the second ring."""
    editor = new_job(Shelf(), IP)
    copy_into_job(editor, register, GAUGE, "g1")
    copy_into_job(editor, register, FAN, "f1")
    editor.choose("tests.0.setup.fan", editor.job.fans[0].key)
    editor.choose("tests.0.setup.ring", editor.job.fans[0].rings[1].key)
    return editor


def changed_fan(register: InstrumentRegister, **changes: object) -> InstrumentRegister:
    return paths.change(register, "fans.0.fan", lambda fan: fan.model_copy(update=changes))


def test_that_a_copy_holds_all_the_register_knows_of_the_instrument(
    editor: Editor, register: InstrumentRegister
):
    assert copy_into_job(editor, register, GAUGE, "g1") == "gauges.0"
    assert copy_into_job(editor, register, FAN, "f1") == "fans.0"
    assert editor.job.gauges == (register.gauges[0].gauge,)
    assert editor.job.fans == (register.fans[0].fan,)
    assert offers(editor.job, register, IP) == ()


def test_that_a_copy_is_one_step_to_undo(editor: Editor, register: InstrumentRegister):
    before = editor.job
    copy_into_job(editor, register, FAN, "f1")
    assert editor.undo_label == "Undo copy of Duct fan, FA-01"
    editor.undo()
    assert editor.job == before


def test_that_a_copy_takes_the_place_of_a_row_nobody_filled_in(register: InstrumentRegister):
    editor = new_job(Shelf(), IP)
    key, ring = editor.job.fans[0].key, editor.job.fans[0].rings[0].key
    assert copy_into_job(editor, register, FAN, "f1") == "fans.0"
    assert copy_into_job(editor, register, GAUGE, "g1") == "gauges.0"
    [fan] = editor.job.fans
    assert (fan.key, fan.serial) == (key, "FA-01")
    assert [r.key for r in fan.rings] == [ring, "r2"]
    assert len(editor.job.gauges) == 1


def test_that_a_copy_comes_after_the_instruments_already_there(
    editor: Editor, register: InstrumentRegister
):
    editor.add_row("fans")
    editor.add_row("fans.0.rings")
    editor.enter("fans.0.serial", "FA-77")
    assert copy_into_job(editor, register, FAN, "f1") == "fans.1"
    assert [fan.serial for fan in editor.job.fans] == ["FA-77", "FA-01"]
    keys = [ring.key for fan in editor.job.fans for ring in fan.rings]
    assert len(set(keys)) == len(keys) == 3


def test_that_an_instrument_already_there_stays_as_it_is(
    editor: Editor, register: InstrumentRegister
):
    copy_into_job(editor, register, GAUGE, "g1")
    editor.enter("gauges.0.serial", " ga-01 ")
    editor.enter("gauges.0.description", "The old gauge")
    before = editor.job
    assert copy_into_job(editor, register, GAUGE, "g1") == "gauges.0"
    assert editor.job is before


def test_that_without_serial_number_only_a_like_record_counts_as_the_same(editor: Editor):
    gauge = Gauge(key="g9", description="Loan gauge")
    register = InstrumentRegister.model_validate({"gauges": [{"gauge": gauge.model_dump()}]})
    copy_into_job(editor, register, GAUGE, "g9")
    copy_into_job(editor, register, GAUGE, "g9")
    assert len(editor.job.gauges) == 1
    editor.enter("gauges.0.description", "Another gauge")
    copy_into_job(editor, register, GAUGE, "g9")
    assert [gauge.description for gauge in editor.job.gauges] == ["Another gauge", "Loan gauge"]
    assert offers(editor.job, register, IP) == ()


def test_that_a_gauge_is_never_taken_for_a_fan():
    assert not same_instrument(Gauge(key="g1", serial="1"), Fan(key="f1", serial="1"))


def test_that_an_unknown_key_is_a_mistake_of_the_caller(
    editor: Editor, register: InstrumentRegister
):
    for kind in InstrumentKind:
        with pytest.raises(KeyError):
            copy_into_job(editor, register, kind, "x9")
        with pytest.raises(KeyError):
            update_in_job(editor, register, kind, "x9")
    with pytest.raises(KeyError, match="no copy"):
        update_in_job(editor, register, FAN, "f1")


def test_that_a_later_change_of_the_register_never_alters_an_old_job(
    tmp_path: Path, tested: Editor, register: InstrumentRegister
):
    old_file = tmp_path / "old.ductjob"
    job_file.write(old_file, tested.job, {})
    before, on_disk = tested.job, old_file.read_bytes()
    later = changed_fan(
        register,
        description="Renamed",
        due_on=Day(value=None, typed="soon"),
        rings=(),
        calibration_density=None,
    )
    later = later.model_copy(update={"gauges": ()})
    assert store.save(tmp_path, later) is None
    assert store.load(tmp_path).register == later
    assert tested.job == before
    assert old_file.read_bytes() == on_disk
    reopened = open_job(old_file, Shelf(), IP)
    assert reopened.job == before
    assert reopened.job.fans[0].description == "Duct fan"
    assert len(reopened.job.fans[0].rings) == 2


def test_that_looking_for_differences_changes_nothing(tested: Editor, register: InstrumentRegister):
    before = tested.job
    offers(tested.job, changed_fan(register, laboratory="Example Lab"), IP)
    assert tested.job is before


def test_that_differences_are_told_field_by_field(tested: Editor, register: InstrumentRegister):
    rings = register.fans[0].fan.rings
    pairs = (
        CertificatePair(
            signal=CertificateFigure(si=25.0, unit="Pa", typed="25"),
            flow=CertificateFigure(si=60 * CFM, unit="cfm", typed="60 cfm"),
        ),
    )
    better = rings[1].model_copy(update={"coefficient": flow(46), "certificate_pairs": pairs})
    later = changed_fan(
        register,
        certificate="C-2",
        calibration_density=None,
        due_on=Day(value=None, typed="soon"),
        rings=(rings[0], better),
    )
    [offer] = offers(tested.job, later, IP)
    assert (offer.kind, offer.key, offer.row_path) == (FAN, "f1", "fans.0")
    assert offer.name == "Duct fan, FA-01"
    told = {d.path: (d.label, d.in_job, d.in_register) for d in offer.differences}
    gap = "\N{NO-BREAK SPACE}"
    assert told == {
        "fans.0.certificate": ("Fan certificate number (fan 1)", "–", "C-2"),
        "fans.0.due_on": ("Fan calibration due (fan 1)", f"Nov{gap}30, 2026", "soon"),
        "fans.0.calibration_density": (
            "Air density of the calibration (fan 1)",
            f"1.2041{gap}kg/m³",
            "–",
        ),
        "fans.0.rings.1.coefficient": (
            "Coefficient (fan 1, ring 2)",
            f"45{gap}cfm",
            f"46{gap}cfm",
        ),
        "fans.0.rings.1.certificate_pairs": (
            "Pairs of the certificate (Ring 2 (fan 1))",
            "–",
            "25: 60 cfm",
        ),
    }


def test_that_the_same_value_typed_otherwise_is_no_difference(
    tested: Editor, register: InstrumentRegister
):
    tested.enter("fans.0.calibration_density", "1.20410 kg/m3")
    tested.enter("fans.0.due_on", "Nov 30, 2026")
    tested.enter("fans.0.rings.0.signal_low", "0.012 kPa")
    tested.enter("fans.0.serial", "FA - 01")
    [offer] = offers(tested.job, register, IP)
    assert [difference.path for difference in offer.differences] == ["fans.0.serial"]


def test_that_a_difference_too_small_to_be_shown_is_shown_in_full(
    tested: Editor, register: InstrumentRegister
):
    tested.enter("fans.0.rings.0.coefficient", "11.300001 cfm")
    [offer] = offers(tested.job, register, IP)
    [difference] = offer.differences
    assert (difference.in_job, difference.in_register) == ("11.300001 cfm", "11.3 cfm")


def test_that_rings_added_or_dropped_are_told(tested: Editor, register: InstrumentRegister):
    rings = register.fans[0].fan.rings
    third = Ring(key="r3", flow_low=flow(700), flow_high=flow(1500))
    [more] = offers(tested.job, changed_fan(register, rings=(*rings, third)), IP)
    [added] = more.differences
    assert (added.in_job, added.in_register) == ("–", "700 to 1,500\N{NO-BREAK SPACE}cfm")
    [fewer] = offers(tested.job, changed_fan(register, rings=rings[1:]), IP)
    [gone] = fewer.differences
    assert (gone.path, gone.in_register) == ("fans.0.rings.0", "–")
    assert "40 to 200" in gone.in_job


def test_that_an_update_brings_the_copy_to_the_register_and_keeps_what_tests_use(
    tested: Editor, register: InstrumentRegister
):
    rings = register.fans[0].fan.rings
    third = Ring(key="r9", flow_low=flow(700), flow_high=flow(1500))
    better = rings[1].model_copy(update={"coefficient": flow(46)})
    later = changed_fan(register, certificate="C-2", rings=(third, better))
    setup = tested.job.tests[0].setup
    before = tested.job
    assert update_in_job(tested, later, FAN, "f1") == "fans.0"
    fan = tested.job.fans[0]
    assert tested.job.tests[0].setup == setup
    assert fan.certificate == "C-2"
    used = next(ring for ring in fan.rings if ring.key == setup.ring)
    assert used.coefficient == flow(46)
    assert [ring.flow_low.typed for ring in fan.rings] == ["700 cfm", "150 cfm"]
    assert offers(tested.job, later, IP) == ()
    assert tested.undo_label == "Undo update of Duct fan, FA-01"
    tested.undo()
    assert tested.job == before


def test_that_an_update_leaves_a_ring_that_a_test_uses_and_the_register_lost(
    tested: Editor, register: InstrumentRegister
):
    used = tested.job.fans[0].rings[1]
    later = changed_fan(register, rings=register.fans[0].fan.rings[:1])
    assert offers(tested.job, later, IP) == ()
    update_in_job(tested, later, FAN, "f1")
    assert used in tested.job.fans[0].rings
    assert tested.job.tests[0].setup.ring == used.key


def test_that_a_gauge_is_updated_under_its_own_key(tested: Editor, register: InstrumentRegister):
    later = paths.put(register, "gauges.0.gauge.accuracy_percent", Measured(si=0.01))
    [offer] = offers(tested.job, later, IP)
    assert [difference.in_register for difference in offer.differences] == ["1.0%"]
    update_in_job(tested, later, GAUGE, "g1")
    assert tested.job.gauges[0].key == offer.row_path.replace("gauges.0", "g1")
    assert offers(tested.job, later, IP) == ()


def test_that_retired_instruments_offer_nothing(tested: Editor, register: InstrumentRegister):
    later = paths.put(changed_fan(register, certificate="C-2"), "fans.0.retired", True)
    assert offers(tested.job, later, IP) == ()


def test_that_an_updated_job_can_be_saved_and_opened(
    tmp_path: Path, tested: Editor, register: InstrumentRegister
):
    rings = tuple(
        Ring(key=f"r{n}", flow_low=flow(n), flow_high=flow(9 * n + 9)) for n in range(1, 6)
    )
    update_in_job(tested, changed_fan(register, rings=rings), FAN, "f1")
    file = tmp_path / "job.ductjob"
    job_file.write(file, tested.job, {})
    assert job_file.read(file).job == tested.job


def ring(key: str, low: float | None, law: float | None = None) -> Ring:
    return Ring(
        key=key,
        flow_low=None if low is None else flow(low),
        flow_high=None if low is None else flow(4 * low),
        coefficient=None if law is None else flow(law),
        exponent=None if law is None else Measured(si=0.5, unit="1", typed="0.5"),
    )


def keys(theirs: list[Ring], ours: list[Ring]) -> list[tuple[str | None, str | None]]:
    return [
        (one.key if one else None, other.key if other else None)
        for one, other in matched_rings(theirs, ours)
    ]


def test_that_rings_are_matched_by_flow_range_then_by_law():
    theirs = [ring("a", 50), ring("b", 100, 7), ring("c", 200)]
    ours = [ring("x", 200), ring("y", 50), ring("z", None, 7)]
    assert keys(theirs, ours) == [("c", "x"), ("a", "y"), ("b", "z")]


def test_that_one_ring_named_anew_is_the_one_left_over():
    theirs = [ring("a", 50), ring("b", 100)]
    assert keys(theirs, [ring("x", 50), ring("y", 101)]) == [("a", "x"), ("b", "y")]


def test_that_another_ring_is_never_taken_for_a_corrected_one():
    theirs = [ring("a", 50), ring("b", 100)]
    for other in (ring("y", 140), ring("y", 70), ring("y", None, 7)):
        assert keys([*theirs[:1], ring("b", 100, 14)], [ring("x", 50), other]) == [
            ("a", "x"),
            (None, "y"),
            ("b", None),
        ]


def test_that_rings_that_fit_nothing_stand_alone():
    theirs = [ring("a", 50), ring("b", 100)]
    ours = [ring("x", 51), ring("y", 101)]
    assert keys(theirs, ours) == [(None, "x"), (None, "y"), ("a", None), ("b", None)]
    assert keys([], ours) == [(None, "x"), (None, "y")]
    assert keys(theirs, []) == [("a", None), ("b", None)]


def test_that_empty_rings_stand_for_any():
    theirs = [Ring(key="a"), Ring(key="b"), Ring(key="c")]
    assert keys(theirs, [ring("x", 50), ring("y", 100)]) == [("a", "x"), ("b", "y"), ("c", None)]


def test_that_a_fan_without_a_history_is_copied_like_any_other(editor: Editor):
    register = InstrumentRegister(fans=(RegisteredFan(fan=Fan(key="f7", serial="FA-07")),))
    assert copy_into_job(editor, register, FAN, "f7") == "fans.0"
    assert editor.job.fans[0] == Fan(key="f1", serial="FA-07")
