with tier_shares as (
    select * from {{ ref('fct_measures') }}
    where
        level_code = 'tier'
        and measure_name = 'tier_share'
        and window_code = 'term'
),

supported as (
    select
        school_id,
        term_id,
        sum(numerator_count) filter (where tier_code != '1') as supported_count,
        min(numerator_count) filter (where tier_code != '1') as smallest_count
    from tier_shares
    group by school_id, term_id
),

judged as (
    select
        tier_shares.school_id,
        tier_shares.term_id,
        tier_shares.tier_code,
        supported.supported_count,
        case
            when coalesce(tier_shares.numerator_count, 0) < {{ threshold('small_cell') }}
                then 'small_cell'
            when
                tier_shares.tier_code != '1'
                and supported.smallest_count < {{ threshold('small_cell') }}
                then 'complementary'
            when supported.supported_count < {{ threshold('small_cell') }}
                then 'complementary'
        end as reason
    from tier_shares
    inner join supported
        on
            tier_shares.school_id = supported.school_id
            and tier_shares.term_id = supported.term_id
)

select * from judged
