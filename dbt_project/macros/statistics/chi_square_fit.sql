{# Do counts fit the parts they should have? Chi-square and likelihood ratio, as a query.

   relation  name of a CTE or table, one row a cell; keys: list of its columns that name one
   question
   observed  its column with the count; weight: its column with the part expected, in any unit (only
             the proportions count); rows with a null in either are left out
   Columns out: the keys, `cell_count`, `statistic` (Pearson 1900), `likelihood_ratio` (2 x sum of
   observed x ln (observed / expected)), `df` (cells - 1), `p` and `likelihood_ratio_p`, both upper
   tails of chi-square: trustworthy when few expected counts are below 5.
   A cell that expects nothing: it counts only if something was observed, which makes p 0.
#}
{% macro chi_square_fit(relation, keys, observed, weight) -%}
    {%- set by = keys | join(', ') -%}
    select
        *,
        {{ chi_square_upper('statistic', 'df') }} as p,
        {{ chi_square_upper('likelihood_ratio', 'df') }} as likelihood_ratio_p
    from (
        select
            {{ by }},
            count(*) as cell_count,
            sum(case
                when fit_expected > 0.0
                    then power(fit_observed - fit_expected, 2) / fit_expected
                when fit_observed > 0.0 then 1e300
                else 0.0
            end) as statistic,
            sum(case
                when fit_observed > 0.0 and fit_expected > 0.0
                    then 2.0 * fit_observed * ln(fit_observed / fit_expected)
                when fit_observed > 0.0 then 1e300
                else 0.0
            end) as likelihood_ratio,
            count(*) - 1 as df
        from (
            select
                {{ by }},
                cast({{ observed }} as double) as fit_observed,
                cast({{ weight }} as double) * sum({{ observed }}) over (partition by {{ by }})
                / nullif(sum({{ weight }}) over (partition by {{ by }}), 0) as fit_expected
            from {{ relation }}
            where {{ observed }} is not null and {{ weight }} is not null
        ) as fit_cells
        group by {{ by }}
    ) as fit_sums
{%- endmacro %}
