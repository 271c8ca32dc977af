with pairs as (
    select * from {{ ref('int_pair_scores') }}
),

seats as (
    select
        school_id,
        term_id,
        measure_kind,
        pair_id,
        1 as seat,
        first_score as score
    from pairs
    union all
    select
        school_id,
        term_id,
        measure_kind,
        pair_id,
        2 as seat,
        second_score as score
    from pairs
),

{% set keys = ['school_id', 'term_id', 'measure_kind'] -%}
-- Another two of several observers at each visit: ICC(2,1) from the components.
components as (
    {{ pair_components(
        'pairs', keys, 'first_observer_id', 'second_observer_id', 'first_score', 'second_score') }}
),

-- The range is that of the one-way form, which asks only that each visit has two observers.
one_way as (
    {{ icc('seats', keys, 'pair_id', 'seat', 'score', threshold('ci_level')) }}
),

final as (
    select
        components.school_id,
        components.term_id,
        components.measure_kind,
        components.pair_count as icc_visit_count,
        {{ phi_coefficient(
            'components.unit_variance',
            'components.rater_variance + components.residual_variance') }} as icc_2_1,
        {{ phi_coefficient(
            'components.unit_variance',
            '(components.rater_variance + components.residual_variance) / 2.0') }} as icc_2_k,
        one_way.icc as icc_1_1,
        one_way.icc_low as icc_1_1_low,
        one_way.icc_high as icc_1_1_high
    from components
    left join one_way
        on
            components.school_id = one_way.school_id
            and components.term_id = one_way.term_id
            and components.measure_kind = one_way.measure_kind
            and one_way.form = '1,1'
    where components.pair_count >= {{ threshold('agreement_min_pairs') }}
)

select * from final
