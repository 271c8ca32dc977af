{# Randomization test of a design whose phase changes were drawn by lot, as a query.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the sessions in order, unique within the keys; value: its column
   phase      its column with the number of the phase as it was carried out: 1, 2 ... `phases`
   phases     how many: 2 for AB, 4 for ABAB; odd ones are A, even ones B
   least      fewest sessions in a phase that the lot allowed, a number
   direction  'increase': B above A is an effect; 'decrease': below; 'either'
   Columns out: the keys, `session_count`, `assignment_count` (all ways the lot allowed, each
   alike), `observed` (mean of the B phase means less mean of the A phase means), `as_far_count`
   (ways with a statistic at least as far, ties included), `p_value`, `smallest_p` (1 /
   assignment_count: no data can give less). A design that the lot did not allow gives p null.
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
