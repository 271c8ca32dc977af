{# Tau-U: nonoverlap of two phases with and without their trends, one row a group, as a query.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the points in order, unique within the keys
   is_after   condition: true in the second phase; value: column or expression
   direction  'increase' or 'decrease' is better: turns every S
   Columns out: the keys, `before_count`, `after_count`, `s_between`, `s_before`, `s_after`
   (Kendall's S of the pairs between and within the phases), and for each of the four indices
     between          S between                          / pairs between
     minus_before     S between - S before               / pairs between
     plus_after       S between + S after                / pairs between and within after
     full             S between - S before + S after     / all pairs
   `tau_<index>`, `sd_<index>` (Kendall's variance with ties of the values, phases ranked as the
   index does), `z_<index>` (S / sd), `p_<index>` (two-sided, normal). `sd_untied` is the sd between
   without correction for ties. A group without points in both phases has no row.
   Parker, Vannest, Davis & Sauber (2011) (example read).
#}
{% macro tau_u(relation, keys, order_by, is_after, value, direction) -%}
    {%- set by = keys | join(', ') -%}
    {%- set between = 'before_count * after_count' -%}
    {%- set within_after = 'after_count * (after_count - 1.0) / 2.0' -%}
    {%- set both = ['before_count', 'after_count'] -%}
    {#- Each index with its score, the pairs below the line, the phases whose places are tied. -#}
    {%- set indices = [
        ['between', 's_between', between, both],
        ['minus_before', 's_between - s_before', between, ['after_count']],
        ['plus_after', 's_between + s_after', between ~ ' + ' ~ within_after, ['before_count']],
        ['full', 's_between - s_before + s_after', 'point_count * (point_count - 1.0) / 2.0', []],
    ] -%}
    select
        *,
        sqrt(before_count * after_count * (before_count + after_count + 1.0) / 3.0) as sd_untied
        {%- for index, _, _, _ in indices %},
        2.0 * {{ normal_cdf('-abs(z_' ~ index ~ ')') }} as p_{{ index }}
        {%- endfor %}
    from (
        select
            {{ by }},
            cast(before_count as bigint) as before_count,
            cast(after_count as bigint) as after_count,
            s_between,
            s_before,
            s_after
            {%- for index, score, pairs, tied in indices %},
            ({{ score }}) / ({{ pairs }}) as tau_{{ index }},
            sqrt({{ tau_u_variance(tied) }}) as sd_{{ index }},
            ({{ score }}) / nullif(sqrt({{ tau_u_variance(tied) }}), 0.0) as z_{{ index }}
            {%- endfor %}
        from ({{ tau_u_sums(relation, keys, order_by, is_after, value, direction) }}) as tau_sums
    ) as tau_scored
{%- endmacro %}


{# Kendall's variance of S where the places of whole phases are tied. #}
{% macro tau_u_variance(tied) -%}
    greatest(0.0, round(
        (
            point_count * (point_count - 1.0) * (2.0 * point_count + 5.0) - tie_weight
            {%- for size in tied %}
            - {{ size }} * ({{ size }} - 1.0) * (2.0 * {{ size }} + 5.0)
            {%- endfor %}
        ) / 18.0
        {%- for size in tied %}
        + tie_triples * {{ size }} * ({{ size }} - 1.0) * ({{ size }} - 2.0)
        / greatest(9.0 * point_count * (point_count - 1.0) * (point_count - 2.0), 1.0)
        + tie_pairs * {{ size }} * ({{ size }} - 1.0)
        / greatest(2.0 * point_count * (point_count - 1.0), 1.0)
        {%- endfor %}, 12
    ))
{%- endmacro %}
