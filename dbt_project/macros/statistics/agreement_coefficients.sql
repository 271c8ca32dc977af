{# Three corrections for chance beside kappa, which falls when nearly all is alike, as a query.

   relation        name of a CTE or table; keys: list of its columns
   first, second   columns with the code each gave; rows where either is null are left out
   weight          how many times a row counts (default once)
   categories      how many codes there are to choose from; default: those that occur in the group
   Columns out: the keys, `pair_count`, `agreement`, and
   gwet_ac1           chance = sum s (1 - s) / (q - 1), s the mean share of a code (Gwet 2008)
   brennan_prediger   chance = 1 / q (1981); with two codes it is PABAK (Byrt et al. 1993)
   scott_pi           chance = sum s squared (Scott 1955)
   With one code only there is nothing to be corrected for: AC1 and Brennan-Prediger are null unless
   `categories` says that there were more; pi is null.
#}
{% macro agreement_coefficients(
    relation, keys, first, second, weight='1', categories=none
) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        coef_n as pair_count,
        coef_seen as agreement,
        {{ beyond_chance('coef_seen', '(1.0 - coef_square) / nullif(coef_q - 1.0, 0.0)') }}
            as gwet_ac1,
        {{ beyond_chance('coef_seen', '1.0 / coef_q') }} as brennan_prediger,
        {{ beyond_chance('coef_seen', 'coef_square') }} as scott_pi
    from (
        select
            {{ by }},
            max(coef_n) as coef_n,
            max(coef_seen) as coef_seen,
            cast({{ categories or 'count(*)' }} as double) as coef_q,
            sum(power(coef_count / (2.0 * coef_n), 2)) as coef_square
        from (
            select
                {{ by }},
                coef_code,
                sum(coef_weight) as coef_count,
                sum(sum(coef_weight)) over (partition by {{ by }}) / 2.0 as coef_n,
                sum(sum(coef_weight * coef_alike)) over (partition by {{ by }})
                / sum(sum(coef_weight)) over (partition by {{ by }}) as coef_seen
            from (
                {{ coef_side(relation, by, first, first, second, weight) }}
                union all
                {{ coef_side(relation, by, second, first, second, weight) }}
            ) as coef_sides
            group by {{ by }}, coef_code
        ) as coef_codes
        group by {{ by }}
    ) as coef_sums
{%- endmacro %}


{% macro coef_side(relation, by, code, first, second, weight) -%}
    select
        {{ by }},
        {{ code }} as coef_code,
        cast({{ weight }} as double) as coef_weight,
        case when {{ first }} = {{ second }} then 1.0 else 0.0 end as coef_alike
    from {{ relation }}
    where {{ first }} is not null and {{ second }} is not null and {{ weight }} > 0
{%- endmacro %}


{# The share of agreement beyond chance, of what could be beyond it; null when chance is all. #}
{% macro beyond_chance(seen, chance) -%}
    ({{ seen }} - ({{ chance }})) / nullif(1.0 - ({{ chance }}), 0.0)
{%- endmacro %}
