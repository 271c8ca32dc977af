with versions as (
    select * from {{ ref('int_routine_versions') }}
),

final as (
    select
        routine_id,
        version,
        routine_name,
        valid_from_on,
        valid_to_on,
        step_count,
        is_first
    from versions
)

select * from final
