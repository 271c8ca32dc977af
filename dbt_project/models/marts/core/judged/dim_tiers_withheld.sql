{%- set small_cell = threshold('small_cell') -%}
with tier_shares as (
    select * from {{ ref('fct_measures') }}
    where level_code = 'tier' and measure_name = 'tier_share'
),

terms as (
    select * from {{ ref('dim_terms') }}
),

-- The smallest of the windows of a term: they tell of the same children.
counted as (
    select
        tier_shares.school_id,
        terms.school_year_ends,
        tier_shares.term_id,
        tier_shares.tier_code,
        cast(min(tier_shares.numerator_count) as bigint) as pupil_count
    from tier_shares
    inner join terms
        on
            tier_shares.school_id = terms.school_id
            and tier_shares.term_id = terms.term_id
    group by
        tier_shares.school_id,
        terms.school_year_ends,
        tier_shares.term_id,
        tier_shares.tier_code
),

-- A term in which a tier was about as large as in one where it is small would tell of that one.
near_a_small_one as (
    select distinct
        counted.school_id,
        counted.term_id,
        counted.tier_code
    from counted
    inner join counted as small
        on
            counted.school_id = small.school_id
            and counted.school_year_ends = small.school_year_ends
            and counted.tier_code = small.tier_code
            and counted.term_id != small.term_id
    where
        small.pupil_count < {{ small_cell }}
        and counted.pupil_count - small.pupil_count < {{ small_cell }}
),

judged_alone as (
    select
        counted.*,
        sum(case when counted.tier_code != '1' then counted.pupil_count end) over (
            partition by counted.school_id, counted.term_id
        ) as supported_count,
        case
            when coalesce(counted.pupil_count, 0) < {{ small_cell }} then 'small_cell'
            when near_a_small_one.tier_code is not null then 'complementary'
        end as own_reason
    from counted
    left join near_a_small_one
        on
            counted.school_id = near_a_small_one.school_id
            and counted.term_id = near_a_small_one.term_id
            and counted.tier_code = near_a_small_one.tier_code
),

judged as (
    select
        school_id,
        term_id,
        tier_code,
        cast(supported_count as double) as supported_count,
        {{ withheld_reason(
            'own_reason',
            ['school_id', 'term_id'],
            [['pupil_count', small_cell]],
            'tier_code',
            hidden=['pupil_count', small_cell]
        ) }} as reason
    from judged_alone
)

select * from judged
