{%- set level = threshold('ci_level') -%}
with decisions as (
    select * from {{ ref('fct_offer_decisions') }}
),

visits as (
    select * from {{ ref('fct_decision_visits') }}
),

sides as (
    select
        decisions.decision_id,
        count(visits.score) filter (where not visits.is_later) as then_session_count,
        avg(visits.score) filter (where not visits.is_later) as then_value,
        coalesce(var_samp(visits.score) filter (where not visits.is_later), 0) as then_variance,
        count(visits.score) filter (where visits.is_later) as later_session_count,
        avg(visits.score) filter (where visits.is_later) as later_value,
        coalesce(var_samp(visits.score) filter (where visits.is_later), 0) as later_variance
    from decisions
    left join visits on decisions.decision_id = visits.decision_id
    group by decisions.decision_id
),

spread as (
    select
        *,
        {{ is_readable_change('then', 'later') }} as is_readable,
        then_session_count + later_session_count - 2 as spread_df,
        {{ count_of_both('then', 'later') }} as both_count,
        {{ pooled_spread('then', 'later') }} as spread
    from sides
),

margins as (
    select
        *,
        {{ t_margin('spread', 'then_session_count', 'spread_df', level) }} as then_margin,
        {{ t_margin('spread', 'later_session_count', 'spread_df', level) }} as later_margin,
        case
            when is_readable then {{ t_margin('spread', 'both_count', 'spread_df', level) }}
        end as change_margin
    from spread
),

bounds as (
    select
        *,
        {%- for side in ['then', 'later'] %}
        case
            when {{ side }}_margin is not null
                then greatest(0.0, {{ side }}_value - {{ side }}_margin)
        end as {{ side }}_low,
        case
            when {{ side }}_margin is not null
                then least(1.0, {{ side }}_value + {{ side }}_margin)
        end as {{ side }}_high,
        {%- endfor %}
        case when is_readable then later_value - then_value end as change_value,
        later_value - then_value - change_margin as change_low,
        later_value - then_value + change_margin as change_high
    from margins
),

judged as (
    select
        decisions.*,
        cast(bounds.then_session_count as bigint) as then_session_count,
        cast(bounds.later_session_count as bigint) as later_session_count,
        {%- for side in ['then', 'later', 'change'] %}
        {%- for figure in ['value', 'low', 'high'] %}
        {{ nine_places('bounds.' ~ side ~ '_' ~ figure) }} as {{ side }}_{{ figure }},
        {%- endfor %}
        {%- endfor %}
        {{ moved_code('bounds.is_readable', 'bounds.change_low', 'bounds.change_high') }}
            as moved_code,
        {{ action_standing('decisions', 'bounds') }} as standing_code
    from decisions
    inner join bounds on decisions.decision_id = bounds.decision_id
)

select * from judged
