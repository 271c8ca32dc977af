with lessons as (
    select * from {{ ref('int_lessons') }}
    where entry_delay_days is not null
),

parts as (
    select
        {{ share_part(
            'taught_on',
            numerator='case when is_backfilled then 1 else 0 end',
            denominator='1'
        ) }}
    from lessons
)

select * from parts
