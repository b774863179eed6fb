"""What is asked about a leaflet is all that a label file can say."""

from scheduler.labels import LABEL_SHEETS, Answers, Question, Value, leaflet

NOT_ON_LEAFLETS = {"label", "use", "checked", "minutes_per_head"}
"""Keys of a workbook's sheets, the day of the comparing, and the keeper's own figure of work."""


def answer(question: Question) -> Value:
    """One of everything."""
    last = question.path[-1]
    if last == "count":
        return 1
    if last == "amount":
        return ("ml_per_kg", 1)  # type: ignore[return-value]
    return {"id": "guard", "purpose": "prevent"}.get(str(last), 1)


def keys(answers: object) -> set[str]:
    """Every key of the answers, tables within tables."""
    if isinstance(answers, dict):
        return set(answers) | {key for value in answers.values() for key in keys(value)}
    return {key for value in answers for key in keys(value)} if isinstance(answers, list) else set()


def test_every_key_of_a_label_is_asked_for() -> None:
    known = {column for sheet in LABEL_SHEETS for column in (*sheet.required, *sheet.optional)}
    answers: Answers = leaflet(answer)
    assert known - NOT_ON_LEAFLETS <= keys(answers)


def test_no_place_is_asked_for_twice_in_one_reading_and_each_question_is_its_own() -> None:
    asked: list[Question] = []

    def ask(question: Question) -> Value:
        asked.append(question)
        return answer(question)

    leaflet(ask)
    assert len({question.path for question in asked}) == len(asked)
    figures = [question.full for question in asked if question.asked == "twice"]
    assert len(set(figures)) == len(figures)
