{# Randomization test of one start drawn by lot from a list of days: AB, one row a group, a query.

   relation   sessions: keys, order_by (a day or number), value
   options    relation of the starts in the lot: the same keys, a column `start`, a column `chosen`
              (true for the one drawn)
   A session counts as B from the start on. Two days that no session lies between are two ways.
   While any option leaves a side without a session there is nothing to compare: no row.
   direction  'increase': B above A is an effect; 'decrease': below; 'either'
   Columns out: as `randomization_test`; without a chosen start p is null. Edgington (1975)
   (from memory; checked by counting in Python).
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
