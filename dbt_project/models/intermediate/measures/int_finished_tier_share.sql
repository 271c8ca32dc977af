with pupil_tiers as (
    select * from {{ ref('int_pupil_tiers') }}
),

tiers as (
    select * from {{ ref('seed_tiers') }}
),

windows as (
    select
        *,
        'term' as window_code
    from pupil_tiers
    union all
    select
        *,
        'last_20' as window_code
    from pupil_tiers
    where is_current
),

placed as (
    select
        windows.school_id,
        'tier' as level_code,
        '*' as class_id,
        '*' as grade_code,
        '*' as routine_id,
        windows.term_id,
        windows.window_code,
        windows.pupil_id,
        tiers.tier_code,
        windows.tier_code = tiers.tier_code as is_in_tier
    from windows
    cross join tiers
),

-- Each pupil at the highest tier only; out of everyone enrolled.
final as (
    select
        {{ finished_row(
            value='avg(case when is_in_tier then 1.0 else 0.0 end)',
            numerator='count(*) filter (where is_in_tier)',
            denominator='count(*)',
            sessions='1',
            days='1',
            units='count(*)',
            classes='0',
            tier_code='tier_code'
        ) }}
    from placed
    group by {{ finished_keys() }}, tier_code
)

select * from final
