{# Every pair of a point before and a point after, as a query.

   relation, keys, is_after, value, direction   as for `nap`
   Columns out: the keys, `before_number`, `after_number`, `before_count`, `after_count`,
   `is_better` (1, alike 1/2, worse 0), `row_mean` and `column_mean` of it for the point before and
   after. No row where a phase has no point.
#}
{% macro nap_pairs(relation, keys, is_after, value, direction) -%}
    {%- set by = keys | join(', ') -%}
    {%- set sign = '-' if direction == 'decrease' else '' -%}
    select
        *,
        avg(is_better) over (partition by {{ by }}, before_number) as row_mean,
        avg(is_better) over (partition by {{ by }}, after_number) as column_mean
    from (
        select
            {{ keys_of('earlier', keys) }},
            earlier.phase_number as before_number,
            later.phase_number as after_number,
            earlier.phase_count as before_count,
            later.phase_count as after_count,
            0.5 + 0.5 * sign(later.phase_value - earlier.phase_value) as is_better
        from ({{ phase_points(relation, keys, is_after, sign ~ value) }}) as earlier
        inner join ({{ phase_points(relation, keys, is_after, sign ~ value) }}) as later
            on
                {{ same_keys('earlier', 'later', keys) }}
                and not earlier.is_later
                and later.is_later
    ) as nap_joined
{%- endmacro %}


{# Points of two phases, numbered within theirs from the lowest: keys, `is_later`, `phase_value`,
   `phase_number`, `phase_count`. Points without a value or a phase are left out. #}
{% macro phase_points(relation, keys, is_after, value) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        is_later,
        phase_value,
        row_number() over (partition by {{ by }}, is_later order by phase_value) as phase_number,
        count(*) over (partition by {{ by }}, is_later) as phase_count
    from (
        select
            {{ by }},
            {{ is_after }} as is_later,
            cast({{ value }} as double) as phase_value
        from {{ relation }}
        where {{ value }} is not null and ({{ is_after }}) is not null
    ) as phases
{%- endmacro %}
