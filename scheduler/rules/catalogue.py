"""All rules, in the order in which they are listed: one explicit tuple."""

from scheduler.rules.contract import Rule
from scheduler.rules.cover import cover_fading, cover_gap, default_risk, ended_by_shearing, infested_now
from scheduler.rules.dose import (
    dose_band,
    fleece_weeks,
    lamb_repeat,
    product_clash,
    repeat_interval,
    season_maximum,
    use_on_label,
    weight_spread,
    youngest_age,
)
from scheduler.rules.records import record_complete, unconfirmed_label
from scheduler.rules.sales import (
    export_interval,
    meat_withdrawal,
    milk_withdrawal,
    off_label_withdrawal,
    organic_withdrawal,
    repeat_before_sale,
    sale_declaration,
    wool_interval,
)
from scheduler.rules.work import (
    away,
    closed_day,
    daily_head,
    draw_and_mark,
    lambing_quiet,
    lambs_at_foot,
    too_early,
)

RULES: tuple[Rule, ...] = (
    use_on_label.RULE,
    youngest_age.RULE,
    dose_band.RULE,
    lamb_repeat.RULE,
    repeat_interval.RULE,
    season_maximum.RULE,
    fleece_weeks.RULE,
    product_clash.RULE,
    meat_withdrawal.RULE,
    milk_withdrawal.RULE,
    export_interval.RULE,
    wool_interval.RULE,
    organic_withdrawal.RULE,
    off_label_withdrawal.RULE,
    repeat_before_sale.RULE,
    closed_day.RULE,
    daily_head.RULE,
    away.RULE,
    lambing_quiet.RULE,
    cover_gap.RULE,
    too_early.RULE,
    weight_spread.RULE,
    sale_declaration.RULE,
    unconfirmed_label.RULE,
    infested_now.RULE,
    default_risk.RULE,
    cover_fading.RULE,
    ended_by_shearing.RULE,
    lambs_at_foot.RULE,
    draw_and_mark.RULE,
    record_complete.RULE,
)
