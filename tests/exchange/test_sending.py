"""What push does with one event, from the plan's, the one there and what was last sent."""

from datetime import date, timedelta

from scheduler.exchange import Event, Known, Ours, Sent, events_of
from scheduler.exchange.sending import Step, There, gone_step, step_of
from tests.exchange.calendars import ZONE, calendar_text, event_text

DAY, LATER = date(2027, 6, 4), date(2027, 6, 8)


def event(day: date = DAY, *edits: tuple[str, str], sent: Sent | None = None) -> Event:
    """An event, with what was sent of it noted in it."""
    text = event_text("a", day, extra="" if sent is None else f"X-SEASON-SENT:{sent}\r\n")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return events_of(calendar_text([text]), ZONE)["a"]


PLAN = event()
SENT = PLAN.as_sent


def step(theirs: Event | None, plan: Event = PLAN, known: Sent | None = None) -> Step:
    """What is done."""
    there = None if theirs is None else There("/a.ics", '"1"', theirs)
    return step_of(Ours(event=plan), there, None if known is None else Known("/a.ics", known))


def test_what_stands_there_as_sent_is_not_sent() -> None:
    assert step(event(sent=SENT)) == Step(None, SENT, None, DAY, as_sent=True)


def test_what_was_brought_in_by_hand_and_is_alike_is_not_sent() -> None:
    assert step(event()).send is None


def test_a_plan_that_came_to_the_day_there_is_noted_there_though_no_word_differs() -> None:
    done = step(event(LATER, sent=SENT), event(LATER))
    assert (done.left, done.sent, done.send is not None) == (None, Sent(LATER, SENT.words, SENT.whole), True)


def test_a_new_event_is_sent_and_one_called_off_before_it_was_sent_is_not() -> None:
    off = event(DAY, ("STATUS:CONFIRMED", "STATUS:CANCELLED"))
    assert (step(None).send, step(None, off).send) == (PLAN, None)


def test_what_is_sent_over_another_has_a_higher_sequence_than_it() -> None:
    done = step(event(DAY, ("SEQUENCE:0", "SEQUENCE:7"), sent=SENT), event(LATER))
    assert done.send is not None
    assert (done.send.day, done.send.sequence) == (LATER, 8)


def test_what_the_event_says_was_sent_goes_before_what_is_noted_here() -> None:
    assert step(event(LATER, sent=event(LATER).as_sent), known=SENT).left is None
    assert step(event(LATER), known=SENT).left == "moved"


def test_an_event_of_the_calendar_no_longer_is_called_off_without_reminders() -> None:
    done = gone_step(event(sent=SENT), Known("/a.ics", SENT), DAY)
    assert done.send is not None
    assert (done.send.is_cancelled, done.send.sequence, done.forget) == (True, 1, True)
    assert not done.send.component.walk("VALARM")


def test_of_those_past_changed_or_called_off_nothing_is_sent() -> None:
    known = Known("/a.ics", SENT)
    kept = [(event(sent=SENT), DAY + timedelta(days=1)), (event(LATER, sent=SENT), DAY),
            (event(DAY, ("SUMMARY:", "SUMMARY:with Sam "), sent=SENT), DAY),
            (event(DAY, ("SUMMARY:", "SUMMARY:✓ "), sent=SENT), DAY),
            (event(DAY, ("STATUS:CONFIRMED", "STATUS:CANCELLED"), sent=SENT), DAY)]  # fmt: skip
    assert [gone_step(theirs, known, today) for theirs, today in kept] == [Step(forget=True)] * len(kept)
