with sides as (
    select * from {{ ref('fct_offer_sides') }}
),

lasting as (
    select * from {{ ref('fct_offer_lasting') }}
),

placed as (
    select
        sides.*,
        coalesce(lasting.is_lasting, false) as is_lasting,
        lasting.newest_on,
        count(*) filter (where sides.is_below) over (
            partition by sides.class_id, sides.routine_id
        ) as below_count,
        row_number() over (
            partition by sides.class_id, sides.routine_id
            order by
                case when sides.is_below then 0 else 1 end,
                case when sides.is_readable then 0 else 1 end,
                case when sides.sufficiency = 'none' then 1 else 0 end,
                sides.lead_order
        ) as place
    from sides
    left join lasting
        on
            sides.class_id = lasting.class_id
            and sides.routine_id = lasting.routine_id
            and sides.measure_name = lasting.measure_name
),

leads as (
    select
        class_id,
        routine_id,
        measure_name,
        sufficiency,
        status,
        is_readable,
        is_below,
        coalesce(below_count > 1, false) as is_below_twice,
        is_down,
        is_lasting and is_below as is_lasting,
        newest_on,
        session_count,
        day_count,
        numerator_count,
        denominator_count,
        value,
        low,
        high,
        high_one_sided,
        previous_value,
        previous_sufficiency
    from placed
    where place = 1
)

select * from leads
