"""Editions that are examples of the program's own: named so, and offered to nobody."""

from __future__ import annotations

from deskapp.domain.choices import CompliancePath
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit
from deskapp.limits.candidates import Aspect
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.likeliest import candidates
from deskapp.limits.own import copy_edition


def test_that_an_invented_example_is_offered_to_no_job_but_one_that_has_it(
    shipped: Catalogue,
) -> None:
    """Common practice, no source: nobody is bound by the rule of a program that does not exist."""
    example = shipped.edition("sample-retrofit-program")
    assert example is not None
    of_a_program = Job(compliance=Compliance(path=CompliancePath.PROGRAM))
    offered = [found.edition for found in candidates(shipped.editions, of_a_program)]
    assert len(offered) == len(shipped.editions) - 2
    assert not any("invented" in edition.name.casefold() for edition in offered)
    has_it = of_a_program.model_copy(
        update={"compliance": Compliance(limits=(ChosenLimit(key="k1", edition=example),))}
    )
    kept = [found for found in candidates(shipped.editions, has_it) if found.is_chosen]
    assert [found.edition.name for found in kept] == ["Sample retrofit program (invented)"]
    known = kept[0].point(Aspect.STATUS)
    assert known is not None
    assert known.why == "An invented example that binds nobody"


def test_that_a_copy_of_an_example_is_whose_it_is(shipped: Catalogue) -> None:
    example = shipped.edition("sample-retrofit-program")
    assert example is not None
    own = copy_edition(example, "rebate-of-the-county", "Rebate of the county")
    assert not own.is_invented
    assert own in [found.edition for found in candidates((own,), Job())]
