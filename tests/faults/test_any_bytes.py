"""Whatever bytes stand in whatever file: a farm or its faults, never an exception."""

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.farm import Farm, read_farm
from scheduler.words import Faults
from tests.farm.lawful import LAWFUL, TODAY, texts

NAMES = st.sampled_from([*LAWFUL, "labels/other.toml", "labels/x.csv", "other.csv", "farm.xlsx", "record.sqlite"])
SIGNS = ("=", ",", ";", '"', "[", "]", "{", "[[use]]", "[[use.dose]]", "\n", "\r", "\t", " ")
TERMS = ("ml", "head", "group", "true", "all", "Ewes", "pour", "guard", "found-2", "Top lamb/Draft", "every Sunday")
NUMBERS = ("2027-06-01", "-1", "0.5", "nan", "1e999")
WORDS = st.sampled_from((*SIGNS, *TERMS, *NUMBERS))
CONTENT = st.one_of(st.binary(max_size=200), st.lists(WORDS, max_size=30).map(lambda words: "".join(words).encode()))


@given(st.dictionaries(NAMES, CONTENT, max_size=4))
@settings(max_examples=150, deadline=None)
def test_any_bytes_in_any_file_end_in_a_farm_or_faults(contents: dict[str, bytes]) -> None:
    read = read_farm({**texts(), **contents}, TODAY)
    assert isinstance(read, Farm) or (isinstance(read, Faults) and read.items)


@given(st.sampled_from(sorted(LAWFUL)), st.data())
@settings(max_examples=200, deadline=None)
def test_a_small_change_of_a_lawful_file_ends_in_a_farm_or_faults(name: str, data: st.DataObject) -> None:
    text = LAWFUL[name]
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 12)))
    changed = text[:start] + data.draw(st.one_of(WORDS, st.text(max_size=5))) + text[end:]
    read = read_farm(texts({name: changed}) if changed.isprintable() else _bytes(name, changed), TODAY)
    assert isinstance(read, Farm) or (isinstance(read, Faults) and read.items)


def _bytes(name: str, text: str) -> dict[str, bytes]:
    return {**{one: text_of.encode() for one, text_of in LAWFUL.items()}, name: text.encode("utf-8", "surrogatepass")}
