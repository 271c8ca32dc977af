{# Six intraclass correlations of Shrout & Fleiss (1979) with limits, as a query: six rows a group.

   relation         name of a CTE or table, one row a score; keys: list of its columns
   subject, rater   its columns: what was scored, by whom
   score            numeric column
   level            two-sided level of the limits as a number
   A subject that lacks a score of one of the group's raters, or has two, is left out: the design
   must be complete. For raters who change from subject to subject see variance_components.
   Columns out: the keys, `form` ('1,1', '2,1', '3,1', '1,k', '2,k', '3,k'), `subject_count`,
   `rater_count`, `subject_ms`, `within_ms`, `rater_ms`, `error_ms`, `icc`, `icc_low`, `icc_high`,
   `f_value`, `df1`, `df2`, `p_value` (of the test that the subjects do not differ).
   No row below two subjects or raters; null when no two scores differ; the test is null, too, when
   there is no error. Limits: McGraw & Wong (1996), from memory.
#}
{% macro icc(relation, keys, subject, rater, score, level='0.95') -%}
    {%- set by = keys | join(', ') -%}
    select * from (
        with icc_squares as ({{ icc_mean_squares(relation, keys, subject, rater, score) }}),

        icc_forms as (
            {{ icc_form('1', by, 'icc_wms', '0.0', 'icc_n * (icc_k - 1.0)') }}
            union all
            {{ icc_form('3', by, 'icc_ems', '0.0', '(icc_n - 1.0) * (icc_k - 1.0)') }}
            union all
            {{ icc_form(
                '2', by, 'icc_ems', 'icc_k * (icc_jms - icc_ems) / icc_n', icc_mixed_df()) }}
        ),

        icc_tails as (
            select
                *,
                icc_n - 1.0 as icc_df1,
                case when icc_kind = '1' then icc_df2 else (icc_n - 1.0) * (icc_k - 1.0) end
                    as icc_test_df2,
                icc_bms / nullif(icc_e, 0.0) as icc_f,
                1.0 - (1.0 - {{ level }}) / 2.0 as icc_p
            from icc_forms
        ),

        icc_limits as (
            select
                *,
                {{ beta_cdf('icc_test_df2 / (icc_test_df2 + icc_df1 * icc_f)',
                    'icc_test_df2 / 2.0', 'icc_df1 / 2.0') }} as icc_tail,
                {{ f_quantile('icc_p', 'icc_df1', 'icc_df2') }} as icc_up,
                {{ f_quantile('icc_p', 'icc_df2', 'icc_df1') }} as icc_down
            from icc_tails
        ),

        icc_single as (
            select
                *,
                (icc_bms - icc_e) / nullif(icc_bms + icc_d, 0.0) as icc_of_one,
                (icc_bms - icc_up * icc_e) / nullif(icc_bms + icc_up * icc_d, 0.0) as icc_lower,
                (icc_down * icc_bms - icc_e) / nullif(icc_down * icc_bms + icc_d, 0.0)
                    as icc_upper
            from icc_limits
        )

        {%- for raters in ['1', 'k'] %}
        {%- set looks = '1.0' if raters == '1' else 'icc_k' %}
        select
            {{ by }},
            icc_kind || ',{{ raters }}' as form,
            cast(icc_n as bigint) as subject_count,
            cast(icc_k as bigint) as rater_count,
            icc_bms as subject_ms,
            icc_wms as within_ms,
            icc_jms as rater_ms,
            icc_ems as error_ms,
            {{ spearman_brown('icc_of_one', looks) }} as icc,
            {{ spearman_brown('icc_lower', looks) }} as icc_low,
            {{ spearman_brown('icc_upper', looks) }} as icc_high,
            icc_f as f_value,
            icc_df1 as df1,
            icc_test_df2 as df2,
            icc_tail as p_value
        from icc_single
        {{ 'union all' if not loop.last }}
        {%- endfor %}
    ) as icc_finished
{%- endmacro %}


{# `icc_e` is what the raters err by, `icc_d` what stands beside the subjects in the divisor. #}
{% macro icc_form(kind, by, error, raters, df2) -%}
    select
        {{ by }},
        icc_n,
        icc_k,
        icc_bms,
        icc_wms,
        icc_jms,
        icc_ems,
        '{{ kind }}' as icc_kind,
        {{ error }} as icc_e,
        (icc_k - 1.0) * {{ error }} + {{ raters }} as icc_d,
        {{ df2 }} as icc_df2
    from icc_squares
{%- endmacro %}


{# Satterthwaite's degrees of freedom for absolute agreement, `r` being ICC(2,1). #}
{% macro icc_mixed_df() -%}
    {%- set r -%}
        ((icc_bms - icc_ems)
        / nullif(icc_bms + (icc_k - 1.0) * icc_ems + icc_k * (icc_jms - icc_ems) / icc_n, 0.0))
    {%- endset -%}
    {%- set j = '(icc_k * ' ~ r ~ ' * icc_jms)' -%}
    {%- set e = '((icc_n * (1.0 + (icc_k - 1.0) * ' ~ r ~ ') - icc_k * ' ~ r ~ ') * icc_ems)' -%}
    (icc_k - 1.0) * (icc_n - 1.0) * power({{ j }} + {{ e }}, 2)
    / nullif((icc_n - 1.0) * power({{ j }}, 2) + power({{ e }}, 2), 0.0)
{%- endmacro %}
