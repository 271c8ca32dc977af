{# How many simulations of each audit in the CTE `looked_at` lie above or at its statistic, a query.

   first, last   numbers of the simulations to run
   Reads the CTEs `looked_at` (audit_id, method, statistic) and `chances` (see `draw_statistics`).
   Columns out: audit_id, simulation_count, above_count, same_count, statistic_sum.
#}
{% macro audit_looks(first, last) -%}
    with numbers as (
        select {{ first }} - 1 + simulation as simulation
        from (select {{ each_number(last ~ ' - (' ~ first ~ ') + 1') }} as simulation) as counted
    ),

    simulations as (
        select
            looked_at.audit_id,
            numbers.simulation
        from looked_at
        cross join numbers
    ),

    round_chances as (
        select chances.* from chances
        inner join looked_at on chances.audit_id = looked_at.audit_id
        where looked_at.method = 'cycle'
    ),

    return_chances as (
        select chances.* from chances
        inner join looked_at on chances.audit_id = looked_at.audit_id
        where looked_at.method = 'with_replacement'
    ),

    rounds as (
        {{ simulated_rounds('round_chances', 'simulations', threshold('audit_seed')) }}
    ),

    returns as (
        {{ simulated_returns('return_chances', 'simulations', threshold('audit_seed')) }}
    ),

    together as (
        select * from rounds
        union all
        select * from returns
    )

    select
        together.audit_id,
        count(*) as simulation_count,
        count(*) filter (
            where {{ is_above('together.statistic', 'looked_at.statistic') }}
        ) as above_count,
        count(*) filter (
            where {{ is_same('together.statistic', 'looked_at.statistic') }}
        ) as same_count,
        sum(together.statistic) as statistic_sum
    from together
    inner join looked_at on together.audit_id = looked_at.audit_id
    group by together.audit_id
{%- endmacro %}
