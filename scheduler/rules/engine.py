"""Judges any list of doses by any rules: the six ways of stating a rule are read here, and nowhere else."""

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from scheduler.facts import facts
from scheduler.rules.catalogue import RULES
from scheduler.rules.contract import Apart, Breach, Count, Rule, of_dose
from scheduler.season import Course, Dose, Doses, Season
from scheduler.words import days_of, plus, say_day, say_days


def breaches(season: Season, doses: Doses, rules: Sequence[Rule] = RULES) -> Iterator[Breach]:
    """Every breach of every rule, in the order of the rules; what a vet's direction sets aside is none."""
    for rule in rules:
        for breach in rule_breaches(season, doses, rule):
            if not _is_set_aside(season, rule, breach.dose):
                yield breach


def with_directions(season: Season, doses: Doses) -> Doses:
    """The same doses; those that break a rule which a vet's direction sets aside carry the direction."""
    if not season.farm.directions:
        return doses
    marked: dict[int, Dose] = {}
    for rule in RULES:
        if rule.sets_aside:
            for breach in rule_breaches(season, doses, rule):
                if _is_set_aside(season, rule, breach.dose) and breach.dose is not None:
                    known = marked.get(id(breach.dose), breach.dose)
                    new = [row for row in season.directions(breach.dose, rule.slug) if row not in known.directions]
                    marked[id(breach.dose)] = replace(known, directions=(*known.directions, *new))
    return Doses(marked.get(id(dose), dose) for dose in doses)


def _is_set_aside(season: Season, rule: Rule, dose: Dose | None) -> bool:
    """Off-label doses come from the keeper only: of the planner's own none but the repeat of such a course is."""
    if not rule.sets_aside or dose is None or (dose.origin == "plan" and not dose.directions):
        return False
    return bool(season.directions(dose, rule.slug))


def rule_breaches(season: Season, doses: Doses, rule: Rule) -> Iterator[Breach]:
    """Every breach of one rule, whatever a direction sets aside."""
    if rule.dose is not None:
        for given in doses.by_cohort.values():
            for dose in given:
                breach = rule.dose(season, dose, [other for other in given if other is not dose])
                if breach is not None:
                    yield breach
    if rule.course is not None:
        for course in doses.courses:
            breach = rule.course(season, course)
            if breach is not None:
                yield breach
    if rule.apart is not None:
        for given in doses.by_cohort.values():
            yield from _too_near(season, rule, given)
    if rule.count is not None:
        yield from _too_many(season, doses, rule)
    if rule.whole is not None:
        yield from rule.whole(season, doses)
    if rule.instead is not None:
        yield from rule.instead(season, doses, lambda first, beside: may_give(season, first, beside))


def may_give(season: Season, first: Dose, beside: Sequence[Dose]) -> bool:
    """Whether a first dose, with the repeat that it obliges, breaks no stop rule beside doses of the same cohort."""
    duty = season.repeat_duty(first.cohort, first.use, first.day)
    if duty is None:
        return _adds_no_stop(season, [first], beside)
    due = plus(first.day, duty.after_days)
    last = plus(due, facts().figures.repeat_slack_days.whole)
    repeats = (replace(first, day=day, first_day=first.day) for day in days_of(due, last) if day in season.span)
    return any(_adds_no_stop(season, [first, repeat], beside) for repeat in repeats)


def _adds_no_stop(season: Season, new: Sequence[Dose], beside: Sequence[Dose]) -> bool:
    rules = [rule for rule in RULES if rule.severity == "stop" and rule.whole is None]
    known = {(breach.rule, id(breach.dose)) for breach in _of_rules(season, Doses(beside), rules)}
    found = _of_rules(season, Doses([*beside, *new]), rules)
    return all((breach.rule, id(breach.dose)) in known for breach in found)


def _of_rules(season: Season, doses: Doses, rules: Sequence[Rule]) -> Iterator[Breach]:
    return (breach for rule in rules for breach in rule_breaches(season, doses, rule))


def _too_near(season: Season, rule: Rule, given: Sequence[Dose]) -> Iterator[Breach]:
    for place, later in enumerate(given):
        for earlier in given[:place]:
            days = (later.day - earlier.day).days
            least = least_days(season, rule, earlier, later)
            if days < least:
                judged, other = (earlier, later) if _gives_way(earlier, later) else (later, earlier)
                text = (
                    f"{say_days(days)} {'before' if judged is earlier else 'after'} {other.label.id} ({other.use.id}) "
                    f"of {say_day(other.day)}; they must stand {say_days(least)} apart"
                )
                yield of_dose(rule.slug, judged, text, other.where or judged.label.where)


def _gives_way(earlier: Dose, later: Dose) -> bool:
    """Whether of two doses the earlier is judged: it is the planner's, and what the keeper gave or wishes stands."""
    return earlier.origin == "plan" and later.origin in ("record", "wish")


def least_days(season: Season, rule: Rule, one: Dose, other: Dose) -> int:
    """Least days that a rule of distance asks for between two doses of one cohort."""
    apart = Apart() if rule.apart is None else rule.apart(season, one.label, other.label)
    return max(apart.doses, apart.firsts if one.first_day is None and other.first_day is None else 0)


def _too_many(season: Season, doses: Doses, rule: Rule) -> Iterator[Breach]:
    courses: dict[tuple[str, str], list[tuple[Course, Count]]] = {}
    for course in doses.courses:
        first = course.first
        count = None if rule.count is None or first is None else rule.count(season, first.label)
        if first is not None and count is not None and first.day in season.span:
            courses.setdefault((first.cohort.id, count.key), []).append((course, count))
    for found in courses.values():
        most = min(count.most for _, count in found)
        ours_last = sorted(found, key=lambda one: one[0].doses[0].origin == "plan")
        for course, _ in ours_last[most:]:
            text = f"course {len(found)} of {course.last.label.active} in the season; the label allows {most}"
            yield of_dose(rule.slug, course.doses[0], text, course.last.label.where)
