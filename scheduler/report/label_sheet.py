"""One label laid out for a second pair of eyes: every figure as filed, its words, doubts and cautions."""

import re
from collections.abc import Iterator
from datetime import date
from itertools import groupby

from msgspec import Struct

from scheduler.facts import facts
from scheduler.labels import Label, Question, Value, doubts_of, filed, filed_at, leaflet, said
from scheduler.report.sentences import list_text, words_of

_FOR_TYPING = re.compile(r" \((?:empty|1): [^)]*\)|\?$|\?(?= \()")
"""What a question says to whoever types the answer, and a sheet on paper does not need."""


class LabelSheet(Struct, frozen=True, kw_only=True):
    """A label as filed. parts: the figures under their headings, each as (what, value); words: what is no figure.

    confirmed: compared with the leaflet by that day. doubts and cautions: whole sentences.
    """

    label: Label
    made_for: date
    confirmed: bool
    words: tuple[tuple[str, str], ...]
    parts: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    doubts: tuple[str, ...]
    cautions: tuple[str, ...]


def label_sheet(label: Label, content: str, made_for: date) -> LabelSheet:
    """The sheet of a label that was read from this file."""
    return LabelSheet(
        label=label,
        made_for=made_for,
        confirmed=label.checked is not None and label.checked <= made_for,
        words=label_words(label),
        parts=_parts(content),
        doubts=doubts_of(label),
        cautions=tuple(caution.text for caution in facts().cautions_for(label.form)),
    )


def label_words(label: Label) -> tuple[tuple[str, str], ...]:
    """What the label says that is no figure, the edition apart, as (what, value)."""
    countries = "not stated" if label.countries is None else list_text(label.countries)
    return (
        ("name", label.name),
        ("active", label.active),
        ("chemical group", label.chemical_group),
        ("form", label.form),
        ("authorised in", countries),
        ("only on prescription", "yes" if label.prescription else "no"),
        *(pair for use in label.uses for pair in _use_words(use.id, label)),
    )


def _use_words(use_id: str, label: Label) -> Iterator[tuple[str, str]]:
    use = label.use(use_id)
    if use is not None:
        verb = "prevents" if use.purpose == "prevent" else "treats"
        ends = f"; ended by {list_text(use.ends_at)}" if use.ends_at else ""
        yield (
            f"use {use.id}",
            f"{verb} {list_text([words_of(one) for one in use.targets])}; {list_text(use.kinds)}{ends}",
        )
        yield f"use {use.id}, how it is given", use.method or "not stated"


def _parts(content: str) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Every figure that two readings ask for, in their order, with what the file says."""
    rows: list[tuple[str, str, str]] = []
    said_by_file = filed(content)

    def answer(question: Question) -> Value:
        value = filed_at(said_by_file, question.path)
        if question.asked == "twice":
            rows.append((question.part, _FOR_TYPING.sub("", question.text), said(value)))
        return value

    leaflet(answer)
    return tuple(
        (part, tuple((text, value) for _, text, value in own)) for part, own in groupby(rows, key=lambda row: row[0])
    )
