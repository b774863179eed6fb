"""Millilitres of a dose, worked by hand: by the heaviest, by what was found, or the repeat's own. Days of May 2027.

150 cm2 a head for a strike that nobody measured: common practice, no source.
"""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.labels import Band, NoBand, RepeatDuty
from scheduler.season import Season
from tests.plan.flock import dose, label, may, prevent
from tests.season.hill import cohort, finding, lambs, season

BANDS = (Band(upto_kg=Decimal(20), ml=Decimal(5)), Band(above_kg=Decimal(20), ml=Decimal(10)))
GUARD = prevent(bands=BANDS, repeats=(RepeatDuty(after_days=7, ml=Decimal(3)),))
STRUCK = prevent(id="struck", purpose="treat", protects_days=(0, 0), bands=(Band(ml_per_100cm2=Decimal(5)),))
LABELS = {"fly": label(uses=(GUARD, STRUCK))}


def of_lambs(heaviest: str) -> Season:
    """Lambs of this weight that do not grow."""
    group = lambs(heaviest_kg=Decimal(heaviest), lightest_kg=Decimal(19), growth_kg_per_day=Decimal(0))
    return season(groups=(group,), labels=LABELS)


@pytest.mark.parametrize(("heaviest", "ml"), [("20", 5), ("20.1", 10)])
def test_a_first_dose_goes_by_the_heaviest(heaviest: str, ml: int) -> None:
    of = of_lambs(heaviest)
    assert of.dose_ml(dose(of, may(5))) == ml


@pytest.mark.parametrize("heaviest", ["20", "20.1"])
def test_a_repeat_has_its_own_ml_whatever_the_weight(heaviest: str) -> None:
    of = of_lambs(heaviest)
    assert of.dose_ml(dose(of, may(12), first_day=may(5))) == 3


def test_without_a_weight_a_dose_by_weight_is_unknown() -> None:
    of = season(groups=(lambs(kind="ewe"),), labels=LABELS)
    assert isinstance(of.dose_ml(dose(of, may(5))), NoBand)


@pytest.mark.parametrize(
    ("areas", "ml"), [(("80",), "4"), (("80", "300"), "15"), (("80", None), "7.5"), ((None,), "7.5")]
)
def test_a_treatment_goes_by_the_largest_area_found(areas: tuple[str | None, ...], ml: str) -> None:
    rows = tuple(
        finding(place, may(3), head=40, area_cm2=None if area is None else Decimal(area))
        for place, area in enumerate(areas, start=2)
    )
    of = season(findings=rows, labels=LABELS)
    treated = replace(dose(of, may(5), use="struck"), cohort=cohort(of, "Lambs/stay"))
    assert of.dose_ml(treated) == Decimal(ml)


def test_an_area_that_is_cleared_counts_no_more() -> None:
    rows = (finding(2, may(3), head=40, area_cm2=Decimal(300), cleared=may(5)),
            finding(3, may(3), head=40, area_cm2=Decimal(80)))  # fmt: skip
    of = season(findings=rows, labels=LABELS)
    given = [replace(dose(of, may(day), use="struck"), cohort=cohort(of, "Lambs/stay")) for day in (4, 5)]
    assert [of.dose_ml(one) for one in given] == [15, 4]
