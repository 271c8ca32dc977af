{%- set small_cell = threshold('small_cell') -%}
{%- set parent = [
    'school_id', 'level_code', 'parent_code', 'term_id', 'window_code', 'measure_name',
] -%}
with placed as (
    select * from {{ ref('fct_people_ends') }}
),

-- Company is found in one order for all three counts, so that few rows go along.
judged_at_ends as (
    select
        *,
        {%- for end, other in [('counted', 'rest'), ('rest', 'counted'), ('denominator', none)] %}
        {%- set hidden = [end ~ '_count', small_cell] + ([other ~ '_count'] if other else []) %}
        {{ withheld_reason(
            'alone_reason', parent, [['smaller_count', small_cell]], 'member_code', hidden=hidden
        ) }} as {{ end }}_reason,
        {%- endfor %}
        bool_or(alone_reason is not null and group_reason is null) over (
            partition by {{ parent | join(', ') }}
        ) as is_any_withheld
    from placed
),

-- A school stands alone. A row whose size must not be told gives no bound, which would tell it.
-- Inside, where one is withheld all are: then nothing is known there that sums could be used on.
judged_together as (
    select
        *,
        case
            when parent_code = 'school' then alone_reason
            when parent_code = 'inside' and group_reason is null and is_any_withheld
                then 'complementary'
            when parent_code = 'inside' then group_reason
            when 'complementary' in (counted_reason, rest_reason, denominator_reason)
                then 'complementary'
            else coalesce(alone_reason, counted_reason, rest_reason, denominator_reason)
        end as reason
    from judged_at_ends
),

-- Tiers are sums of routines: they go together.
judged_tiers as (
    select
        *,
        bool_or(parent_code in ('tiers', 'routines') and reason is not null) over (
            partition by school_id, term_id, window_code, measure_name
        ) as is_tier_withheld
    from judged_together
),

judged as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        measure_name,
        case
            when parent_code = 'tiers' and is_tier_withheld
                then coalesce(group_reason, 'complementary')
            else reason
        end as reason
    from judged_tiers
)

select * from judged
