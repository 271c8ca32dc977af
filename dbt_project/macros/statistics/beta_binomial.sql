{# How much shares of units differ beyond chance: beta-binomial by moments, as a query.

   relation   name of a CTE or table, one row a unit; keys: list of its columns that name a group
   successes, trials   its columns with whole counts; units without trials count for nothing
   Columns out: the keys, `unit_count`, `share` (all successes over all trials), `rho` (how alike
   the looks of one unit are, not below 0), `alpha`, `beta` (of the beta distribution of the units'
   own shares; null when rho is 0: no spread beyond chance, or 1). rho is null when all or none of
   the looks were successes, or each unit had one.
   sum n (p - share)^2 = share (1 - share) (k + rho sum (n - 1)), which for equal n is the method of
   moments as printed (Skellam 1948; from memory, checked against the Saxony families).
   Maximum likelihood needs a search in two dimensions and is not offered.
#}
{% macro beta_binomial(relation, keys, successes, trials) -%}
    {%- set by = keys | join(', ') -%}
    select
        *,
        case when rho > 0.0 and rho < 1.0 then share * (1.0 / rho - 1.0) end as alpha,
        case when rho > 0.0 and rho < 1.0 then (1.0 - share) * (1.0 / rho - 1.0) end as beta
    from (
        select
            {{ by }},
            count(*) as unit_count,
            bb_share as share,
            case
                when bb_share > 0.0 and bb_share < 1.0 and sum(bb_trials - 1.0) > 0.0
                    then least(1.0, greatest(0.0, (
                        sum(bb_trials * power(bb_successes / bb_trials - bb_share, 2))
                        / (bb_share * (1.0 - bb_share)) - count(*)
                    ) / sum(bb_trials - 1.0)))
            end as rho
        from (
            select
                {{ by }},
                cast({{ successes }} as double) as bb_successes,
                cast({{ trials }} as double) as bb_trials,
                cast(sum({{ successes }}) over (partition by {{ by }}) as double)
                / nullif(sum({{ trials }}) over (partition by {{ by }}), 0) as bb_share
            from {{ relation }}
            where {{ trials }} > 0 and {{ successes }} is not null
        ) as bb_units
        group by {{ by }}, bb_share
    ) as bb_spread
{%- endmacro %}


{# A unit's own share pooled towards the group's: (alpha + successes) / (alpha + beta + trials). #}
{% macro beta_binomial_share(successes, trials, alpha, beta) -%}
    (cast(({{ alpha }}) + ({{ successes }}) as double)
    / nullif(({{ alpha }}) + ({{ beta }}) + ({{ trials }}), 0.0))
{%- endmacro %}
