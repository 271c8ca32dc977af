{# Variance components of crossed or nested random factors, any numbers of rows, as a query.

   relation   name of a CTE or table; keys: list of its columns
   factors    list of columns, one a factor: value = mean + one effect a factor + rest. A nested
              factor has a key of its own (visit within class); so has an interaction
   value      numeric column; rows with a null value or factor are left out
   Columns out: the keys, `value_count`, `mean_value`, for each factor and for `residual`
   `<name>_raw` (the moment estimate, which may be below zero) and `<name>_variance` (0 then), and
   `<factor>_count` (its levels).
   All null where the rows cannot tell two of them apart (one level; nested without repetition).
   Henderson (1953), method I: the sum of squares of each factor's means and of all values are set
   to what they would be on average, which is a linear system in the components. Unbiased for random
   factors; the same as analysis of variance where all cells are filled alike.
#}
{% macro variance_components(relation, keys, factors, value) -%}
    {%- set keep = keys + ['vc_mean'] -%}
    {%- for _ in factors -%}
        {%- set _ = keep.append('vc_levels_' ~ loop.index) -%}
    {%- endfor -%}
    select
        {{ keys | join(', ') }},
        cast(vc_n as bigint) as value_count,
        vc_mean as mean_value,
        {%- for factor in factors %}
        cast(vc_levels_{{ loop.index }} as bigint) as {{ factor }}_count,
        {%- endfor %}
        {%- for name in factors + ['residual'] %}
        vc_x_{{ loop.index }} as {{ name }}_raw,
        {{ not_below_zero('vc_x_' ~ loop.index) }} as {{ name }}_variance
        {{- ',' if not loop.last }}
        {%- endfor %}
    from (
        {{ solve_linear(
            components_system(relation, keys, factors, value), keep, factors | length + 1) }}
    ) as vc_solved
{%- endmacro %}
