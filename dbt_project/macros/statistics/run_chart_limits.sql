{# Limits for each number of useful points in a relation: the count, run_limit, crossing_limit.

   The crossings of n independent points are Binomial(n - 1, 1/2).
#}
{% macro run_chart_limits(relation, count) -%}
    select
        {{ count }},
        max(cast(round(ln({{ count }}) / ln(2.0) + 3.0) as bigint)) as run_limit,
        min(case when share_up_to >= 0.05 - 1e-12 then crossings end) as crossing_limit
    from (
        select
            {{ count }},
            crossings,
            sum(exp(log_ways - ({{ count }} - 1) * ln(2.0))) over (
                partition by {{ count }} order by crossings
                rows between unbounded preceding and current row
            ) as share_up_to
        from (
            select
                {{ count }},
                step - 1 as crossings,
                sum(case when step > 1 then ln(({{ count }} - step + 1.0) / (step - 1.0))
                    else 0.0 end) over (
                    partition by {{ count }} order by step
                    rows between unbounded preceding and current row
                ) as log_ways
            from (
                select
                    {{ count }},
                    {{ each_number(count) }} as step
                from (select distinct {{ count }} from {{ relation }}) as run_counts
            ) as run_steps
        ) as run_ways
    ) as run_shares
    group by {{ count }}
{%- endmacro %}
