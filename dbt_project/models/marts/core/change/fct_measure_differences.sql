{%- set level = threshold('ci_level') -%}
{%- set keys = [
    'school_id', 'level_code', 'class_id', 'grade_code', 'tier_code', 'routine_id', 'measure_name',
] -%}
with measures as (
    select * from {{ ref('fct_measures') }}
    where window_code = 'term'
),

catalogue as (
    select * from {{ ref('dim_measures') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

terms_before as (
    select
        school_id,
        term_id,
        lag(term_id) over (
            partition by school_id, school_year_ends
            order by term_number
        ) as previous_term_id
    from terms
),

-- A count grows with the days of its term: two terms of it are not compared. Visits without any
-- spread in both terms leave nothing to judge a difference by.
paired as (
    select
        newer.*,
        older.sufficiency as older_sufficiency,
        older.value as older_value,
        older.low as older_low,
        older.high as older_high,
        older.standard_error as older_standard_error,
        older.spread_df as older_spread_df,
        case
            when
                newer.sufficiency not in ('usable', 'solid')
                or older.sufficiency not in ('usable', 'solid')
                then 'too_little'
            when catalogue.interval_kind = 'bounds' then 'bounds'
            when newer.standard_error + older.standard_error = 0 then 'too_little'
            when newer.standard_error + older.standard_error > 0 then 'welch'
            else 'ranges'
        end as method
    from measures as newer
    inner join catalogue on newer.measure_name = catalogue.measure_name
    inner join terms_before
        on
            newer.school_id = terms_before.school_id
            and newer.term_id = terms_before.term_id
    inner join measures as older
        on
            {{ same_keys('newer', 'older', keys) }}
            and terms_before.previous_term_id = older.term_id
    where catalogue.unit != 'count'
),

margins as (
    select
        *,
        case when method = 'welch' then {{ welch_margin(
            'standard_error', 'spread_df', 'older_standard_error', 'older_spread_df', level
        ) }} end as margin
    from paired
),

-- Bounds are no sampling ranges: what is missing may lie either way in each of the two terms.
ranged as (
    select
        *,
        case when method != 'too_little' then value - older_value end as difference,
        case method
            when 'bounds' then low - older_high
            when 'welch' then value - older_value - margin
            when 'ranges' then {{ mover_low('value', 'low', 'older_value', 'older_high') }}
        end as difference_low,
        case method
            when 'bounds' then high - older_low
            when 'welch' then value - older_value + margin
            when 'ranges' then {{ mover_high('value', 'high', 'older_value', 'older_low') }}
        end as difference_high
    from margins
),

final as (
    select
        {{ keys | join(',\n        ') }},
        term_id,
        window_code,
        {{ nine_places('difference') }} as difference,
        {{ nine_places('difference_low') }} as difference_low,
        {{ nine_places('difference_high') }} as difference_high,
        case
            when difference_low is null or difference_high is null then 'too_little'
            when difference_low > 0.0 then 'up'
            when difference_high < 0.0 then 'down'
            else 'no_clear_change'
        end as change_code
    from ranged
)

select * from final
