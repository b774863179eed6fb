"""The picture in words: the table of a lane holds every day that is not low, and every dose and event of its sheep."""

import re
from datetime import timedelta

import pytest
from msgspec.structs import replace

from scheduler.report import SeasonReport, lane_facts, mob_facts, state_spans
from tests.outputs.plans import REPORTS, large_report, rich_report


@pytest.mark.parametrize("name", REPORTS)
def test_states_doses_events_and_the_sale_all_have_their_row(name: str) -> None:
    told: SeasonReport = REPORTS[name]()
    for cohort in told.plan.cohorts:
        whats = [fact.what for fact in lane_facts(told, cohort)]
        states = {
            f"{run.target.replace('-', ' ')}: {run.state}"
            for run in told.plan.days
            if run.cohort == cohort.id and run.state != "low"
        }
        doses = [
            task for task in told.plan.tasks
            if task.kind == "dose" and task.cohort == cohort.id and task.status != "cancelled"
        ]  # fmt: skip
        assert states == {what for what in whats if ":" in what}
        assert len(doses) == sum(1 for what in whats if re.match(r"(repeat )?dose", what))
        assert (cohort.leaves is not None) == ("leaves" in whats)


def test_the_spans_of_a_state_hold_all_its_days() -> None:
    told = large_report()
    for cohort in told.plan.cohorts[:2]:
        runs = [run for run in told.plan.days if run.cohort == cohort.id and run.target == "ticks"]
        spans = [span for state, span in state_spans(runs) if state == "exposed"]
        exposed = {
            run.first + timedelta(days=n)
            for run in runs if run.state == "exposed"
            for n in range((run.last - run.first).days + 1)
        }  # fmt: skip
        assert {day for span in spans for day in span.days()} == exposed
        (fact,) = [fact for fact in lane_facts(told, cohort) if fact.what == "ticks: exposed"]
        assert len(fact.days.split("; ")) == len(spans)


def test_a_dose_tells_label_protection_and_clear_dates() -> None:
    told = rich_report()
    facts = {(fact.what, fact.days): fact.more for fact in lane_facts(told, told.plan.cohorts[0])}
    assert facts["dose B", "3 May 2027"].startswith("Demo tick dip (invented); done; protects 3 May to 13 Jun")
    assert "clear date: meat not stated: ask the vet" in facts["dose A", "22 Jul 2027"]


def test_a_mob_is_brought_in_by_events_and_for_doses() -> None:
    facts = [(fact.what, fact.days, fact.more) for fact in mob_facts(rich_report(), "Hill", ("Ewes", "Top lambs"))]
    assert facts == [
        ("gathered for doses alone", "27 May 2027; 22 Jul 2027", ""),
        ("brought in anyway", "28 Apr", "turnout"),
        ("brought in anyway", "17 Jun", "shearing"),
        ("brought in anyway", "30 Jul", "weaning"),
        ("brought in anyway", "25 Nov", "housing"),
    ]


def test_days_away_are_said_once_where_they_are_the_same_for_every_target() -> None:
    told = large_report()
    cohort = told.plan.cohorts[0]
    gone = tuple(replace(run, state="away") for run in told.plan.days if run.cohort == cohort.id)
    facts = lane_facts(replace(told, plan=replace(told.plan, days=gone)), cohort)
    assert [fact.what for fact in facts if "away" in fact.what] == ["away"]
