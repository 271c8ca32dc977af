{# The test behind an offer: is a class's mean over visits under the line?

   relation  CTE with value (mean over visits), session_count, score_variance (between those visits,
             null below two), pooled_variance and pooled_df (over the school's classes), denominator
             count (`denominator_count`: looks, steps or readings)
   Adds standard_error, spread_df, p_value (chance of so low a mean at the line), upper_one_sided
   and lower_one_sided at `upper_level`, lower_two_sided at `ci_level`.
   The school's spread counts for `offer_spread_df` degrees of freedom beside the class's own. With
   too few visits in the school to pool, its place is taken by the spread that clustered looks would
   have at the line: c (1 - c) (1 + (m - 1) rho) / m for m looks a visit.
#}
{% macro offer_test(relation) -%}
    {%- set line = threshold('criterion') -%}
    {%- set rho = threshold('design_rho') -%}
    {%- set one_sided = '(2.0 * ' ~ threshold('upper_level') ~ ' - 1.0)' -%}
    select
        *,
        {{ t_below_p('value', 'standard_error', line, 'spread_df') }} as p_value,
        least(1.0, value + {{ t_margin('standard_error', 1, 'spread_df', one_sided) }})
            as upper_one_sided,
        greatest(0.0, value - {{ t_margin('standard_error', 1, 'spread_df', one_sided) }})
            as lower_one_sided,
        greatest(
            0.0, value - {{ t_margin('standard_error', 1, 'spread_df', threshold('ci_level')) }}
        ) as lower_two_sided
    from (
        select
            *,
            sqrt(
                {{ moderated_variance('score_variance', '(session_count - 1)', 'prior_variance',
                    threshold('offer_spread_df')) }} / session_count
            ) as standard_error,
            cast({{ threshold('offer_spread_df') }} + session_count - 1 as double) as spread_df
        from (
            select
                *,
                case
                    when pooled_df >= {{ pooled_df_needed() }} and pooled_variance > 0.0
                        then pooled_variance
                    else {{ line }} * (1.0 - {{ line }})
                        * (1.0 + greatest(0.0, denominator_count / session_count - 1.0) * {{ rho }})
                        / nullif(denominator_count / session_count, 0.0)
                end as prior_variance
            from {{ relation }}
        ) as with_prior
    ) as with_error
{%- endmacro %}
