{# How much units differ beyond their own sampling errors: moments, as a query.

   relation   name of a CTE or table, one row a unit; keys: list of its columns that name a group
   estimate   its column; variance: its column, the sampling variance, above 0. Rows with a null in
              either, or without variance, are left out
   Columns out: the keys and
   unit_count     units
   fixed_mean     mean weighted by 1 / variance
   q, q_df, q_p   Cochran (1954): sum of (estimate - fixed_mean)^2 / variance, units - 1, and how
                  often chance alone gives as much (upper tail of chi-square)
   phi            q / q_df, the overdispersion factor of Spiegelhalter (2005); null for one unit
   tau2           variance between units: DerSimonian & Laird (1986), not below 0; null for one unit
   between_share  share of q that is more than chance: (q - q_df) / q, not below 0 (Higgins 2002)
   pooled_mean    mean weighted by 1 / (variance + tau2), and `pooled_mean_variance` of it
#}
{% macro between_spread(relation, keys, estimate, variance) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        unit_count,
        fixed_mean,
        q,
        unit_count - 1 as q_df,
        {{ chi_square_upper('q', '(unit_count - 1)') }} as q_p,
        q / nullif(unit_count - 1, 0) as phi,
        tau2,
        greatest(0.0, coalesce((q - unit_count + 1.0) / nullif(q, 0.0), 0.0)) as between_share,
        sum(spread_estimate / (spread_variance + coalesce(tau2, 0.0)))
        / sum(1.0 / (spread_variance + coalesce(tau2, 0.0))) as pooled_mean,
        1.0 / sum(1.0 / (spread_variance + coalesce(tau2, 0.0))) as pooled_mean_variance
    from (
        select
            *,
            case
                when unit_count > 1 then greatest(
                    0.0,
                    (q - unit_count + 1.0) / (weight_sum - weight_square_sum / weight_sum)
                )
            end as tau2
        from (
            select
                *,
                sum(power(spread_estimate - fixed_mean, 2) / spread_variance)
                    over (partition by {{ by }}) as q
            from (
                select
                    *,
                    count(*) over (partition by {{ by }}) as unit_count,
                    sum(1.0 / spread_variance) over (partition by {{ by }}) as weight_sum,
                    sum(power(spread_variance, -2)) over (partition by {{ by }})
                        as weight_square_sum,
                    sum(spread_estimate / spread_variance) over (partition by {{ by }})
                    / sum(1.0 / spread_variance) over (partition by {{ by }}) as fixed_mean
                from (
                    select
                        {{ by }},
                        cast({{ estimate }} as double) as spread_estimate,
                        cast({{ variance }} as double) as spread_variance
                    from {{ relation }}
                    where {{ estimate }} is not null and {{ variance }} > 0.0
                ) as spread_units
            ) as spread_means
        ) as spread_distances
    ) as spread_between
    group by {{ by }}, unit_count, fixed_mean, q, tau2
{%- endmacro %}
