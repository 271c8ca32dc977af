{# One equation a factor and one for all values; the unknowns are the factors' and the rest's. #}
{% macro components_system(relation, keys, factors, value) -%}
    {%- set by = keys | join(', ') -%}
    {%- set last = factors | length + 1 -%}
    (
        select
            {{ by }},
            vc_n,
            vc_mean,
            {%- for _ in factors %}
            {%- set row = loop.index %}
            vc_levels_{{ row }},
            vc_sum_{{ row }} as vc_b_{{ row }},
            {%- for _ in factors %}
            vc_k_{{ row }}_{{ loop.index }} - vc_m_{{ loop.index }}
                as vc_a_{{ row }}_{{ loop.index }},
            vc_n - vc_m_{{ loop.index }} as vc_a_{{ last }}_{{ loop.index }},
            {%- endfor %}
            vc_levels_{{ row }} - 1.0 as vc_a_{{ row }}_{{ last }},
            {%- endfor %}
            vc_square as vc_b_{{ last }},
            vc_n - 1.0 as vc_a_{{ last }}_{{ last }}
        from (
            {{ components_sums(relation, keys, factors, value) }}
        ) as vc_all_sums
    ) as vc_system
{%- endmacro %}


{# k: sum over the levels of one factor of the squared counts of another's, by the level's count. #}
{% macro components_sums(relation, keys, factors, value) -%}
    {%- set by = keys | join(', ') -%}
    with vc_rows as (
        select
            {{ by }},
            {{ factors | join(', ') }},
            cast({{ value }} as double) as vc_y,
            avg(cast({{ value }} as double)) over (partition by {{ by }}) as vc_mean
        from {{ relation }}
        where {{ value }} is not null and {{ factors | join(' is not null and ') }} is not null
    )

    {%- for one in factors %}
    {%- set row = loop.index %},

    vc_factor_{{ row }} as (
        select
            {{ by }},
            cast(count(*) as double) as vc_levels_{{ row }},
            sum(vc_s * vc_s / vc_n) as vc_sum_{{ row }},
            sum(vc_n * vc_n) / sum(vc_n) as vc_m_{{ row }},
            sum(vc_n) as vc_k_{{ row }}_{{ row }}
        from (
            select {{ by }}, cast(count(*) as double) as vc_n, sum(vc_y - vc_mean) as vc_s
            from vc_rows
            group by {{ by }}, {{ one }}
        ) as vc_levels
        group by {{ by }}
    )
    {%- for other in factors[:row - 1] %},

    vc_both_{{ row }}_{{ loop.index }} as (
        select
            {{ by }},
            sum(vc_n * vc_n / vc_one) as vc_k_{{ row }}_{{ loop.index }},
            sum(vc_n * vc_n / vc_other) as vc_k_{{ loop.index }}_{{ row }}
        from (
            select
                {{ by }},
                cast(count(*) as double) as vc_n,
                sum(count(*)) over (partition by {{ by }}, {{ one }}) as vc_one,
                sum(count(*)) over (partition by {{ by }}, {{ other }}) as vc_other
            from vc_rows
            group by {{ by }}, {{ one }}, {{ other }}
        ) as vc_cells
        group by {{ by }}
    )
    {%- endfor %}
    {%- endfor %}

    select *
    from (
        select
            {{ by }},
            cast(count(*) as double) as vc_n,
            max(vc_mean) as vc_mean,
            sum(power(vc_y - vc_mean, 2)) as vc_square
        from vc_rows
        group by {{ by }}
    ) as vc_totals
    {%- for _ in factors %}
    {%- set row = loop.index %}
    inner join vc_factor_{{ row }} using ({{ by }})
    {%- for _ in factors[:row - 1] %}
    inner join vc_both_{{ row }}_{{ loop.index }} using ({{ by }})
    {%- endfor %}
    {%- endfor %}
{%- endmacro %}
