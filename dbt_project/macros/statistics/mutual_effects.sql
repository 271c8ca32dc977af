{# How far each of several observers lies from all, from differences between two at a time.

   relation        name of a CTE or table, one row a comparison; keys: list of its columns
   one, other      its columns: who was compared with whom; a row with one and the same is left out
   difference      numeric column: one minus other; rows where it is null are left out
   rounds          rounds of correction for whom each was compared with
   Columns out: the keys, `member`, `comparison_count`, `raw_effect` (mean difference from those
   compared with), `effect` (by least squares, of mean 0 over the comparisons within each connected
   set) and `square_sum` (of what the effects leave over, in the member's comparisons).
   Each round moves an effect by half of what its own comparisons still miss. The error falls to
   0.375 of itself a round with five who were all compared with each other, and to 0.85 along a
   chain of five (2 % of the first error is then left after 24); two need one round. Paired
   comparisons: Mosteller (1951), from memory.
#}
{% macro mutual_effects(relation, keys, one, other, difference, rounds=24) -%}
    {%- set by = keys | join(', ') -%}
    select * from (
        with mutual_round_0 as (
            {{ mutual_sides(relation, by, one, other, difference) }}
        )

        {%- for _ in range(rounds + 1) %},

        mutual_missed_{{ loop.index0 }} as (
            {{ mutual_left('mutual_round_' ~ loop.index0, by) }}
        )
        {%- if not loop.last %},

        mutual_round_{{ loop.index }} as (
            {{ mutual_moved('mutual_missed_' ~ loop.index0, by) }}
        )
        {%- endif %}
        {%- endfor %}

        select
            {{ by }},
            mutual_member as member,
            count(*) as comparison_count,
            avg(mutual_difference) as raw_effect,
            max(mutual_effect) as effect,
            sum(mutual_left * mutual_left) as square_sum
        from mutual_missed_{{ rounds }}
        group by {{ by }}, mutual_member
    ) as mutual_finished
{%- endmacro %}


{# Every comparison twice, once from each side. #}
{% macro mutual_sides(relation, by, one, other, difference) -%}
    select
        {{ by }},
        mutual_row,
        mutual_member,
        mutual_difference,
        0.0 as mutual_effect
    from (
        {%- for member, sign in [('mutual_one', ''), ('mutual_other', '-')] %}
        select
            {{ by }},
            mutual_row,
            {{ member }} as mutual_member,
            {{ sign }}mutual_gap as mutual_difference
        from (
            select
                {{ by }},
                {{ one }} as mutual_one,
                {{ other }} as mutual_other,
                cast({{ difference }} as double) as mutual_gap,
                row_number() over (
                    partition by {{ by }} order by {{ one }}, {{ other }}, {{ difference }}
                ) as mutual_row
            from {{ relation }}
            where {{ one }} != {{ other }} and {{ difference }} is not null
        ) as mutual_rows
        {{ 'union all' if not loop.last }}
        {%- endfor %}
    ) as mutual_both
{%- endmacro %}


{# What a comparison still misses: its difference less the difference of the two effects. #}
{% macro mutual_left(inner, by) -%}
    select
        *,
        mutual_difference - 2.0 * mutual_effect
        + sum(mutual_effect) over (partition by {{ by }}, mutual_row) as mutual_left
    from {{ inner }}
{%- endmacro %}


{% macro mutual_moved(inner, by) -%}
    select
        {{ by }},
        mutual_row,
        mutual_member,
        mutual_difference,
        mutual_effect + avg(mutual_left) over (partition by {{ by }}, mutual_member) / 2.0
            as mutual_effect
    from {{ inner }}
{%- endmacro %}
