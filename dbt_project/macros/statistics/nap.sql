{# Nonoverlap of all pairs, one row a group, as a query: the chance that a point after lies better.

   relation   name of a CTE or table; keys: list of its columns
   is_after   condition: true in the second phase, false in the first; null is left out
   value      its column or expression; direction: 'increase' or 'decrease' is better
   level      two-sided level of the range, a number
   Columns out: the keys, `before_count`, `after_count`, `pair_count`, `better_pairs` (ties count
   half), `nap`, `se_unbiased`, `se_hanley`, `se_null` (no effect, no ties), `nap_low`, `nap_high`,
   `tau` (2 nap - 1). A group without points in both phases has no row; with one point in a phase
   `se_unbiased` is null. se_unbiased estimates the variance without bias and is 0 when nothing
   overlaps: then the range is what tells.
   Parker & Vannest (2009); Hanley & McNeil (1982); range: Newcombe (2006), method 5 (all from
   memory; checked against printed output).
#}
{% macro nap(relation, keys, is_after, value, direction, level) -%}
    {%- set by = keys | join(', ') -%}
    {%- set z = two_sided_z(level) -%}
    select
        {{ by }},
        cast(before_count as bigint) as before_count,
        cast(after_count as bigint) as after_count,
        cast(before_count * after_count as bigint) as pair_count,
        nap * before_count * after_count as better_pairs,
        nap,
        case when before_count >= 2 and after_count >= 2 then sqrt(greatest(
            0.0,
            (
                nap - (before_count + after_count - 1.0) * nap * nap
                + after_count * row_square + before_count * column_square - 2.0 * cell_square
            ) / ((before_count - 1.0) * (after_count - 1.0))
        )) end as se_unbiased,
        sqrt(greatest(
            0.0,
            (
                nap * (1.0 - nap) + (after_count - 1.0) * (row_square - nap * nap)
                + (before_count - 1.0) * (column_square - nap * nap)
            ) / (before_count * after_count)
        )) as se_hanley,
        sqrt((before_count + after_count + 1.0) / (12.0 * before_count * after_count)) as se_null,
        {{ nap_bound('nap', 'before_count', 'after_count', 'nap_z', 'low') }} as nap_low,
        {{ nap_bound('nap', 'before_count', 'after_count', 'nap_z', 'high') }} as nap_high,
        2.0 * nap - 1.0 as tau
    from (
        select
            {{ by }},
            cast(max(before_count) as double) as before_count,
            cast(max(after_count) as double) as after_count,
            avg(is_better) as nap,
            {{ z }} as nap_z,
            avg(is_better * is_better) as cell_square,
            avg(row_mean * row_mean) as row_square,
            avg(column_mean * column_mean) as column_square
        from ({{ nap_pairs(relation, keys, is_after, value, direction) }}) as nap_compared
        group by {{ by }}
    ) as nap_means
{%- endmacro %}


{# The end of the score-type range: where the distance of nap from x is z spreads at x.

   A quartic in x with one root on either side, found by halving 50 times.
#}
{% macro nap_bound(nap, before, after, z, side) -%}
    {%- set gap -%}
        {{ before }} * {{ after }} * power({{ nap }} - nap_x, 2) * (2.0 - nap_x) * (1.0 + nap_x)
        - power({{ z }}, 2) * nap_x * (1.0 - nap_x) * (
            1.0 + ({{ before }} + {{ after }}) / 2.0
            + ({{ before }} + {{ after }} - 1.0) * nap_x * (1.0 - nap_x)
        )
    {%- endset -%}
    {%- if side == 'low' -%}
        {%- set middle, width, above = nap ~ ' / 2.0', nap, '>' -%}
    {%- else -%}
        {%- set middle, width, above = '(1.0 + ' ~ nap ~ ') / 2.0', '(1.0 - ' ~ nap ~ ')', '<' -%}
    {%- endif -%}
    {{ fold(
        'nap_x', 'nap_step', '50', middle,
        'nap_x + case when ' ~ gap ~ ' ' ~ above ~ ' 0.0 then 1.0 else -1.0 end * ' ~ width
        ~ ' * power(2.0, nap_step - 52)'
    ) }}
{%- endmacro %}
