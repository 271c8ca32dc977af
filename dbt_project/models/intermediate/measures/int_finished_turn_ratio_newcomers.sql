with groups as (
    select
        *,
        '*' as routine_id
    from {{ ref('int_group_turns') }}
    where group_code = 'newcomers'
),

final as (
    {{ finished_turn_ratio('groups') }}
)

select * from final
