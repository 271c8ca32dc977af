with marks as (
    select * from {{ ref('int_pair_marks') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

placed as (
    select
        marks.*,
        windows.term_id as window_term_id,
        windows.window_code
    from marks
    inner join windows
        on
            marks.class_id = windows.class_id
            and marks.observed_on between windows.first_on and windows.last_on
),

keyed as (
    select
        school_id,
        window_term_id as term_id,
        window_code,
        measure_kind,
        class_id,
        pair_id,
        observed_on,
        first_level,
        second_level,
        is_first_met,
        is_second_met
    from placed
),

{% set keys = ['school_id', 'term_id', 'window_code', 'measure_kind'] -%}
exact as (
    {{ agreement_coefficients(
        'keyed', keys, 'first_level', 'second_level',
        categories="case measure_kind when 'voice' then 5 when 'rating' then 4 else 2 end") }}
),

shares as (
    {{ agreement('keyed', keys, 'is_first_met', 'is_second_met') }}
),

in_codes as (
    select * from keyed
    where measure_kind in ('moment', 'step')
),

in_levels as (
    select * from keyed
    where measure_kind in ('voice', 'rating')
),

kappas as (
    {{ cohen_kappa(
        'in_codes', keys, 'first_level', 'second_level', level=threshold('ci_level')) }}
    union all
    {{ weighted_kappa(
        'in_levels', keys, 'first_level', 'second_level', 'quadratic',
        level=threshold('ci_level')) }}
),

visits as (
    select
        {{ keys | join(', ') }},
        count(distinct pair_id) as pair_session_count,
        count(distinct observed_on) as day_count,
        count(distinct class_id) as class_count
    from keyed
    group by {{ keys | join(', ') }}
),

-- Looks of one visit are alike, and so are their disagreements: the error of kappa is that of as
-- many looks as they are worth.
final as (
    select
        visits.*,
        exact.pair_count as compared_count,
        exact.agreement as agreement_rate,
        shares.occurrence_agreement as occurrence_rate,
        shares.nonoccurrence_agreement as nonoccurrence_rate,
        shares.prevalence as prevalence_rate,
        kappas.kappa,
        kappas.kappa_se * sqrt(
            exact.pair_count / {{ effective_count(
                'exact.pair_count', 'visits.pair_session_count', threshold('design_rho')) }}
        ) as kappa_se,
        exact.gwet_ac1,
        exact.brennan_prediger
    from visits
    inner join exact
        on
            visits.school_id = exact.school_id
            and visits.term_id = exact.term_id
            and visits.window_code = exact.window_code
            and visits.measure_kind = exact.measure_kind
    inner join shares
        on
            visits.school_id = shares.school_id
            and visits.term_id = shares.term_id
            and visits.window_code = shares.window_code
            and visits.measure_kind = shares.measure_kind
    inner join kappas
        on
            visits.school_id = kappas.school_id
            and visits.term_id = kappas.term_id
            and visits.window_code = kappas.window_code
            and visits.measure_kind = kappas.measure_kind
)

select * from final
