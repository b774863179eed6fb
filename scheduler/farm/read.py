"""The one gate through which a farm folder is read: a whole Farm, or all its faults."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import cast

from scheduler.farm.cohorts import CohortNames
from scheduler.farm.directions import DIRECTIONS, read_directions
from scheduler.farm.doses import RECORD, WISHES, PlannedFirst, check_repeats, read_record, read_wishes
from scheduler.farm.events import EVENTS, read_events
from scheduler.farm.files import WHOLE_FOLDER, WORKBOOK, file_faults
from scheduler.farm.findings import FINDINGS, read_findings
from scheduler.farm.groups import GROUPS, read_groups
from scheduler.farm.leaving import as_of
from scheduler.farm.mobs import MOBS, read_mobs
from scheduler.farm.model import Farm, NormalMonth, RecordRow, Settings, Wish
from scheduler.farm.names import Doubts, Names
from scheduler.farm.risk_rows import RISK, read_risk
from scheduler.farm.sales import SALES, check_head_sold, read_sales
from scheduler.farm.settings import read_settings
from scheduler.farm.source import Source, TextFolder
from scheduler.farm.stock import STOCK, read_stock
from scheduler.farm.weather import NORMALS, WEATHER, check_all_months, read_normals, read_weather
from scheduler.farm.weights import WEIGHTS, read_weights
from scheduler.farm.workbook import workbook_source
from scheduler.tables import Columns, Fields, Gathered, Known
from scheduler.words import Fault, Faults, Where

Texts = Mapping[str, bytes | Fault]


def read_farm(texts: Texts, today: date, planned_firsts: frozenset[PlannedFirst] = frozenset()) -> Farm | Faults:
    """The farm as known on `today`, or everything that is wrong in its files.

    texts: the bytes of each file that looks like a table, by its path relative to the folder ("groups.csv",
    "labels/hill-pour-on.toml"), or the fault with which it could not be read from disk.
    planned_firsts: first doses of the earlier plan, to which second doses in the tables may refer.
    """
    missing = texts.get(WHOLE_FOLDER)
    if isinstance(missing, Fault):
        return Faults((missing,))
    gathered = Gathered()
    for fault in file_faults(texts):
        gathered.add(fault)
    source = workbook_source(texts, gathered) if WORKBOOK in texts else TextFolder(texts, gathered)
    if source is None:
        return gathered.faults()
    farm = _Reading(source).farm(planned_firsts)
    return gathered.faults() if gathered else as_of(farm, today)


class _Reading:
    """One reading of a farm: where from, how its tables write dates, and the faults met."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self.gathered = source.gathered
        settings = source.settings()
        self._settings, self._dates = (None, None) if settings is None else read_settings(settings)

    def farm(self, planned_firsts: frozenset[PlannedFirst]) -> Farm:
        """The farm; where faults were gathered it is not whole, and not to be used."""
        names = self._names()
        doubts = Doubts(names.group_of)
        sales = tuple(read_sales(self._rows(SALES), names, doubts))
        check_head_sold(sales, names, self.gathered)
        findings = tuple(read_findings(self._rows(FINDINGS), names, doubts))
        cohorts = CohortNames(names.group_of.values(), sales, findings, doubts)
        known = not (self._is_stopped(SALES) or self._is_stopped(FINDINGS))
        record, wishes = self._doses(names, cohorts if known else None, planned_firsts)
        return Farm(
            settings=cast(Settings, self._settings),
            groups=tuple(names.group_of.values()),
            mobs=tuple(read_mobs(self._rows(MOBS), names)),
            events=tuple(read_events(self._rows(EVENTS), names)),
            sales=sales,
            risk=tuple(read_risk(self._rows(RISK), names)),
            weather=tuple(read_weather(self._rows(WEATHER), self._dates)),
            normals=self._normals(),
            findings=findings,
            weighings=tuple(read_weights(self._rows(WEIGHTS), names)),
            record=record,
            directions=tuple(read_directions(self._rows(DIRECTIONS), names)),
            stock=tuple(read_stock(self._rows(STOCK), names)),
            wishes=wishes,
            labels=dict(names.label_of),
        )

    def _rows(self, columns: Columns) -> Iterator[Fields]:
        return self._source.rows(columns, self._dates)

    def _is_stopped(self, columns: Columns) -> bool:
        return self.gathered.is_stopped(self._source.place(columns))

    def _names(self) -> Names:
        group_places: dict[str, Where] = {}
        mob_places: dict[str, Where] = {}
        groups = tuple(read_groups(self._rows(GROUPS), group_places, mob_places))
        place = self._source.place(GROUPS)
        sure = self._source.has(GROUPS) and not self._is_stopped(GROUPS)
        if sure and not group_places:
            self.gathered.add(Fault(place, "found no group", "expected at least one", "write one group in each row"))
        return Names(
            groups=Known("group", group_places, str(place), sure and bool(group_places)),
            mobs=Known("mob", mob_places, str(place), sure and bool(mob_places)),
            labels=self._source.known_labels(),
            group_of={group.name: group for group in groups},
            label_of={label.id: label for label in self._source.labels(self._dates)},
        )

    def _normals(self) -> tuple[NormalMonth, ...]:
        normals = tuple(read_normals(self._rows(NORMALS)))
        place = self._source.place(NORMALS)
        if not self.gathered.touches(place):
            check_all_months(normals, place, self.gathered)
        return normals

    def _doses(
        self, names: Names, cohorts: CohortNames | None, planned_firsts: frozenset[PlannedFirst]
    ) -> tuple[tuple[RecordRow, ...], tuple[Wish, ...]]:
        doubts = Doubts(names.group_of)
        record = tuple(read_record(self._rows(RECORD), names, cohorts, doubts))
        wishes = tuple(read_wishes(self._rows(WISHES), names, cohorts, doubts, self._settings))
        if not (self._is_stopped(RECORD) or self._is_stopped(WISHES)):
            check_repeats(record, wishes, planned_firsts, doubts, self.gathered)
        return record, wishes
