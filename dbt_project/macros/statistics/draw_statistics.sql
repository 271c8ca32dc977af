{# How unevenly turns fell against the chances there were, per audit: sum (T - E)^2 / E, as a query.

   chances   name of a CTE or table, a row for each pupil who could be drawn at a sitting: audit_id,
             box_id, sitting, pupil_id, turn_count (turns this pupil had there, 0 or more)
   Columns out: audit_id, pupil_count, turn_count, statistic. T: turns of a pupil. E: sum over the
   turns of the sittings where the pupil could be drawn of 1 / pupils who could. An audit without a
   turn is left out. Own choice of statistic after Pearson's chi-square.
#}
{% macro draw_statistics(chances) -%}
    select
        audit_id,
        count(*) as pupil_count,
        cast(sum(turn_count) as bigint) as turn_count,
        sum(power(turn_count - expected_count, 2) / expected_count) as statistic
    from (
        {{ draw_expectations(chances) }}
    ) as expectations
    group by audit_id
{%- endmacro %}


{# T and E of each pupil of each audit: audit_id, pupil_id, turn_count, expected_count (above 0). #}
{% macro draw_expectations(chances) -%}
    select
        audit_id,
        pupil_id,
        sum(turn_count) as turn_count,
        sum(sitting_turns / cast(sitting_pupils as double)) as expected_count
    from (
        select
            audit_id,
            pupil_id,
            turn_count,
            sum(turn_count) over (partition by audit_id, box_id, sitting) as sitting_turns,
            count(*) over (partition by audit_id, box_id, sitting) as sitting_pupils
        from {{ chances }}
    ) as sittings
    where sitting_turns > 0
    group by audit_id, pupil_id
{%- endmacro %}


{# Columns that both ways to simulate need: pupils and sittings with numbers of their own.

   Sums of T^2 / E less the number of turns are sum (T - E)^2 / E, because T and E have one sum.
#}
{% macro simulated_statistic(turns, pupils) -%}
    select
        {{ pupils }}.audit_id,
        {{ turns }}.simulation,
        sum(power({{ turns }}.turn_count, 2) / {{ pupils }}.expected_count)
        - sum({{ turns }}.turn_count) as statistic
    from {{ turns }}
    inner join {{ pupils }} on {{ turns }}.pupil_number = {{ pupils }}.pupil_number
    group by {{ pupils }}.audit_id, {{ turns }}.simulation
{%- endmacro %}
