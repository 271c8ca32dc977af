{# Agreement of two observers beyond chance within each group, as a query.

   relation        name of a CTE or table; keys: list of its columns
   first, second   columns with the code each gave; rows where either is null are left out
   weight          how many times a row counts (default once); a table of counts works
   level           two-sided level of the limits as a number
   Columns out: the keys, `pair_count`, `observed_agreement`, `expected_agreement`, `kappa`,
   `kappa_se` (large samples, of the limits), `kappa_low`, `kappa_high` (not cut at 1),
   `kappa_null_se`, `kappa_z` (of the test that kappa is 0).
   Null kappa when chance alone makes them agree (both use one and the same code throughout).
   Cohen (1960); standard errors of Fleiss, Cohen & Everitt (1969).
#}
{% macro cohen_kappa(relation, keys, first, second, weight='1', level='0.95') -%}
    {{ weighted_kappa(relation, keys, first, second, 'nominal', weight, level) }}
{%- endmacro %}


{# The same where some disagreements are worse than others.

   weights   linear, quadratic (codes are numbers; the difference counts, or its square), nominal
             (every disagreement alike), or the name of a relation with the columns first_code,
             second_code, disagreement: one row for every pair of codes that occur, symmetric or
             not; a missing pair makes the figures null
   The two agreements are on a scale where the worst disagreement between codes that occur is 0.
   Cohen (1968): kappa = 1 - sum v p / sum v e, in whatever unit the disagreements v are.
   With quadratic weights it is close to ICC(2,1) (Fleiss & Cohen 1973, from memory).
#}
{% macro weighted_kappa(
    relation, keys, first, second, weights='linear', weight='1', level='0.95'
) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        kappa_n as pair_count,
        case when kappa_worst = 0.0 then 1.0 else 1.0 - kappa_seen / kappa_worst end
            as observed_agreement,
        case when kappa_worst = 0.0 then 1.0 else 1.0 - kappa_luck / kappa_worst end
            as expected_agreement,
        kappa_estimate as kappa,
        kappa_error as kappa_se,
        kappa_estimate - {{ two_sided_z(level) }} * kappa_error
            as kappa_low,
        kappa_estimate + {{ two_sided_z(level) }} * kappa_error
            as kappa_high,
        kappa_null_error as kappa_null_se,
        kappa_estimate / nullif(kappa_null_error, 0.0) as kappa_z
    from (
        select
            *,
            1.0 - kappa_seen / kappa_luck as kappa_estimate,
            sqrt({{ not_below_zero('kappa_spread') }} / kappa_n) / kappa_luck as kappa_error,
            sqrt({{ not_below_zero('kappa_null_spread') }} / kappa_n) / kappa_luck
                as kappa_null_error
        from (
            select
                *,
                kappa_vv - 2.0 * kappa_vb * kappa_seen / kappa_luck
                + kappa_bb * power(kappa_seen / kappa_luck, 2) - kappa_seen * kappa_seen
                    as kappa_spread,
                kappa_null - kappa_luck * kappa_luck as kappa_null_spread
            from (
                {{ kappa_sums(relation, keys, first, second, weights, weight) }}
            ) as kappa_summed
        ) as kappa_spreads
    ) as kappa_finished
{%- endmacro %}
