"""Two readings of a leaflet, and what both agree on. Whoever asks gives the two ways to speak with the keeper."""

from collections.abc import Callable, Iterator
from itertools import count

from msgspec import Struct, field

from scheduler.labels.leaflet import Answers, leaflet
from scheduler.labels.questions import Path, Question, Value, said
from scheduler.words import Fault

Put = Callable[[str], str]
"""Puts one question and gives the line typed for it."""
Tell = Callable[[str], None]
"""Tells a whole sentence."""
Filed = Callable[[Path], Value]
"""What a label that is filed already says at a place."""


BACK = "back"


class _Back(Exception):
    """The keeper wants the question before once more."""


class _Readings(Struct, dict=True):
    put: Put
    tell: Tell
    filed: Filed | None
    heard: dict[Path, list[Value]] = field(default_factory=dict)

    def read(self) -> None:
        """One reading of the whole leaflet. After `back` it is walked through anew up to the question before."""
        given: list[tuple[Path, Value]] = []
        while True:
            walked = count()

            def answer(question: Question, walked: Iterator[int] = walked) -> Value:
                known = self.known(question)
                if known is not None:
                    return known[0]
                at = next(walked)
                if at == len(given):
                    given.append((question.path, self.once(question, may_go_back=True)))
                return given[at][1]

            try:
                leaflet(answer)
                break
            except _Back:
                del given[-1:]
        for path, value in given:
            self.heard.setdefault(path, []).append(value)

    def known(self, question: Question) -> tuple[Value] | None:
        """The answer to a word that is filed, or was heard in an earlier reading; None: it is to be asked."""
        if question.asked == "new" and self.filed is not None:
            return (self.filed(question.path),)
        if question.asked != "twice" and question.path in self.heard:
            return (self.heard[question.path][0],)
        return None

    def once(self, question: Question, may_go_back: bool = False) -> Value:
        """One readable answer."""
        while True:
            typed = self.put(question.full)
            if may_go_back and typed.strip().casefold() == BACK:
                raise _Back
            answer = question.answered(typed)
            if not isinstance(answer, Fault):
                return answer
            self.tell(f"{_begin(answer.found)}; {answer.expected}; {answer.mend}.")

    def settle(self, question: Question) -> Value:
        """The answer that was given twice; where none was, all are shown and it is asked until one is."""
        known = self.known(question)
        if known is not None:
            return known[0]
        heard = self.heard.setdefault(question.path, [])
        if question.asked != "twice":
            heard.append(self.once(question))
            return heard[0]
        while not (twice := [one for one in heard if sum(_is_same(one, other) for other in heard) > 1]):
            if len(heard) > 1:
                self.tell(f"Your readings differ: {', then '.join(map(said, heard))}. Look once more.")
            heard.append(self.once(question))
        return twice[0]


def agreed(put: Put, tell: Tell, begin_again: Callable[[], None], filed: Filed | None = None) -> Answers:
    """What two readings of the leaflet agree on; where they differ both are shown, and a further one decides.

    begin_again: called before the second reading, to put the first out of sight. filed: the label's own words, which
    are not asked again (None: a new label).
    """
    readings = _Readings(put, tell, filed)
    tell(f"First reading. An empty line: the leaflet does not state it. `{BACK}`: the question before once more.")
    readings.read()
    begin_again()
    tell("Second reading: from the leaflet once more, not from memory.")
    readings.read()
    return leaflet(readings.settle)


def _is_same(one: Value, other: Value) -> bool:
    if isinstance(one, str) and isinstance(other, str):
        return one.casefold() == other.casefold()
    return one == other


def _begin(text: str) -> str:
    return text[:1].upper() + text[1:]
