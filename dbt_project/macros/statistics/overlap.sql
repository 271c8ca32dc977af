{# Older overlap indices of two phases, one row a group, as a query.

   relation, keys, is_after, value, direction   as for `nap`
   Columns out: the keys, `before_count`, `after_count`, `pnd` (share after beyond the best before),
   `pem` (share after beyond the median before, on it half), `kept_count` (most points that can stay
   so that nothing overlaps), `pand` (kept / all), `ird` (robust improvement rate difference, from
   pand). A group without points in both phases has no row. Over several cases add the counts.
   Parker, Vannest & Davis (2011); PAND as Pustejovsky (2019) defines it (from memory; checked
   against printed output).
#}
{% macro overlap(relation, keys, is_after, value, direction) -%}
    {%- set by = keys | join(', ') -%}
    {%- set sign = '-' if direction == 'decrease' else '' -%}
    select
        *,
        cast(kept_count as double) / (before_count + after_count) as pand,
        {{ robust_ird('kept_count', 'before_count', 'after_count') }} as ird
    from (
        with overlap_points as (
            {{ phase_points(relation, keys, is_after, sign ~ value) }}
        ),

        overlap_before as (
            select
                {{ by }},
                count(*) as before_count,
                max(phase_value) as before_best,
                median(phase_value) as before_median
            from overlap_points
            where not is_later
            group by {{ by }}
        ),

        overlap_shares as (
            select
                {{ keys_of('overlap_before', keys) }},
                max(overlap_before.before_count) as before_count,
                count(*) as after_count,
                avg(case when phase_value > before_best then 1.0 else 0.0 end) as pnd,
                avg(0.5 + 0.5 * sign(phase_value - before_median)) as pem
            from overlap_before
            inner join overlap_points
                on {{ same_keys('overlap_before', 'overlap_points', keys) }} and is_later
            group by {{ keys_of('overlap_before', keys) }}
        ),

        overlap_kept as (
            select
                {{ keys_of('earlier', keys) }},
                max(earlier.phase_number + later.phase_count - later.phase_number + 1) as kept_count
            from overlap_points as earlier
            inner join overlap_points as later
                on
                    {{ same_keys('earlier', 'later', keys) }}
                    and not earlier.is_later
                    and later.is_later
                    and earlier.phase_value < later.phase_value
            group by {{ keys_of('earlier', keys) }}
        )

        select
            overlap_shares.*,
            greatest(
                coalesce(overlap_kept.kept_count, 0),
                overlap_shares.before_count,
                overlap_shares.after_count
            ) as kept_count
        from overlap_shares
        left join overlap_kept on {{ same_keys('overlap_shares', 'overlap_kept', keys) }}
    ) as overlap_rows
{%- endmacro %}


{# Robust improvement rate difference; also phi of the balanced two by two table. #}
{% macro robust_ird(kept, before, after) -%}
    (
        1.0 - ({{ before }} + {{ after }}) * ({{ before }} + {{ after }} - {{ kept }})
        / (2.0 * {{ before }} * {{ after }})
    )
{%- endmacro %}
