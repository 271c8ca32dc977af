{# Randomization test of a design whose phase changes were drawn by lot, as a query.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the sessions in order, unique within the keys; value: its column
   phase      its column with the number of the phase as it was carried out: 1, 2 ... `phases`
   phases     how many: 2 for AB, 4 for ABAB; odd ones are A, even ones B
   least      fewest sessions in a phase that the lot allowed, a number
   direction  'increase': B above A is an effect; 'decrease': below; 'either'
   Columns out: the keys, `session_count`, `assignment_count` (all ways the lot allowed, each
   alike), `observed` (mean of the B phase means less mean of the A phase means), `as_far_count` (ways with
   a statistic at least as far, ties included), `p_value`, `smallest_p` (1 / assignment_count: no
   data can give less). A design that the lot did not allow gives p null.
   Onghena (1992) (data read; checked by counting in Python).
#}
{% macro randomization_test(relation, keys, order_by, value, phase, phases, least, direction) -%}
    {%- set by = keys | join(', ') -%}
    select *
    from (
        with lot_points as (
            select
                *,
                sum(series_value) over (
                    partition by {{ by }} order by series_place
                    rows between unbounded preceding and current row
                ) as sum_up_to,
                count(*) over (partition by {{ by }}) as session_count
            from ({{ series_in_order(relation, keys, order_by, value, [phase]) }}) as lot_ordered
        ),

        lot_ways as (
            {{ phase_assignments('lot_points', keys, phases, least) }}
        ),

        lot_design as (
            select
                {{ by }}
                {%- for number in range(1, phases) %},
                max(case when {{ phase }} = {{ number }} then series_place end) as end_{{ number }}
                {%- endfor %}
            from lot_points
            group by {{ by }}
        ),

        lot_scored as (
            select
                {{ keys_of('lot_ways', keys) }},
                lot_ways.session_count,
                {{ turned('lot_ways.effect', direction) }} as effect,
                lot_ways.effect as effect_as_is,
                true
                {%- for number in range(1, phases) %}
                and lot_ways.end_{{ number }} = lot_design.end_{{ number }}
                {%- endfor %} as is_carried_out
            from lot_ways
            inner join lot_design on {{ same_keys('lot_ways', 'lot_design', keys) }}
        ),

        {{ lot_verdict('lot_scored', keys) }}
    ) as lot_rows
{%- endmacro %}


{# Every way to cut a series into `phases` phases of at least `least` sessions, with its effect. #}
{% macro phase_assignments(points, keys, phases, least) -%}
    select
        {{ keys_of('cut_1', keys) }},
        cut_1.session_count
        {%- for number in range(1, phases) %},
        cut_{{ number }}.series_place as end_{{ number }}
        {%- endfor %},
        (
            {%- for number in range(1, phases + 1) %}
            {{ '-' if number % 2 else '+' }} (
                cut_{{ number }}.sum_up_to
                {%- if number > 1 %} - cut_{{ number - 1 }}.sum_up_to{% endif %}
            ) / (
                cut_{{ number }}.series_place
                {%- if number > 1 %} - cut_{{ number - 1 }}.series_place{% endif %}
            ) / {{ (phases + number % 2) // 2 }}.0
            {%- endfor %}
        ) as effect
    from {{ points }} as cut_1
    {%- for number in range(2, phases + 1) %}
    inner join {{ points }} as cut_{{ number }}
        on
            {{ same_keys('cut_' ~ (number - 1), 'cut_' ~ number, keys) }}
            and cut_{{ number }}.series_place - cut_{{ number - 1 }}.series_place >= {{ least }}
    {%- endfor %}
    where
        cut_1.series_place >= {{ least }}
        and cut_{{ phases }}.series_place = cut_{{ phases }}.session_count
{%- endmacro %}


{# A statistic turned so that larger is further in the direction asked for. #}
{% macro turned(effect, direction) -%}
    {%- if direction == 'decrease' -%} -({{ effect }})
    {%- elif direction == 'either' -%} abs({{ effect }})
    {%- else -%} {{ effect }}
    {%- endif -%}
{%- endmacro %}


{# Counts the ways at least as far as the one carried out; ends the query of a test. #}
{% macro lot_verdict(scored, keys) -%}
    {%- set by = keys | join(', ') -%}
    lot_observed as (
        select
            {{ by }},
            max(effect) as observed_effect,
            max(effect_as_is) as observed
        from {{ scored }}
        where is_carried_out
        group by {{ by }}
    ),

    lot_counts as (
        select
            {{ keys_of(scored, keys) }},
            max({{ scored }}.session_count) as session_count,
            count(*) as assignment_count,
            max(lot_observed.observed) as observed,
            sum(
                case
                    when
                        {{ scored }}.effect >= lot_observed.observed_effect
                        - 1e-9 * greatest(1.0, abs(lot_observed.observed_effect))
                        then 1
                    else 0
                end
            ) as ways_as_far
        from {{ scored }}
        left join lot_observed on {{ same_keys(scored, 'lot_observed', keys) }}
        group by {{ keys_of(scored, keys) }}
    )

    select
        {{ by }},
        session_count,
        assignment_count,
        observed,
        case when observed is not null then ways_as_far end as as_far_count,
        case when observed is not null then cast(ways_as_far as double) / assignment_count end
            as p_value,
        1.0 / assignment_count as smallest_p
    from lot_counts
{%- endmacro %}


{# The same for one start drawn from a list of days: AB, one row a group, as a query.

   relation   sessions: keys, order_by (a day or number), value
   options    relation of the starts in the lot: the same keys, a column `start`, a column `chosen`
              (true for the one drawn)
   A session counts as B from the start on. Two days that no session lies between are two ways.
   While any option leaves a side without a session there is nothing to compare: no row.
   Columns out: as `randomization_test`.
#}
{% macro randomization_test_of_starts(
    relation, options, keys, order_by, value, start, chosen, direction
) -%}
    {%- set by = keys | join(', ') -%}
    {%- set effect = 'after_mean - before_mean' -%}
    select *
    from (
        with lot_means as (
            select
                {{ keys_of('lot_options', keys) }},
                lot_options.{{ start }},
                lot_options.{{ chosen }} as is_carried_out,
                count(*) as session_count,
                avg(case when lot_sessions.{{ order_by }} >= lot_options.{{ start }}
                    then cast(lot_sessions.{{ value }} as double) end) as after_mean,
                avg(case when lot_sessions.{{ order_by }} < lot_options.{{ start }}
                    then cast(lot_sessions.{{ value }} as double) end) as before_mean
            from {{ options }} as lot_options
            inner join {{ relation }} as lot_sessions
                on {{ same_keys('lot_options', 'lot_sessions', keys) }}
            where lot_sessions.{{ value }} is not null
            group by
                {{ keys_of('lot_options', keys) }},
                lot_options.{{ start }},
                lot_options.{{ chosen }}
        ),

        lot_scored as (
            select
                {{ by }},
                session_count,
                {{ turned(effect, direction) }} as effect,
                {{ effect }} as effect_as_is,
                is_carried_out
            from (
                select
                    *,
                    count(*) over (partition by {{ by }}) as option_count,
                    count({{ effect }}) over (partition by {{ by }}) as readable_count
                from lot_means
            ) as lot_checked
            where option_count = readable_count
        ),

        {{ lot_verdict('lot_scored', keys) }}
    ) as lot_rows
{%- endmacro %}
