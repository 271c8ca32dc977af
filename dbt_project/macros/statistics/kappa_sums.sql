{# Sums over the square of all codes: v disagreement, b its mean over row and column by chance. #}
{% macro kappa_sums(relation, keys, first, second, weights, weight) -%}
    {%- set by = keys | join(', ') -%}
    with kappa_cells as (
        select
            {{ by }},
            {{ first }} as first_code,
            {{ second }} as second_code,
            sum(cast({{ weight }} as double)) as kappa_count,
            sum(sum(cast({{ weight }} as double))) over (partition by {{ by }}) as kappa_n
        from {{ relation }}
        where {{ first }} is not null and {{ second }} is not null and {{ weight }} > 0
        group by {{ by }}, {{ first }}, {{ second }}
    ),

    kappa_rows as (
        select
            {{ by }},
            first_code,
            max(kappa_n) as kappa_n,
            sum(kappa_count) / max(kappa_n) as row_share
        from kappa_cells
        group by {{ by }}, first_code
    ),

    kappa_columns as (
        select
            {{ by }},
            second_code,
            sum(kappa_count) / max(kappa_n) as column_share
        from kappa_cells
        group by {{ by }}, second_code
    ),

    kappa_square as (
        select
            *,
            {{ kappa_disagreement(weights) }} as kappa_v
        from kappa_rows
        inner join kappa_columns using ({{ by }})
        {%- if weights not in ['nominal', 'linear', 'quadratic'] %}
        left join {{ weights }} using (first_code, second_code)
        {%- endif %}
    ),

    kappa_means as (
        select
            kappa_square.*,
            sum(kappa_v * column_share) over (partition by {{ by }}, first_code)
            + sum(kappa_v * row_share) over (partition by {{ by }}, second_code) as kappa_b,
            row_share * column_share as kappa_e,
            coalesce(kappa_cells.kappa_count, 0.0) / kappa_square.kappa_n as kappa_p
        from kappa_square
        left join kappa_cells using ({{ by }}, first_code, second_code)
    )

    select
        {{ by }},
        max(kappa_n) as kappa_n,
        max(kappa_v) as kappa_worst,
        sum(kappa_v * kappa_p) as kappa_seen,
        case when count(kappa_v) = count(*) then nullif(sum(kappa_v * kappa_e), 0.0) end
            as kappa_luck,
        sum(kappa_p * kappa_v * kappa_v) as kappa_vv,
        sum(kappa_p * kappa_v * kappa_b) as kappa_vb,
        sum(kappa_p * kappa_b * kappa_b) as kappa_bb,
        sum(kappa_e * (kappa_v - kappa_b) * (kappa_v - kappa_b)) as kappa_null
    from kappa_means
    group by {{ by }}
{%- endmacro %}


{% macro kappa_disagreement(weights) -%}
    {%- if weights == 'nominal' -%}
        case when first_code = second_code then 0.0 else 1.0 end
    {%- elif weights == 'linear' -%}
        abs(cast(first_code as double) - cast(second_code as double))
    {%- elif weights == 'quadratic' -%}
        power(cast(first_code as double) - cast(second_code as double), 2)
    {%- else -%}
        cast(disagreement as double)
    {%- endif -%}
{%- endmacro %}
