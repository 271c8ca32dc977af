{# Kendall's rank correlation of two columns, one row a group, as a query.

   relation  name of a CTE or table; keys: list of its columns; x, y: its columns or expressions
   Columns out: the keys, `point_count`, `pair_count`, `s_score` (concordant minus discordant
   pairs), `untied_x_pairs`, `untied_y_pairs`, `tau_a` (S / pairs), `tau_scale` (square root of the
   product of the untied pairs), `tau_b` (S / that), `s_variance` (Kendall's, for ties in both),
   `z_plain` (S / sd), `z_score` (S moved by 1 towards 0), `p_plain`, `p_continuity` (two-sided,
   normal), `p_exact` (two-sided; null with ties or more than 50 points), `p_value` (exact where
   there is one, else with continuity). Rows with a null are left out. One point, or all tied in x
   or y: tau_b, z and p are null. Kendall (1970) (from memory; checked against scipy).
#}
{% macro kendall(relation, keys, x, y) -%}
    select
        *,
        coalesce(p_exact, p_continuity) as p_value
    from (
        select
            *,
            2.0 * {{ normal_cdf('-abs(z_plain)') }} as p_plain,
            2.0 * {{ normal_cdf('-abs(z_score)') }} as p_continuity,
            case
                when point_count between 2 and 50
                    and untied_x_pairs = pair_count and untied_y_pairs = pair_count
                    then least(1.0, 2.0 * {{ kendall_upper_tail('abs(s_score)', 'point_count') }})
            end as p_exact
        from (
            select
                *,
                s_score / nullif(pair_count, 0) as tau_a,
                sqrt(untied_x_pairs * untied_y_pairs) as tau_scale,
                s_score / nullif(sqrt(untied_x_pairs * untied_y_pairs), 0.0) as tau_b,
                s_score / nullif(sqrt(s_variance), 0.0) as z_plain,
                sign(s_score) * (abs(s_score) - least(1.0, abs(s_score)))
                / nullif(sqrt(s_variance), 0.0) as z_score
            from ({{ kendall_sums(relation, keys, x, y) }}) as kendall_summed
        ) as kendall_scored
    ) as kendall_tested
{%- endmacro %}
